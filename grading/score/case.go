package score

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"coldbay/assets/messages"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// Open makes the case of one of the library's orders from what comes with the program: its dictionary, verified against the
// order, the car, the procedures and the model, and the rubric. The speaker is the caller's to set.
func Open(lib *scenarios.Library, o *scenarios.Order, program string) (*Case, error) {
	c, procs, err := frame(lib, o, program)
	if err != nil {
		return nil, err
	}
	file, packed, err := scenarios.DictionaryFile(o.Order.ID)
	if err != nil {
		return nil, fmt.Errorf("order %s: %w", o.Order.ID, err)
	}
	if c.Dictionary, err = dictionary.Unpack(file, packed, dictionary.Name(c.Config, procs.Source())); err != nil {
		return nil, err
	}
	return c, nil
}

// OpenOrBuild is Open for any order: one that comes without a dictionary, an author's own, gets it built, which takes some ten
// seconds for a full board.
func OpenOrBuild(ctx context.Context, lib *scenarios.Library, o *scenarios.Order, program string, workers int) (*Case, error) {
	c, procs, err := frame(lib, o, program)
	if err != nil {
		return nil, err
	}
	file, packed, err := scenarios.DictionaryFile(o.Order.ID)
	if err == nil {
		c.Dictionary, err = dictionary.Unpack(file, packed, dictionary.Name(c.Config, procs.Source()))
		if err == nil || lib.Shipped(o) {
			return c, err
		}
		// An order of an author that bears the id of a shipped one, or a school's own tariff.
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("order %s: %w", o.Order.ID, err)
	}
	c.Dictionary, err = build(ctx, c.Config, procs, workers)
	return c, err
}

func build(ctx context.Context, cfg bench.Config, procs *dictionary.Procedures, workers int) (*plan.Dictionary, error) {
	b, err := dictionary.Build(ctx, cfg, procs, workers)
	if err != nil {
		return nil, err
	}
	return b.Dictionary, nil
}

// frame is a case without its dictionary, and the procedures that one is made of.
func frame(lib *scenarios.Library, o *scenarios.Order, program string) (*Case, *dictionary.Procedures, error) {
	c := &Case{Config: lib.Config(o, program)}
	name, data, err := scenarios.ProceduresFile(o.Order.Car)
	if err != nil {
		return nil, nil, err
	}
	procs, err := dictionary.Parse(name, data)
	if err != nil {
		return nil, nil, err
	}
	c.Procedures = procs
	name, data, err = lib.Rubric()
	if err != nil {
		return nil, nil, err
	}
	if c.Rubric, err = ParseRubric(name, data); err != nil {
		return nil, nil, err
	}
	return c, procs, nil
}

// speak takes English where no words were given.
func (c *Case) speak() error {
	if c.Words != nil {
		return nil
	}
	msg, err := messages.Load("en")
	c.Words = msg
	return err
}

// Plain speaks in the prompt's words.
type Plain struct{ *bench.Sayer }

// Action is the action as it is written at the prompt.
func (p Plain) Action(a bench.Action) string { return bench.FormatLine(a) }

// Short is a percept's value or word alone.
func (p Plain) Short(q bench.Percept) string { return short(q) }

// Refusal is the bench's own words.
func (p Plain) Refusal(text string) string { return text }
