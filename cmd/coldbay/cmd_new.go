package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"

	"coldbay/scenarios"
)

const newUsage = `Usage: coldbay new KIND [FILE]

Writes a commented starting file for a school's own: of the kind "rubric", which
says what the marks weigh and what bars a pass, or "tariff", which says how long
work takes at the bench and what it costs. What it says to begin with is what the
program goes by. FILE is the kind with .yaml unless given; a file that is there is
left alone.

Examples:
  coldbay new rubric
  coldbay new tariff school/tariff.yaml
  coldbay grade mine.attempt --rubric rubric.yaml
`

func newCommand() command {
	return command{name: "new", summary: "a commented starting file: a rubric, a tariff", usage: newUsage, run: runNew}
}

func runNew(_ context.Context, p *Program, args []string) error {
	flags := newFlags("new")
	rest, err := flags.parse(args)
	if err != nil {
		return err
	}
	kinds := scenarios.StartKinds()
	if len(rest) < 1 || len(rest) > 2 || !slices.Contains(kinds, rest[0]) {
		return flags.wrong(usagef("name one kind of file and, if you like, the file; kinds are %s", strings.Join(kinds, ", ")))
	}
	name := rest[0] + ".yaml"
	if len(rest) == 2 {
		name = rest[1]
	}
	data, err := scenarios.StartFile(rest[0])
	if err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		_, err = fmt.Fprintf(p.Stdout, "wrote %s\n", name)
	}
	return err
}
