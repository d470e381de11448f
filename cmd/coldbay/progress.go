package main

import (
	"fmt"
	"time"
)

// progressDelay is how long something may take before a person is told about it.
const progressDelay = time.Second

// progress announces on a terminal what is being done, once it has taken longer
// than a second, with the seconds counting up. The returned function ends the
// announcement and wipes its line; it must be called. Nothing is written when
// standard error is not a terminal.
func (p *Program) progress(what string) (done func()) {
	if !p.Terminal {
		return func() {}
	}
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		start := time.Now()
		tick := time.NewTicker(progressDelay)
		defer tick.Stop()
		shown := false
		for {
			select {
			case <-tick.C:
				shown = true
				fmt.Fprintf(p.Stderr, "\r%s … %d s", what, int(time.Since(start).Seconds()))
			case <-stop:
				if shown {
					fmt.Fprint(p.Stderr, "\r\x1b[K")
				}
				return
			}
		}
	}()
	return func() {
		close(stop)
		<-stopped
	}
}
