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
	left := 0
	for _, tool := range bench.AllTools() {
		if cfg.Order.Allows(tool) {
			left++
		}
		if slices.Contains(cfg.Order.Tools, tool) && slices.Contains(cfg.Order.Withheld, tool) {
			out = append(out, "a tool is both allowed and withheld: "+tool)
		}
	}
	if left == 0 {
		out = append(out, "no tool is left: all are withheld")
	}
	if len(l.World().UnitsAtFault()) == 0 && cfg.Order.Truth.Fault != cfg.Car.NoFault.ID {
		out = append(out, "the history has mended the fault already")
	}
	return out
}

// A guide is a slip when it is so many times shorter or longer than par. Par counts nights and verification, the guide need not.
const guideApart, guideLong = 2, 4

// Guide says what is wrong with the minutes that an order gives as a guide, held against par in minutes; "" when nothing is.
func Guide(minutes int, par float64) string {
	if m := float64(minutes); m >= par/guideApart && m <= par*guideLong {
		return ""
	}
	return fmt.Sprintf("the guide of %d minutes is far from par, %.1f minutes", minutes, par)
}
