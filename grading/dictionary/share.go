package dictionary

import (
	"context"
	"errors"
	"slices"
	"sync"

	"coldbay/sim/bench"
)

// trial is a procedure to be run from one configuration, and what it gives in each cell.
type trial struct {
	proc   *Procedure
	config int
	runs   []run
}

// stem is a node of the tree of what procedures begin with: what is common to several is done once in each world.
type stem struct {
	action bench.Action
	next   []*stem
	ends   []*trial // that have nothing more to do here
}

// trunks are the trees of the trials, by configuration.
func trunks(trials []*trial) [configs]*stem {
	var out [configs]*stem
	for _, t := range trials {
		if out[t.config] == nil {
			out[t.config] = &stem{}
		}
		at := out[t.config]
		for _, a := range t.proc.actions {
			k := slices.IndexFunc(at.next, func(s *stem) bool { return sameAction(s.action, a) })
			if k < 0 {
				k = len(at.next)
				at.next = append(at.next, &stem{action: a})
			}
			at = at.next[k]
		}
		at.ends = append(at.ends, t)
	}
	return out
}

func sameAction(a, b bench.Action) bool {
	return a.Verb == b.Verb && a.On == b.On && a.To == b.To && a.Mode == b.Mode && a.N == b.N && a.Text == b.Text && slices.Equal(a.List, b.List)
}

// grow does what follows a stem on a bench that stands there, which it uses up, and writes what the trials gave in one cell. A refusal
// ends them and is an outcome like another.
func (s *stem) grow(ctx context.Context, cell int, l *bench.Local, r run) error {
	for _, t := range s.ends {
		t.runs[cell] = r
	}
	for k, n := range s.next {
		b := l
		if k < len(s.next)-1 {
			b = l.Clone()
		}
		f, err := b.Do(ctx, n.action)
		var no *bench.Refusal
		if errors.As(err, &no) {
			refused := r
			refused.refused = no.Missing
			n.refuse(cell, refused)
			continue
		}
		if err != nil {
			return err
		}
		after := r
		after.seen = append(slices.Clip(r.seen), f.Percepts...)
		after.seconds += f.Seconds
		after.hurt = after.hurt || len(f.Hazards) > 0
		if err := n.grow(ctx, cell, b, after); err != nil {
			return err
		}
	}
	return nil
}

// refuse gives every trial that leads through a stem the same end.
func (s *stem) refuse(cell int, r run) {
	for _, t := range s.ends {
		t.runs[cell] = r
	}
	for _, n := range s.next {
		n.refuse(cell, r)
	}
}

// each calls f for 0 to n-1 on some workers and gives the first error by number. Calls share nothing, so their order does not matter.
func each(ctx context.Context, workers, n int, f func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wg sync.WaitGroup
	for range max(1, workers) {
		wg.Go(func() {
			for i := range next {
				errs[i] = f(i)
			}
		})
	}
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
