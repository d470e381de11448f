package dictionary

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"coldbay/grading/belief"
	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// shares is a multiple of every number of severities and of draws that a family is cut into, so that a suspect's weight is not changed
// by how finely it is cut.
const shares = 180

// hypotheses makes the planner's hypotheses of the belief's worlds: worlds of one suspect that every test shows alike are one cell. The
// tests' rows, one entry for each world so far, are cut down to the cells.
func (x *Built) hypotheses(b *belief.Belief) {
	d := x.Dictionary
	units := map[string]int{}
	for i, u := range d.Units {
		units[u.ID] = i
	}
	var first []int // a world of each cell
	var cells []belief.Cell
	worlds := b.Cells()
	for i, w := range worlds {
		s := b.Suspects()[w.Suspect]
		weight := int64(math.Round(s.Weight*100)) * share(worlds, i)
		at := slices.IndexFunc(first, func(k int) bool { return worlds[k].Suspect == w.Suspect && alike(d.Tests, k, i) })
		if at < 0 {
			at = len(first)
			first = append(first, i)
			cells = append(cells, belief.Cell{Suspect: w.Suspect})
			d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{ID: name(s.ID, w.Worlds[0]), Name: s.Name, Unit: units[unitID(s.Units)]})
		}
		cells[at].Worlds = append(cells[at].Worlds, w.Worlds...)
		d.Hypotheses[at].Worlds = cells[at].Worlds
		d.Hypotheses[at].Weight += max(1, weight)
	}
	for t := range d.Tests {
		row := make([]int, len(first))
		for at, i := range first {
			row[at] = d.Tests[t].Row[i]
		}
		d.Tests[t].Row = row
	}
	x.Cells = cells
}

// unitID is the planner's unit for the service units of a complete repair.
func unitID(units []string) string {
	if len(units) == 0 {
		return "none"
	}
	return strings.Join(units, "+")
}

// name tells a hypothesis by its suspect and the first of its worlds.
func name(suspect string, w plan.World) string {
	s := fmt.Sprintf("%s@%.3f", suspect, w.Severity)
	if w.Draw > 0 {
		s += fmt.Sprintf("#%d", w.Draw)
	}
	return s
}

// share is a world's part of its suspect's weight, of the number shares: all severities have the same, and so have all draws at one.
func share(worlds []belief.Cell, i int) int64 {
	own := worlds[i].Worlds[0]
	var severities []float64
	draws := int64(0)
	for _, w := range worlds {
		if w.Suspect != worlds[i].Suspect {
			continue
		}
		v := w.Worlds[0].Severity
		if v == own.Severity {
			draws++
		}
		if !slices.Contains(severities, v) {
			severities = append(severities, v)
		}
	}
	return shares / (int64(len(severities)) * draws)
}

func alike(tests []plan.Test, i, k int) bool {
	return !slices.ContainsFunc(tests, func(t plan.Test) bool { return t.Row[i] != t.Row[k] })
}

// Cells are the cells of a dictionary in the belief's terms, for an order that it was built for.
func Cells(cfg bench.Config, d *plan.Dictionary) ([]belief.Cell, error) {
	at := map[string]int{}
	for i, id := range cfg.Order.SuspectIDs(cfg.Layout) {
		at[id] = i
	}
	var out []belief.Cell
	for _, h := range d.Hypotheses {
		id, _, _ := strings.Cut(h.ID, "@")
		i, ok := at[id]
		if !ok || len(h.Worlds) == 0 {
			return nil, fmt.Errorf("order %s: its dictionary's suspect %q is not on the board or has no world: build the dictionary again", cfg.Order.ID, h.ID)
		}
		out = append(out, belief.Cell{Suspect: i, Worlds: h.Worlds})
	}
	return out, nil
}

// Belief is the belief about an order in its dictionary's cells, as the car comes in.
func Belief(ctx context.Context, cfg bench.Config, d *plan.Dictionary, workers int) (*belief.Belief, error) {
	cells, err := Cells(cfg, d)
	if err != nil {
		return nil, err
	}
	return belief.New(ctx, cfg, belief.Options{Cells: cells, Workers: workers})
}
