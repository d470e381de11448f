package main

import (
	"context"
	"fmt"
	"io"
	"strings"
)

const helpUsage = `Usage: coldbay help [COMMAND]

Shows what coldbay can do, or how one command is used.

Examples:
  coldbay help
  coldbay help open
`

func helpCommand() command {
	return command{name: "help", summary: "this list, or the help of one command", usage: helpUsage, run: runHelp}
}

func runHelp(_ context.Context, p *Program, args []string) error {
	flags := newFlags("help")
	names, err := flags.parse(args)
	switch {
	case err != nil:
		return err
	case len(names) == 0:
		_, err = io.WriteString(p.Stdout, overview())
		return err
	case len(names) > 1:
		return flags.wrong(usagef("help is for one command at a time"))
	}
	cmd, ok := findCommand(names[0])
	if !ok {
		return withHint(usagef("there is no command %q", names[0]), "coldbay help lists the commands")
	}
	_, err = io.WriteString(p.Stdout, cmd.usage)
	return err
}

// overview is the page that a newcomer sees first.
func overview() string {
	var b strings.Builder
	b.WriteString(`Coldbay is a training bay for one job: finding out why a car's cold-start
secondary air system does not work. Cars, faults and customers are invented.

Usage: coldbay [COMMAND] [OPTIONS]

With no command, coldbay opens the bay in a browser (see: coldbay help open).

Commands:
`)
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-11s %s\n", c.name, c.summary)
	}
	b.WriteString(`
Exit codes: 0 done, 1 something failed or a check found something, 2 wrong use.

For training only. On a real vehicle its service information, local rules and
licensed practice come first, and disabling emission controls is unlawful in
many places.
`)
	return b.String()
}
