package dictionary

import (
	"fmt"
	"slices"

	"coldbay/sim/bench"
	"coldbay/sim/car/strict"
)

// Format is the first line of a file of procedures.
const Format = "coldbay-procedures/1"

// Procedures are the tests that a plan may be made of, for one car.
type Procedures struct {
	Format string      `yaml:"format" strict:"required"`
	Car    string      `yaml:"car" strict:"required"`
	WarmUp []string    `yaml:"warm_up" strict:"required"`
	List   []Procedure `yaml:"procedures" strict:"required"`

	warmUp []bench.Action
	source []byte
}

// Procedure is one test with its hooking up and undoing, in the prompt's words.
type Procedure struct {
	ID    string   `yaml:"id" strict:"required"`
	Name  string   `yaml:"name" strict:"required"`
	Scan  bool     `yaml:"scan"` // needs the scan tool plugged in
	Runs  bool     `yaml:"runs"` // runs the engine: leaves it warm
	Cold  bool     `yaml:"cold"` // makes sense only on the cold car
	Steps []string `yaml:"steps" strict:"required"`

	actions []bench.Action
}

// Parse reads a file of procedures. Errors name file, line and key.
func Parse(file string, data []byte) (*Procedures, error) {
	p := &Procedures{source: data}
	doc, err := strict.Decode(file, data, p)
	if err != nil {
		return nil, err
	}
	if p.Format != Format {
		return nil, doc.Errorf([]any{"format"}, "found %q, allowed is %q", p.Format, Format)
	}
	lines := func(path []any, steps []string) ([]bench.Action, error) {
		var out []bench.Action
		for i, s := range steps {
			a, err := bench.ParseLine(s)
			if err != nil {
				return nil, doc.Errorf(append(path[:len(path):len(path)], i), "%v", err)
			}
			out = append(out, a)
		}
		return out, nil
	}
	if p.warmUp, err = lines([]any{"warm_up"}, p.WarmUp); err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for i := range p.List {
		q := &p.List[i]
		if seen[q.ID] {
			return nil, doc.Errorf([]any{"procedures", i, "id"}, "%q stands twice", q.ID)
		}
		seen[q.ID] = true
		if q.actions, err = lines([]any{"procedures", i, "steps"}, q.Steps); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// withheld says whether the order takes a tool away that the procedure needs.
func (p *Procedure) withheld(o *bench.Order) bool {
	return slices.ContainsFunc(p.actions, func(a bench.Action) bool {
		tool := a.Verb.Tool()
		return tool != "" && !o.Allows(tool)
	})
}

// Find gives a procedure by id.
func (p *Procedures) Find(id string) (*Procedure, error) {
	for i := range p.List {
		if p.List[i].ID == id {
			return &p.List[i], nil
		}
	}
	return nil, fmt.Errorf("no procedure %q", id)
}

// Goes says whether actions, all of them and in any order but for the last one, are those that follow the procedure's first n. Between two
// readings it does not matter in which order things were made ready.
func (p *Procedure) Goes(n int, actions []bench.Action) bool {
	if len(actions) == 0 || n+len(actions) > len(p.actions) {
		return false
	}
	left := slices.Clone(p.actions[n : n+len(actions)])
	last := len(left) - 1
	if !sameAction(left[last], actions[last]) {
		return false
	}
	left = left[:last]
	for _, a := range actions[:last] {
		k := slices.IndexFunc(left, func(b bench.Action) bool { return sameAction(a, b) })
		if k < 0 {
			return false
		}
		left = slices.Delete(left, k, k+1)
	}
	return true
}

// Over says whether nothing of the procedure is left after its first n actions.
func (p *Procedure) Over(n int) bool { return n >= len(p.actions) }

// Source is the file that the procedures were read from.
func (p *Procedures) Source() []byte { return p.source }
