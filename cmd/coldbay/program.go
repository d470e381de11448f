package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Exit codes of the program.
const (
	exitOK    = 0
	exitFail  = 1 // something went wrong, or a check found something
	exitUsage = 2 // the command line itself was wrong
)

// Program is one run of coldbay with everything it touches from outside, so that
// tests can start the real thing.
type Program struct {
	Stdin  io.Reader
	Stdout io.Writer // what was asked for, and nothing else
	Stderr io.Writer // errors, hints, progress

	// Terminal says that a person reads Stderr, who wants to see progress.
	Terminal bool

	// OpenBrowser shows an address in the person's browser. It returns
	// [errNoDisplay] where there is nothing to show it on. Nil never opens one.
	OpenBrowser func(url string) error
}

// Run carries out one command line, without the program's name, and returns the
// exit code. It returns soon after ctx is cancelled.
func (p *Program) Run(ctx context.Context, args []string) int {
	err := p.dispatch(ctx, args)
	var help helpWanted
	if errors.As(err, &help) {
		_, err = io.WriteString(p.Stdout, help.text)
	}
	p.report(err)
	return exitCode(err)
}

// dispatch picks the command. A command line that is empty or starts with an
// option opens the bay.
func (p *Program) dispatch(ctx context.Context, args []string) error {
	if len(args) == 0 {
		return runOpen(ctx, p, nil)
	}
	name := args[0]
	switch {
	case name == "--version":
		return runVersion(ctx, p, args[1:])
	case name == "-h" || name == "-help" || name == "--help":
		return runHelp(ctx, p, args[1:])
	case strings.HasPrefix(name, "-"):
		return runOpen(ctx, p, args)
	}
	cmd, ok := findCommand(name)
	if !ok {
		return withHint(usagef("there is no command %q", name), "coldbay help lists the commands")
	}
	err := cmd.run(ctx, p, args[1:])
	if errors.Is(err, errHelp) {
		return helpWanted{cmd.usage}
	}
	return err
}

// report prints an error as one sentence, and its hints as what to do about it.
func (p *Program) report(err error) {
	if err == nil || errors.Is(err, errCheckFailed) {
		return
	}
	fmt.Fprintf(p.Stderr, "coldbay: error: %v\n", err)
	for _, hint := range hintsOf(err) {
		fmt.Fprintf(p.Stderr, "coldbay: hint: %s\n", hint)
	}
}

// writeJSON prints v for --json: indented, keys in the order of the struct's
// fields, so that output can be compared as text.
func (p *Program) writeJSON(v any) error {
	enc := json.NewEncoder(p.Stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
