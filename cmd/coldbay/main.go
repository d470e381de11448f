package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	os.Exit(mainCode())
}

// mainCode runs the real program; the test binary calls it as well.
func mainCode() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := Program{
		Stdin:       os.Stdin,
		Stdout:      os.Stdout,
		Stderr:      os.Stderr,
		Terminal:    isTerminal(os.Stderr),
		OpenBrowser: openBrowser,
	}
	return p.Run(ctx, os.Args[1:])
}

// isTerminal reports whether progress lines written to f reach a person.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
