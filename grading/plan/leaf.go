package plan

import (
	"cmp"
	"slices"
)

// exactGroup is the largest number of units in an inseparable group whose
// replacement order is chosen by trying all subsets; larger groups follow the
// order of weight over cost.
const exactGroup = 8

// leaf returns W(S,q) where it is known without search: nothing left, one
// unit left, or a group that no test splits.
func (m *model) leaf(s Set, q int) (int64, bool) {
	i := s.First()
	if i < 0 {
		return 0, true
	}
	u := m.unitOf[i]
	if s.Within(m.unitSet[u]) {
		return m.weigh(s) * m.finish[u][q], true
	}
	if m.mixed {
		if c := m.atoms[m.atomOf[i]].class; s.Within(m.class[c]) {
			v, _ := m.groupPlan(s, q)
			return v, true
		}
	}
	return 0, false
}

func (m *model) weigh(s Set) int64 {
	var p int64
	for i := range s.All() {
		p += m.weight[i]
	}
	return p
}

// groupStep is one replacement in closing an inseparable group.
type groupStep struct {
	unit int
	way  option
}

// groupPlan closes a group spanning several units: replace one, verify, and
// go on while the complaint is still there. It returns the value and the
// order. With up to exactGroup units the order is the cheapest; beyond, it is
// weight over repair-and-verify time, the rule that is optimal when nothing
// has to be set up.
func (m *model) groupPlan(s Set, q int) (int64, []groupStep) {
	var units []int
	var w []int64
	for u, in := range m.unitSet {
		if both := s.And(in); !both.Empty() {
			units, w = append(units, u), append(w, m.weigh(both))
		}
	}
	fixed := len(units) > exactGroup
	if fixed {
		order := make([]int, len(units))
		for k := range order {
			order[k] = k
		}
		cost := func(k int) int64 { return m.d.Units[units[k]].Repair + m.d.Units[units[k]].Verify }
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w[b]*cost(a), w[a]*cost(b)) })
		pick := func(from []int) []int {
			out := make([]int, len(order))
			for k, i := range order {
				out[k] = from[i]
			}
			return out
		}
		units = pick(units)
		weights := make([]int64, len(order))
		for k, i := range order {
			weights[k] = w[i]
		}
		w = weights
	}
	type key struct {
		left Set // bit k: units[k] not yet replaced
		q    int
	}
	type best struct {
		value int64
		unit  int
		way   option
	}
	memo := map[key]best{}
	var solve func(k key, p int64) int64
	solve = func(k key, p int64) int64 {
		if k.left.Empty() {
			return 0
		}
		if b, ok := memo[k]; ok {
			return b.value
		}
		b := best{value: infinity}
		for j := range k.left.All() {
			for _, o := range m.moves[k.q][units[j]] {
				v := p*o.seconds + solve(key{k.left.Without(j), int(o.post)}, p-w[j])
				if v < b.value {
					b = best{v, j, o}
				}
			}
			if fixed {
				break
			}
		}
		memo[k] = b
		return b.value
	}
	at := key{FirstN(len(units)), q}
	value := solve(at, m.weigh(s))
	var steps []groupStep
	for !at.left.Empty() {
		b := memo[at]
		steps = append(steps, groupStep{units[b.unit], b.way})
		at = key{at.left.Without(b.unit), int(b.way.post)}
	}
	return value, steps
}

// pairLeaf is the closed form for two atoms of different units and classes:
// one test that separates them, then each is cured. It does not hold where
// parts may be gambled on.
func (m *model) pairLeaf(x, y mass, q int) int64 {
	best := infinity
	p := x.w + y.w
	fx, fy := m.finish[m.atoms[x.atom].unit], m.finish[m.atoms[y.atom].unit]
	for _, t := range m.bound.apart[int(x.atom)*m.bound.atoms+int(y.atom)] {
		for _, o := range m.ways[q][t] {
			best = min(best, p*o.seconds+x.w*fx[o.post]+y.w*fy[o.post])
		}
	}
	return best
}
