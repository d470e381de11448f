package main

import (
	"errors"
	"flag"
	"fmt"
)

// errCheckFailed ends a command with exit code 1 without another message: what it
// printed on standard output already says what was found.
var errCheckFailed = errors.New("a check failed")

// errHelp is what flags.parse returns when help was asked for with -h.
var errHelp = flag.ErrHelp

// usageError is a command line that can't be meant: exit code 2.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// usagef makes an error that ends the program with exit code 2.
func usagef(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// hinted carries what a person can do about an error. The hint is printed on a
// line of its own and is no part of the error's text.
type hinted struct {
	error
	hint string
}

func (e hinted) Unwrap() error { return e.error }

// withHint adds a sentence on what to do about err.
func withHint(err error, format string, args ...any) error {
	return hinted{err, fmt.Sprintf(format, args...)}
}

// hintsOf collects the hints along the chain of err, the outermost first.
func hintsOf(err error) []string {
	var hints []string
	for err != nil {
		if h, ok := err.(hinted); ok {
			hints = append(hints, h.hint)
		}
		err = errors.Unwrap(err)
	}
	return hints
}

// helpWanted is the answer to -h: text for standard output, and success.
type helpWanted struct{ text string }

func (helpWanted) Error() string { return "help was asked for" }

// exitCode tells the shell what became of a command.
func exitCode(err error) int {
	var usage usageError
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &usage):
		return exitUsage
	default:
		return exitFail
	}
}
