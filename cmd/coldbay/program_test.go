package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"coldbay": func() { os.Exit(mainCode()) },
	})
}

// TestScripts runs the real program from the command lines under testdata.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}

func TestExitCodes(t *testing.T) {
	tests := []struct {
		name string
		err  error
		want int
	}{
		{"done", nil, exitOK},
		{"failure", errors.New("no such order"), exitFail},
		{"failure with hint", withHint(errors.New("no such order"), "coldbay list"), exitFail},
		{"failed check", fmt.Errorf("order 3: %w", errCheckFailed), exitFail},
		{"wrong use", usagef("two orders"), exitUsage},
		{"wrong use with hint", withHint(usagef("two orders"), "one at a time"), exitUsage},
		{"wrong use in context", fmt.Errorf("play: %w", usagef("two orders")), exitUsage},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, tt.want, exitCode(tt.err))
		})
	}
}

func TestReport(t *testing.T) {
	var out bytes.Buffer
	p := Program{Stderr: &out}
	p.report(withHint(withHint(errors.New("no such order"), "inner"), "outer"))
	require.Equal(t, "coldbay: error: no such order\ncoldbay: hint: outer\ncoldbay: hint: inner\n", out.String())

	out.Reset()
	p.report(fmt.Errorf("order 3: %w", errCheckFailed))
	require.Empty(t, out.String(), "the findings were the message")
}

func TestFlagsMayStandAnywhere(t *testing.T) {
	tests := []struct {
		args   string
		script string
		rest   []string
	}{
		{"order-1 --script f.txt", "f.txt", []string{"order-1"}},
		{"--script f.txt order-1", "f.txt", []string{"order-1"}},
		{"a --script=f.txt b", "f.txt", []string{"a", "b"}},
		{"a -- --script b", "", []string{"a", "--script", "b"}},
		{"-- a", "", []string{"a"}},
		{"", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.args, func(t *testing.T) {
			f := newFlags("play")
			script := f.String("script", "", "")
			rest, err := f.parse(strings.Fields(tt.args))
			require.NoError(t, err)
			require.Equal(t, tt.script, *script)
			require.Equal(t, tt.rest, rest)
		})
	}
}

func TestFlagsRefuse(t *testing.T) {
	f := newFlags("play")
	_, err := f.parse([]string{"order-1", "--colour"})
	require.Equal(t, exitUsage, exitCode(err))
	require.Contains(t, hintsOf(err)[0], "coldbay help play")

	_, err = newFlags("play").parse([]string{"order-1", "-h"})
	require.ErrorIs(t, err, flag.ErrHelp)

	require.Equal(t, exitUsage, exitCode(newFlags("version").none([]string{"extra"})))
}

// Every command has a help text that starts the same way, says how to call it, and
// gives examples that name it.
func TestEveryCommandExplainsItself(t *testing.T) {
	for _, c := range commands() {
		t.Run(c.name, func(t *testing.T) {
			require.True(t, strings.HasPrefix(c.usage, "Usage: coldbay"), c.usage)
			require.Contains(t, c.usage, "\nExamples:\n")
			_, examples, _ := strings.Cut(c.usage, "\nExamples:\n")
			require.Contains(t, examples, "coldbay "+c.name)
			require.True(t, strings.HasSuffix(c.usage, "\n"))
			require.NotEmpty(t, c.summary)

			var out, errs bytes.Buffer
			p := Program{Stdout: &out, Stderr: &errs}
			require.Equal(t, exitOK, p.Run(context.Background(), []string{c.name, "-h"}))
			require.Equal(t, c.usage, out.String())
			require.Empty(t, errs.String())
		})
	}
}

// A program that can't write its answer says so instead of ending well.
func TestFullDisk(t *testing.T) {
	var errs bytes.Buffer
	p := Program{Stdout: brokenWriter{}, Stderr: &errs}
	require.Equal(t, exitFail, p.Run(context.Background(), []string{"version"}))
	require.Contains(t, errs.String(), "coldbay: error: disk full")
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("disk full") }
