// Package tongue gives a planner's dictionary the words of another language. The planner looks at none of them, so a plan is the same
// in every language.
package tongue

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// Dictionary is a copy of a dictionary in a catalogue's language, with everything that the planner looks at untouched; in English it
// is the dictionary itself. The bench's catalogue holds the English names of the car's things. Errors: a language that can't be loaded.
func Dictionary(msg *messages.Catalogue, car string, c bench.Catalogue, d *plan.Dictionary) (*plan.Dictionary, error) {
	if msg.Lang() == messages.Languages()[0] {
		return d, nil
	}
	r, err := phrase.NewReteller(msg, car, c)
	if err != nil {
		return nil, fmt.Errorf("retell a dictionary: %w", err)
	}
	out := *d
	out.Units = slices.Clone(d.Units)
	for i, u := range d.Units {
		out.Units[i].Name = unit(msg, car, c, u)
	}
	out.Hypotheses = slices.Clone(d.Hypotheses)
	for i, h := range d.Hypotheses {
		id, _, _ := strings.Cut(h.ID, "@")
		out.Hypotheses[i].Name = msg.Name(car, "fault", id, h.Name)
	}
	out.Configs = slices.Clone(d.Configs)
	for i, q := range d.Configs {
		out.Configs[i].Name = msg.Or("plan.config."+q.ID, "phrase.id", "id", q.Name)
	}
	out.SetUps = slices.Clone(d.SetUps)
	for i, s := range d.SetUps {
		id, _, _ := strings.Cut(s.ID, "_")
		out.SetUps[i].Name = msg.Or("plan.setup."+id, "phrase.id", "id", s.Name)
	}
	out.Tests = slices.Clone(d.Tests)
	for i, t := range d.Tests {
		id, _, _ := strings.Cut(t.ID, "@")
		out.Tests[i].Name = msg.Name(car, "test", id, t.Name)
		out.Tests[i].Outcomes = slices.Clone(t.Outcomes)
		for k, label := range t.Outcomes {
			out.Tests[i].Outcomes[k], _ = r.Label(label)
		}
	}
	return &out, nil
}

// unit is what a repair is called: units that are cured together are joined.
func unit(msg *messages.Catalogue, car string, c bench.Catalogue, u plan.Unit) string {
	if u.ID == "none" {
		return msg.T("plan.nothing")
	}
	name := ""
	for _, id := range strings.Split(u.ID, "+") {
		i := slices.IndexFunc(c.Units, func(x bench.UnitInfo) bool { return x.ID == id })
		if i < 0 {
			return u.Name
		}
		one := msg.Name(car, "unit", id, c.Units[i].Name)
		if name == "" {
			name = one
			continue
		}
		name = msg.T("phrase.pair", "a", name, "b", one)
	}
	return name
}
