package main

import (
	"errors"
	"flag"
	"io"
)

// flags is the option parser of one command. Options may stand before, between
// and after the other arguments, and "--" ends them.
type flags struct {
	*flag.FlagSet
	command string
}

// newFlags starts the options of the named command; "" is the bare command line.
func newFlags(command string) flags {
	set := flag.NewFlagSet(command, flag.ContinueOnError)
	set.SetOutput(io.Discard) // Run prints errors, the usage constants explain options
	set.Usage = func() {}
	return flags{set, command}
}

// parse reads args and returns those that are not options. Errors are of wrong
// use, except [errHelp] after -h.
func (f flags) parse(args []string) ([]string, error) {
	var rest []string
	for {
		if err := f.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return nil, errHelp
			}
			return nil, f.wrong(err)
		}
		consumed := len(args) - f.NArg()
		ended := consumed > 0 && args[consumed-1] == "--"
		args = f.Args()
		if ended || len(args) == 0 {
			return append(rest, args...), nil
		}
		rest = append(rest, args[0])
		args = args[1:]
	}
}

// none is parse for a command that takes options only.
func (f flags) none(args []string) error {
	rest, err := f.parse(args)
	if err == nil && len(rest) > 0 {
		err = f.wrong(usagef("unexpected argument %q", rest[0]))
	}
	return err
}

// wrong marks err as wrong use of this command and says where its help is.
func (f flags) wrong(err error) error {
	help := "coldbay help"
	if f.command != "" {
		help += " " + f.command
	}
	return withHint(usageError{err}, "%s shows how it is used", help)
}
