package score

import (
	"slices"

	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// seemed says of each repair that only seemed to mend: the car's data name it as such for a fault that the car has, and that one's own unit was
// still at fault when the car was started or driven again, or handed over. Each is said once, with why.
func (g *grader) seemed() (says []string) {
	members, err := g.Config.Car.Members(g.Config.Order.Truth.Fault)
	if err != nil {
		return nil
	}
	for i, f := range g.findings {
		if f.Action.Verb != bench.Repair {
			continue
		}
		for _, m := range members {
			if !slices.Contains(m.Seems, f.Action.On) || !slices.Contains(g.at[g.triedAfter(i)].atFault, m.Unit) {
				continue
			}
			if s := g.onlySeemed(f.Action.On, m); !slices.Contains(says, s) {
				says = append(says, s)
			}
		}
	}
	return says
}

// triedAfter is the moment at which the car had to show what a repair was good for: when it was started or driven next, or at the end.
func (g *grader) triedAfter(repair int) int {
	for j := repair + 1; j < len(g.findings); j++ {
		if v := g.findings[j].Action.Verb; v == bench.Start || v == bench.Drive {
			return j // the moment before that action
		}
	}
	return len(g.at) - 1
}

// onlySeemed is one such repair in words. What eases brings back a part of what was lost; any other repair renews what the cause has harmed.
func (g *grader) onlySeemed(repair string, m *car.Fault) string {
	name := func(id string) string {
		if u, ok := g.Config.Car.Unit(id); ok {
			return g.called("unit", u.ID, u.Name)
		}
		return id
	}
	key := "grade.finish.seems.again"
	if u, ok := g.Config.Car.Unit(repair); ok && len(u.Eases) > 0 {
		key = "grade.finish.seems.eased"
	}
	return g.Words.T(key, "unit", name(repair), "cause", g.called("fault", m.ID, m.Name))
}
