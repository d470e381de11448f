package dictionary

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// Alike lists groups of hypotheses of different units that no test tells apart.
func Alike(d *plan.Dictionary) [][]string {
	type group struct {
		rows  []int
		ids   []string
		units []int
	}
	var groups []*group
	for i, h := range d.Hypotheses {
		row := make([]int, len(d.Tests))
		for t := range d.Tests {
			row[t] = d.Tests[t].Row[i]
		}
		at := slices.IndexFunc(groups, func(g *group) bool { return slices.Equal(g.rows, row) })
		if at < 0 {
			groups = append(groups, &group{rows: row})
			at = len(groups) - 1
		}
		g := groups[at]
		g.ids = append(g.ids, h.ID)
		if !slices.Contains(g.units, h.Unit) {
			g.units = append(g.units, h.Unit)
		}
	}
	out := [][]string{}
	for _, g := range groups {
		if len(g.units) > 1 {
			out = append(out, g.ids)
		}
	}
	return out
}

// Slips are what in an order looks like a mistake: a complaint of the lamp in a car whose fault and history light none, or none in
// one whose do.
func Slips(cfg bench.Config) []string {
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return []string{err.Error()}
	}
	var out []string
	lamp := len(l.World().Codes(false)) > 0
	told := strings.Contains(strings.ToLower(cfg.Order.Complaint+" "+cfg.Order.Title), "lamp")
	switch {
	case told && !lamp:
		out = append(out, "the complaint speaks of a lamp, but the fault and its history leave no stored code")
	case !told && lamp:
		out = append(out, "the fault and its history light the lamp, but the complaint does not say so")
	}
	if ids := cfg.Order.SuspectIDs(cfg.Layout); !slices.Contains(ids, cfg.Order.Truth.Fault) {
		out = append(out, fmt.Sprintf("the true fault %q is not on the suspect board", cfg.Order.Truth.Fault))
	}
	if len(l.World().UnitsAtFault()) == 0 && cfg.Order.Truth.Fault != cfg.Car.NoFault.ID {
		out = append(out, "the history has mended the fault already")
	}
	return out
}
