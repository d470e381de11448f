package certify

import (
	"math"
	"slices"
	"sort"

	"coldbay/grading/plan"
)

const far = math.MaxInt64 / 4

// measure works out set-up times by repeated relaxation.
func (k *checker) measure() {
	type edge struct {
		a, b int
		s    int64
	}
	var real, tests, repairs []edge
	for _, e := range k.d.SetUps {
		real = append(real, edge{e.From, e.To, e.Seconds})
	}
	for _, t := range k.d.Tests {
		for _, p := range t.At {
			real = append(real, edge{p.Pre, p.Post, t.Seconds})
			tests = append(tests, edge{p.Pre, p.Post, 0})
		}
	}
	for _, u := range k.d.Units {
		for _, p := range append(slices.Clone(u.RepairAt), u.VerifyAt...) {
			repairs = append(repairs, edge{p.Pre, p.Post, 0})
		}
	}
	shortest := func(edges []edge) [][]int64 {
		out := make([][]int64, len(k.d.Configs))
		for a := range out {
			row := make([]int64, len(out))
			for b := range row {
				row[b] = far
			}
			row[a] = 0
			for again := true; again; {
				again = false
				for _, e := range edges {
					if row[e.a] < far && row[e.a]+e.s < row[e.b] {
						row[e.b], again = row[e.a]+e.s, true
					}
				}
			}
			out[a] = row
		}
		return out
	}
	k.dist = shortest(real)
	// Vain repairs move the bench only on paths into groups that span units.
	free := [2][][]int64{shortest(append(slices.Clone(real), tests...))}
	free[1] = shortest(append(append(slices.Clone(real), tests...), repairs...))
	for _, u := range k.d.Units {
		row := make([]int64, len(k.d.Configs))
		for q := range row {
			row[q] = far
			for _, a := range k.where(u.RepairAt) {
				for _, b := range k.where(u.VerifyAt) {
					row[q] = min(row[q], k.dist[q][a.Pre]+u.Repair+k.dist[a.Post][b.Pre]+u.Verify)
				}
			}
		}
		k.cure = append(k.cure, row)
	}
	k.need = map[int][]int64{}
	n := len(k.d.Hypotheses)
	k.apart = make([][]int, n*n)
	for t, test := range k.d.Tests {
		for i := range n {
			for j := range n {
				if test.Row[i] != test.Row[j] {
					k.apart[i*n+j] = append(k.apart[i*n+j], t)
				}
			}
		}
	}
	for i, h := range k.d.Hypotheses {
		mixed := 0
		for j, o := range k.d.Hypotheses {
			if h.Unit != o.Unit && len(k.apart[i*n+j]) == 0 {
				mixed, k.mixed = 1, true
			}
		}
		row := make([]int64, len(k.d.Configs))
		for q := range row {
			row[q] = far
			for p := range row {
				row[q] = min(row[q], free[mixed][q][p]+k.cure[h.Unit][p])
			}
		}
		k.free = append(k.free, free[mixed])
		k.base = append(k.base, row)
	}
}

// leaf values sets that need no further test: one unit, or a group that no
// test splits, closed by replacing and verifying in the cheapest order (in the
// order of weight over time when more than eight units are in it).
func (k *checker) leaf(s plan.Set, q int) (int64, bool) {
	units := map[int]int64{}
	first := s.First()
	n := len(k.d.Hypotheses)
	for i := range s.All() {
		if len(k.apart[first*n+i]) > 0 && k.d.Hypotheses[first].Unit != k.d.Hypotheses[i].Unit {
			return 0, false
		}
		units[k.d.Hypotheses[i].Unit] += k.d.Hypotheses[i].Weight
	}
	if len(units) == 1 {
		return k.d.Weight(s) * k.cure[k.d.Hypotheses[first].Unit][q], true
	}
	for i := range s.All() {
		if len(k.apart[first*n+i]) > 0 { // same unit as first, but another test row
			return 0, false
		}
	}
	var left []int
	for u := range units {
		left = append(left, u)
	}
	slices.Sort(left)
	time := func(u int) int64 { return k.d.Units[u].Repair + k.d.Units[u].Verify }
	fixed := len(left) > 8
	if fixed {
		sort.SliceStable(left, func(a, b int) bool { return units[left[a]]*time(left[b]) > units[left[b]]*time(left[a]) })
	}
	return k.close(left, units, q, fixed), true
}

// close tries every order (or the fixed one) of replacing the units left.
func (k *checker) close(left []int, w map[int]int64, q int, fixed bool) int64 {
	if len(left) == 0 {
		return 0
	}
	var p int64
	for _, u := range left {
		p += w[u]
	}
	best := int64(far)
	for j, u := range left {
		rest := slices.Delete(slices.Clone(left), j, j+1)
		after := map[int]int64{} // cheapest way to each configuration after verifying
		for _, a := range k.where(k.d.Units[u].RepairAt) {
			for _, b := range k.where(k.d.Units[u].VerifyAt) {
				s := k.dist[q][a.Pre] + k.d.Units[u].Repair + k.dist[a.Post][b.Pre] + k.d.Units[u].Verify
				if old, ok := after[b.Post]; !ok || s < old {
					after[b.Post] = s
				}
			}
		}
		for post, s := range after {
			best = min(best, p*s+k.close(rest, w, post, fixed))
		}
		if fixed {
			break
		}
	}
	return best
}

// simple is the value of a leaf, or else the pair bound.
func (k *checker) simple(s plan.Set, q int) int64 {
	if s.Empty() {
		return 0
	}
	if v, ok := k.leaf(s, q); ok {
		return v
	}
	return k.pairs(s, q)
}

// pairs charges every suspect with the dearest separation it still needs, and
// within groups that no test splits one of each two with the other's part.
func (k *checker) pairs(s plan.Set, q int) int64 {
	need, n := k.needs(q), len(k.d.Hypotheses)
	var sum int64
	for i := range s.All() {
		worst := int64(0)
		for j := range s.All() {
			worst = max(worst, need[i*n+j])
		}
		sum += k.d.Hypotheses[i].Weight * worst
	}
	return sum + k.vain(s)
}

func (k *checker) vain(s plan.Set) int64 {
	if !k.mixed {
		return 0
	}
	if v, ok := k.inVain[s]; ok {
		return v
	}
	n := len(k.d.Hypotheses)
	var sum int64
	for left := s; !left.Empty(); {
		like, units := left, map[int]int64{}
		for j := range left.All() {
			if len(k.apart[left.First()*n+j]) > 0 {
				like = like.Without(j)
				continue
			}
			units[k.d.Hypotheses[j].Unit] += k.d.Hypotheses[j].Weight
		}
		left = left.Minus(like)
		for u, w := range units {
			for v, x := range units {
				if u < v {
					sum += min(w*(k.d.Units[v].Repair+k.d.Units[v].Verify), x*(k.d.Units[u].Repair+k.d.Units[u].Verify))
				}
			}
		}
	}
	k.inVain[s] = sum
	return sum
}

// needs works out, for configuration q, the least time on a path that cures
// suspect i and has told it from j.
func (k *checker) needs(q int) []int64 {
	if t, ok := k.need[q]; ok {
		return t
	}
	n := len(k.d.Hypotheses)
	need := make([]int64, n*n)
	through := make([]int64, len(k.d.Tests))
	for i, h := range k.d.Hypotheses {
		for t, test := range k.d.Tests {
			through[t] = far
			for _, p := range k.where(test.At) {
				through[t] = min(through[t], k.free[i][q][p.Pre]+test.Seconds+k.base[i][p.Post])
			}
		}
		for j := range n {
			need[i*n+j] = k.base[i][q]
			if tests := k.apart[i*n+j]; len(tests) > 0 && h.Unit != k.d.Hypotheses[j].Unit {
				best := int64(far)
				for _, t := range tests {
					best = min(best, through[t])
				}
				need[i*n+j] = best
			}
		}
	}
	k.need[q] = need
	return need
}

// code is the Huffman bound: F of the mean length of the best code for the
// groups of suspects that must end apart, F(x) the cost of the x cheapest
// tests that split s differently, plus the cures.
func (k *checker) code(s plan.Set, q int) int64 {
	if v, ok := k.leaf(s, q); ok || s.Empty() {
		return v
	}
	n := len(k.d.Hypotheses)
	var group [][]int // suspects joined by a unit or by no test telling them apart
	for i := range s.All() {
		joined := []int{i}
		var rest [][]int
		for _, g := range group {
			if slices.ContainsFunc(g, func(j int) bool {
				return k.d.Hypotheses[i].Unit == k.d.Hypotheses[j].Unit || len(k.apart[i*n+j]) == 0
			}) {
				joined = append(joined, g...)
			} else {
				rest = append(rest, g)
			}
		}
		group = append(rest, joined)
	}
	var cures int64
	for i := range s.All() {
		cures += k.d.Hypotheses[i].Weight * k.base[i][q]
	}
	weights := make([]int64, len(group))
	for g, members := range group {
		weights[g] = k.d.Weight(plan.SetOf(members...))
	}
	cheapest := map[string]int64{}
	arity := 2
	for t, test := range k.d.Tests {
		parts := k.parts(s, t)
		if len(parts) < 2 {
			continue
		}
		arity = max(arity, len(parts))
		slices.SortFunc(parts, func(a, b plan.Set) int { return a.First() - b.First() })
		var name []byte
		for _, p := range parts {
			text, _ := p.MarshalText()
			name = append(append(name, text...), ' ')
		}
		if old, ok := cheapest[string(name)]; !ok || test.Seconds < old {
			cheapest[string(name)] = test.Seconds
		}
	}
	var costs []int64
	for _, c := range cheapest {
		costs = append(costs, c)
	}
	slices.Sort(costs)
	for (len(weights)-1)%(arity-1) != 0 {
		weights = append(weights, 0)
	}
	var length int64
	for len(weights) > 1 {
		slices.Sort(weights)
		var sum int64
		for _, w := range weights[:arity] {
			sum += w
		}
		length += sum
		weights = append(weights[arity:], sum)
	}
	weight := k.d.Weight(s)
	var out int64
	for j := 0; length > 0 && j < len(costs); j++ {
		out += min(length, weight) * costs[j]
		length -= min(length, weight)
	}
	return out + cures
}
