package plan

import "slices"

// boundTables hold what lower bounds need, all per configuration.
type boundTables struct {
	economic bool
	// need[q][a][b], row-major over atoms: the least seconds that a plan
	// starting in q can spend on a path that ends with atom a cured and has
	// told a from b. Where no test can, or one repair cures both, it is
	// base[q][a].
	need []int32
	// base[q][a]: the least seconds to cure and verify atom a.
	base []int32
	// minBase[i]: the least of base over all configurations, by hypothesis.
	minBase []int64
	atoms   int
	// rank[q*atoms+a] lists the atoms by falling need of a, made when first
	// wanted: in a large set one of the first is present.
	rank [][]uint8
	// apart[a*atoms+b] lists the tests that tell atoms a and b apart.
	apart [][]int32
}

// newBoundTables fills the pair table. Its entries are admissible because on
// the path of atom a some test must tell it from b; reaching that test costs
// at least the set-up distance with all other steps moving the bench for free,
// then its duration, then the cheapest way to cure a afterwards.
func newBoundTables(m *model, opts Options) boundTables {
	economic := opts.Economic
	n, units := len(m.atoms), len(m.d.Units)
	b := boundTables{economic: economic, atoms: n, need: make([]int32, m.q*n*n), base: make([]int32, m.q*n), rank: make([][]uint8, m.q*n)}
	// Two sets of free moves: with vain repairs moving the bench too, for
	// atoms on whose path such repairs may lie.
	var free [2][][]int64
	free[0] = m.close.freeMoves(m.d, false)
	free[1] = free[0]
	if economic || m.mixed {
		free[1] = m.close.freeMoves(m.d, true)
	}
	var done [2][][]int64 // done[k][u][q]: cheapest cure of unit u from q
	for k := range done {
		done[k] = make([][]int64, units)
		for u := range units {
			done[k][u] = make([]int64, m.q)
			for q := range m.q {
				best := infinity
				for p := range m.q {
					best = min(best, free[k][q][p]+m.finish[u][p])
				}
				done[k][u][q] = best
			}
		}
	}
	kind := func(a int) int {
		if economic {
			return 1
		}
		return int(m.atoms[a].mixed)
	}
	b.minBase = make([]int64, m.n)
	for i := range m.n {
		a := int(m.atomOf[i])
		b.minBase[i] = slices.Min(done[kind(a)][m.atoms[a].unit])
	}
	rep := make([]int, n) // one hypothesis of each atom
	for i := m.n - 1; i >= 0; i-- {
		rep[m.atomOf[i]] = i
	}
	apart := m.separators(rep, opts.Breathe)
	b.apart = apart
	through := make([][2][]int64, len(m.d.Tests))
	for q := range m.q {
		for t, test := range m.d.Tests {
			for k := range 2 {
				cost := through[t][k]
				if cost == nil {
					cost = make([]int64, units)
				}
				for u := range cost {
					cost[u] = infinity
				}
				for _, p := range placements(test.At, m.q) {
					s := free[k][q][p.Pre] + test.Seconds
					for u := range cost {
						cost[u] = min(cost[u], s+done[k][u][p.Post])
					}
				}
				through[t][k] = cost
			}
		}
		for a := range n {
			opts.Breathe()
			k, u := kind(a), m.atoms[a].unit
			least := done[k][u][q]
			b.base[q*n+a] = int32(least)
			row := b.need[(q*n+a)*n : (q*n+a+1)*n]
			for c := range n {
				row[c] = int32(least)
				if u == m.atoms[c].unit || m.atoms[a].class == m.atoms[c].class {
					continue
				}
				best := infinity
				for _, t := range apart[a*n+c] {
					best = min(best, through[t][k][u])
				}
				row[c] = int32(best)
			}
		}
	}
	return b
}

// separators lists, for every pair of atoms, the tests that tell them apart.
func (m *model) separators(rep []int, breathe func()) [][]int32 {
	n := len(rep)
	out := make([][]int32, n*n)
	for a := range n {
		breathe()
		for c := range a {
			var list []int32
			for t, test := range m.d.Tests {
				if test.Row[rep[a]] != test.Row[rep[c]] {
					list = append(list, int32(t))
				}
			}
			out[a*n+c], out[c*n+a] = list, list
		}
	}
	return out
}

// mass is an atom present in a set, with the weight it has there.
type mass struct {
	atom int32
	w    int64
}

// masses lists the atoms of s with their weights.
func (m *model) masses(s Set, into []mass) []mass {
	into = into[:0]
	if len(m.atoms) == m.n {
		for i := range s.All() {
			into = append(into, mass{m.atomOf[i], m.weight[i]})
		}
		return into
	}
next:
	for i := range s.All() {
		a := m.atomOf[i]
		for k := range into {
			if into[k].atom == a {
				into[k].w += m.weight[i]
				continue next
			}
		}
		into = append(into, mass{a, m.weight[i]})
	}
	return into
}

// pairBound is the bound from separations still needed: every suspect pays
// for the dearest one, its cure, and the vain repairs within its class.
func (m *model) pairBound(list []mass, q int) int64 {
	b := &m.bound
	if b.economic {
		return m.pairBoundEconomic(list, q)
	}
	n := b.atoms
	var sum int64
	if len(list)*len(list) > 2*n {
		sum = b.pairBoundRanked(list, q)
	} else {
		for _, x := range list {
			row := b.need[(q*n+int(x.atom))*n:][:n]
			worst := row[x.atom]
			for _, y := range list {
				worst = max(worst, row[y.atom])
			}
			sum += x.w * int64(worst)
		}
	}
	if m.mixed {
		sum += m.vainBound(list)
	}
	return sum
}

// pairBoundRanked finds the dearest separations of a large set by going down
// each atom's ranking until an atom of the set turns up.
func (b *boundTables) pairBoundRanked(list []mass, q int) int64 {
	var present Set
	for _, x := range list {
		present[x.atom>>6] |= 1 << (x.atom & 63)
	}
	n := b.atoms
	var sum int64
	for _, x := range list {
		at := q*n + int(x.atom)
		row := b.need[at*n:][:n]
		if b.rank[at] == nil {
			order := make([]uint8, n)
			for k := range order {
				order[k] = uint8(k)
			}
			slices.SortFunc(order, func(a, c uint8) int { return int(row[c]) - int(row[a]) })
			b.rank[at] = order
		}
		for _, y := range b.rank[at] {
			if present[y>>6]>>(y&63)&1 == 1 {
				sum += x.w * int64(row[y])
				break
			}
		}
	}
	return sum
}

// vainBound is the least that replacing wrong parts costs in groups that no
// test splits: the order of weight over cost, set-up left out. Few atoms are
// of such groups, so the others are passed over first.
func (m *model) vainBound(list []mass) int64 {
	var in [MaxHypotheses]int16
	n := 0
	var sum int64
	for k, x := range list {
		ax := &m.atoms[x.atom]
		if ax.mixed == 0 {
			continue
		}
		for _, j := range in[:n] {
			y := list[j]
			ay := &m.atoms[y.atom]
			if ax.class != ay.class {
				continue
			}
			// Of each two units one is replaced before the other.
			sum += min(x.w*m.vain[ay.unit], y.w*m.vain[ax.unit])
		}
		in[n] = int16(k)
		n++
	}
	return sum
}

// pairBoundEconomic bounds plans that may gamble on parts: two suspects are
// told apart by a test, or one of them pays for the other's part. Pairs are
// disjoint, so what they pay adds up.
func (m *model) pairBoundEconomic(list []mass, q int) int64 {
	b := &m.bound
	n := b.atoms
	var sum int64
	for _, x := range list {
		sum += x.w * int64(b.base[q*n+int(x.atom)])
	}
	var used [MaxHypotheses]bool
	for i, x := range list {
		if used[i] {
			continue
		}
		ax := m.atoms[x.atom]
		ux := m.d.Units[ax.unit]
		best, with := int64(0), -1
		for j := i + 1; j < len(list); j++ {
			y := list[j]
			ay := m.atoms[y.atom]
			if used[j] || ax.unit == ay.unit {
				continue
			}
			uy := m.d.Units[ay.unit]
			pay := min(x.w*(uy.Repair+uy.Verify), y.w*(ux.Repair+ux.Verify))
			if ax.class != ay.class {
				pay = min(pay, x.w*int64(b.need[(q*n+int(x.atom))*n+int(y.atom)]-b.base[q*n+int(x.atom)])+
					y.w*int64(b.need[(q*n+int(y.atom))*n+int(x.atom)]-b.base[q*n+int(y.atom)]))
			}
			if pay > best {
				best, with = pay, j
			}
		}
		if with >= 0 {
			sum += best
			used[with] = true
		}
	}
	return sum
}

// huffmanBound is P(S) F(L) plus the cures: L the mean length of the best code
// for the leaves a plan must reach when each test has up to arity outcomes,
// F(x) the cost of the x cheapest tests, costs being one per distinct
// partition. A path of l tests costs at least F(l); F is convex, so the mean
// cost is at least F of the mean length.
func (m *model) huffmanBound(list []mass, q, arity int, costs []int64, scratch []int64) (int64, []int64) {
	b := &m.bound
	var p, cure int64
	for _, x := range list {
		p += x.w
		cure += x.w * int64(b.base[q*b.atoms+int(x.atom)])
	}
	scratch = m.leafMasses(list, scratch[:0])
	if b.economic {
		// The part that cures a suspect also tells it from the rest, and its
		// cost is in the cure: one free step on every path.
		costs = append(costs, 0)
		for k, x := range list {
			u := m.atoms[x.atom].unit
			if !slices.ContainsFunc(list[:k], func(y mass) bool { return m.atoms[y.atom].unit == u }) {
				costs = append(costs, m.d.Units[u].Repair+m.d.Units[u].Verify)
			}
		}
		arity = max(arity, 2)
	}
	slices.Sort(costs)
	length := huffmanLength(scratch, arity)
	var sum int64
	for k := 0; length > 0 && k < len(costs); k++ {
		sum += min(length, p) * costs[k]
		length -= min(length, p)
	}
	return sum + cure, scratch
}

// leafMasses sums weights over the coarsest leaves a plan could end in:
// atoms joined by a common unit or, across units, by a common class.
func (m *model) leafMasses(list []mass, out []int64) []int64 {
	var root [MaxHypotheses]int16
	for i := range list {
		root[i] = int16(i)
	}
	find := func(i int16) int16 {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	for i, x := range list {
		for j, y := range list[:i] {
			ax, ay := m.atoms[x.atom], m.atoms[y.atom]
			if ax.unit == ay.unit || ax.class == ay.class {
				root[find(int16(i))] = find(int16(j))
			}
		}
	}
	var at [MaxHypotheses]int16
	for i, x := range list {
		r := find(int16(i))
		if at[r] == 0 {
			out = append(out, 0)
			at[r] = int16(len(out))
		}
		out[at[r]-1] += x.w
	}
	return out
}

// huffmanLength returns the weighted path length of the best code with the
// given arity. It overwrites w.
func huffmanLength(w []int64, arity int) int64 {
	if len(w) < 2 || arity < 2 {
		return 0
	}
	slices.Sort(w)
	// The first merge takes fewer so that every later one is full.
	take := (len(w)-2)%(arity-1) + 2
	var total int64
	for len(w) > 1 {
		var sum int64
		for _, x := range w[:take] {
			sum += x
		}
		total += sum
		w = w[take-1:]
		// Insert the merged weight where it belongs.
		k := 1
		for ; k < len(w) && w[k] < sum; k++ {
			w[k-1] = w[k]
		}
		w[k-1] = sum
		take = min(arity, len(w))
	}
	return total
}
