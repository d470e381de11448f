package main

import (
	"context"
	"slices"
)

// command is one word that coldbay understands. See the package comment for how
// to add one.
type command struct {
	name    string
	summary string // one line for the list of commands
	usage   string // the whole help text, ending in a newline
	run     func(ctx context.Context, p *Program, args []string) error
}

// commands is the list of commands in the order in which help shows them.
func commands() []command {
	return []command{
		openCommand(),
		playCommand(),
		gradeCommand(),
		checkCommand(),
		keyCommand(),
		ladderCommand(),
		traceCommand(),
		signaturesCommand(),
		validateCommand(),
		listCommand(),
		newCommand(),
		helpCommand(),
		versionCommand(),
	}
}

func findCommand(name string) (command, bool) {
	all := commands()
	at := slices.IndexFunc(all, func(c command) bool { return c.name == name })
	if at < 0 {
		return command{}, false
	}
	return all[at], true
}
