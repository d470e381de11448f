package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"coldbay/sim/bench"
)

const playUsage = `Usage: coldbay play ORDER [--script FILE] [--log FILE] [--new] [--school DIR]
                    [--rubric FILE] [--tariff FILE]

Plays a work order at a prompt, or from a script: one action a line, in the
trade's words, and what was perceived after each. ORDER is the id of an order
that comes with the program (see: coldbay list) or a YAML file. At the prompt
"help" explains the words, "order" shows the work order, "list" shows what
there is at the car, "quit" leaves.

A closed order is graded at once (one of your own after its tests have been tried
in every suspect's car, some ten seconds). With --log the attempt is kept as it goes and
can be gone on with: start the same command again.

Options:
` + schoolOptions + `  --script FILE   read the actions from FILE ("-": standard input); stop at the
                  first line that can't be read; a refused action costs nothing
  --log FILE      keep the attempt in FILE; if it holds one already, go on with it
  --new           begin anew even if FILE holds an attempt: it is moved to FILE.old
  --no-debrief    don't grade at the end

Training only: the vehicle's own service information, local rules and licensed
practice come first.

Examples:
  coldbay play cold_whisper
  coldbay play cold_whisper --log mine.attempt
  coldbay play quiet_pump --script testdata/scripts/quiet_pump_good.txt
`

func playCommand() command {
	return command{name: "play", summary: "play a work order at the prompt or from a script", usage: playUsage, run: runPlay}
}

func runPlay(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("play")
	script := flags.String("script", "", "")
	logFile := flags.String("log", "", "")
	fresh := flags.Bool("new", false, "")
	silent := flags.Bool("no-debrief", false, "")
	own := flags.school()
	rest, err := flags.parse(args)
	if err != nil {
		return err
	}
	if len(rest) != 1 {
		return flags.wrong(usagef("name one order to play, found %d", len(rest)))
	}
	lib, o, err := own.order(rest[0])
	if err != nil {
		return err
	}
	cfg := lib.Config(o, versionOf(buildVersion).Version)
	session, closeLog, err := openSession(ctx, p, cfg, *logFile, *fresh)
	if err != nil {
		return err
	}
	defer closeLog()
	r := &bench.Runner{Session: session, Out: p.Stdout}
	if *script != "" {
		err = runScript(ctx, p, r, *script)
	} else {
		err = prompt(ctx, p, r)
	}
	var broken *bench.BrokenError
	if err != nil && (!errors.As(err, &broken) || *logFile == "") {
		return err
	}
	if !session.Closed() {
		if *logFile != "" {
			_, told := fmt.Fprintf(p.Stdout, "The order is still open; go on with: coldbay play %s --log %s\n", rest[0], *logFile)
			err = cmp.Or(err, told)
		}
		return err
	}
	if *silent {
		return nil
	}
	msg, err := language(english)
	if err != nil {
		return err
	}
	d, err := gradeFindings(ctx, p, msg, lib, o, nil, session.Ledger(), "")
	if err != nil {
		return err
	}
	return printDebrief(p.Stdout, msg, d)
}

// openSession starts an attempt, or goes on with the one in the log file.
func openSession(ctx context.Context, p *Program, cfg bench.Config, name string, fresh bool) (*bench.Local, func(), error) {
	nothing := func() {}
	if name == "" {
		l, err := bench.NewLocal(cfg)
		return l, nothing, err
	}
	there, err := existing(name)
	if err != nil {
		return nil, nothing, err
	}
	if there && fresh {
		if err := os.Rename(name, name+".old"); err != nil {
			return nil, nothing, err
		}
		there = false
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, nothing, err
	}
	shut := func() { f.Close() }
	if !there {
		cfg.Log = bench.NewLogWriter(f, f.Sync)
		l, err := bench.NewLocal(cfg)
		return l, shut, err
	}
	a, err := bench.ReadAttempt(name, f)
	if err == nil && a.Torn {
		fmt.Fprintf(p.Stderr, "coldbay: notice: %s\n", a.Notice())
		err = f.Truncate(a.Good)
	}
	if err == nil {
		_, err = f.Seek(a.Good, io.SeekStart)
	}
	var l *bench.Local
	if err == nil {
		l, err = bench.Resume(ctx, cfg, a, bench.ContinueLog(f, f.Sync))
	}
	if err != nil {
		shut()
		return nil, nothing, withHint(err, "--new begins anew and keeps the old file beside it")
	}
	_, err = fmt.Fprintf(p.Stdout, "Going on after line %d of %s.\n", len(a.Findings), name)
	return l, shut, err
}

func runScript(ctx context.Context, p *Program, r *bench.Runner, name string) error {
	in := p.Stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	return r.Script(ctx, name, in)
}

// prompt asks for lines until the order is closed, "quit", or the end of input.
func prompt(ctx context.Context, p *Program, r *bench.Runner) error {
	if err := r.Line(ctx, "order"); err != nil {
		return err
	}
	sc := bufio.NewScanner(p.Stdin)
	for {
		if _, err := fmt.Fprint(p.Stdout, "> "); err != nil {
			return err
		}
		if !sc.Scan() {
			fmt.Fprintln(p.Stdout)
			return sc.Err()
		}
		line := strings.TrimSpace(sc.Text())
		if line == "quit" || line == "exit" {
			return nil
		}
		err := r.Line(ctx, line)
		var no *bench.Refusal
		var broken *bench.BrokenError
		switch {
		case errors.As(err, &no):
			fmt.Fprintf(p.Stdout, "  can't: %s\n", no.Missing)
		case errors.As(err, &broken):
			return said{broken.Sentence(), err}
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			fmt.Fprintf(p.Stdout, "  %v\n", err)
		}
		if l, ok := r.Session.(*bench.Local); ok && l.Closed() {
			return nil
		}
	}
}

// said is an error in the words that are meant for whoever sits at the prompt.
type said struct {
	words string
	error
}

// Error says the words.
func (s said) Error() string { return s.words }

// Unwrap gives the error itself.
func (s said) Unwrap() error { return s.error }
