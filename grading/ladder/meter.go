package ladder

import (
	"slices"

	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
)

// withoutScan is a dictionary as it would be if the order withheld the scan tool: only the configurations without it are left, and
// what can be done in them. A dictionary of such an order comes back as it is.
func withoutScan(d *plan.Dictionary) *plan.Dictionary {
	const left = dictionary.ColdScan
	if len(d.Configs) <= left {
		return d
	}
	keep := func(at []plan.Placement) []plan.Placement {
		return slices.DeleteFunc(slices.Clone(at), func(p plan.Placement) bool { return p.Pre >= left || p.Post >= left })
	}
	out := *d
	out.Name += " without scan tool"
	out.Configs = d.Configs[:left]
	out.SetUps = slices.DeleteFunc(slices.Clone(d.SetUps), func(s plan.SetUp) bool { return s.From >= left || s.To >= left })
	out.Units = slices.Clone(d.Units)
	for i := range out.Units {
		out.Units[i].RepairAt, out.Units[i].VerifyAt = keep(out.Units[i].RepairAt), keep(out.Units[i].VerifyAt)
	}
	out.Tests = nil
	for _, t := range d.Tests {
		at := keep(t.At)
		if len(t.At) > 0 && len(at) == 0 {
			continue
		}
		t.At = at
		out.Tests = append(out.Tests, t)
	}
	return &out
}
