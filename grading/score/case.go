package score

import (
	"fmt"

	"coldbay/grading/dictionary"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// Open makes the case of one of the library's orders from what comes with the program: its dictionary, verified against the
// order, the car, the procedures and the model, and the rubric. The speaker puts things in the prompt's own words; a caller may
// set another.
func Open(lib *scenarios.Library, o *scenarios.Order, program string) (*Case, error) {
	c := &Case{Config: lib.Config(o, program)}
	name, data, err := scenarios.ProceduresFile(o.Order.Car)
	if err != nil {
		return nil, err
	}
	procs, err := dictionary.Parse(name, data)
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
	file, data, err = scenarios.RubricFile()
	if err != nil {
		return nil, err
	}
	if c.Rubric, err = ParseRubric(file, data); err != nil {
		return nil, err
	}
	return c, nil
}

// Plain speaks in the prompt's words.
type Plain struct{ *bench.Sayer }

// Action is the action as it is written at the prompt.
func (p Plain) Action(a bench.Action) string { return bench.FormatLine(a) }
