package plan

import "slices"

// option is one way to do a test, or to repair and verify, from some
// configuration: set-up and duration together, and where the bench ends.
type option struct {
	seconds int64
	pre     int32 // configuration the test or repair is done in
	via     int32 // configuration of the verification; -1 for a test
	post    int32
}

// atom stands for hypotheses that no test tells apart and one repair cures.
type atom struct {
	unit  int32
	class int32 // atoms of one class show the same in every test
	// mixed is set when the class spans several units, so that replacements
	// that turn out vain may lie on the way to this one.
	mixed int32
}

// model is the dictionary compiled into tables.
type model struct {
	d       *Dictionary
	close   *closure
	n, q    int
	all     Set
	weight  []int64
	unitOf  []int32
	unitSet []Set
	// masks[t] are the non-empty outcome sets of test t; label[t] their classes.
	masks [][]Set
	label [][]int32
	// ways[q][t] are the ways to do test t from q that could not be improved
	// by setting up later; moves[q][u] the same for repairing unit u.
	ways   [][][]option
	moves  [][][]option
	finish [][]int64 // finish[u][q]: cheapest move
	vain   []int64   // repair and verification of each unit, set-up left out
	atomOf []int32
	atoms  []atom
	class  []Set // hypotheses of each class
	mixed  bool  // some class spans several units
	bound  boundTables
}

func compile(d *Dictionary, opts Options) *model {
	m := &model{d: d, close: newClosure(d), n: len(d.Hypotheses), q: len(d.Configs), all: d.All()}
	m.unitSet = make([]Set, len(d.Units))
	for i, h := range d.Hypotheses {
		m.weight = append(m.weight, h.Weight)
		m.unitOf = append(m.unitOf, int32(h.Unit))
		m.unitSet[h.Unit] = m.unitSet[h.Unit].With(i)
	}
	for _, u := range d.Units {
		m.vain = append(m.vain, u.Repair+u.Verify)
	}
	for _, t := range d.Tests {
		by := make([]Set, len(t.Outcomes))
		for i, o := range t.Row {
			by[o] = by[o].With(i)
		}
		var masks []Set
		var label []int32
		for o, s := range by {
			if !s.Empty() {
				masks, label = append(masks, s), append(label, int32(o))
			}
		}
		m.masks, m.label = append(m.masks, masks), append(m.label, label)
	}
	m.formAtoms()
	opts.Breathe()
	m.formWays()
	m.bound = newBoundTables(m, opts)
	return m
}

// formAtoms merges identical hypotheses: those alike in every test form a
// class, those of a class with the same unit an atom.
func (m *model) formAtoms() {
	left := m.all
	m.atomOf = make([]int32, m.n)
	for !left.Empty() {
		i := left.First()
		like := left
		for t, test := range m.d.Tests {
			for k, s := range m.masks[t] {
				if int(m.label[t][k]) == test.Row[i] {
					like = like.And(s)
				}
			}
		}
		left = left.Minus(like)
		c := int32(len(m.class))
		m.class = append(m.class, like)
		var mixed int32
		if !like.Within(m.unitSet[m.unitOf[i]]) {
			mixed, m.mixed = 1, true
		}
		for rest := like; !rest.Empty(); {
			u := m.unitOf[rest.First()]
			for j := range rest.And(m.unitSet[u]).All() {
				m.atomOf[j] = int32(len(m.atoms))
			}
			m.atoms = append(m.atoms, atom{unit: u, class: c, mixed: mixed})
			rest = rest.Minus(m.unitSet[u])
		}
	}
}

func (m *model) formWays() {
	d := m.d
	m.ways = make([][][]option, m.q)
	m.moves = make([][][]option, m.q)
	m.finish = make([][]int64, len(d.Units))
	for u := range d.Units {
		m.finish[u] = make([]int64, m.q)
	}
	for q := range m.q {
		m.ways[q] = make([][]option, len(d.Tests))
		for t, test := range d.Tests {
			var all []option
			for _, p := range from(test.At, q) {
				all = append(all, option{m.close.dist[q][p.Pre] + test.Seconds, int32(p.Pre), -1, int32(p.Post)})
			}
			m.ways[q][t] = m.undominated(all)
		}
		m.moves[q] = make([][]option, len(d.Units))
		for u, unit := range d.Units {
			var all []option
			for _, a := range from(unit.RepairAt, q) {
				for _, b := range from(unit.VerifyAt, a.Post) {
					s := m.close.dist[q][a.Pre] + unit.Repair + m.close.dist[a.Post][b.Pre] + unit.Verify
					all = append(all, option{s, int32(a.Pre), int32(b.Pre), int32(b.Post)})
				}
			}
			m.moves[q][u] = m.undominated(all)
			m.finish[u][q] = m.moves[q][u][0].seconds
		}
	}
}

// from lists where something may be done, starting at q: what may be done
// anywhere is done on the spot, any set-up coming later if at all.
func from(at []Placement, q int) []Placement {
	if len(at) > 0 {
		return at
	}
	return []Placement{{Pre: q, Post: q}}
}

// undominated keeps the options that could be worth choosing, cheapest first.
// An option is dropped when another reaches its end configuration no later by
// being done first and setting up afterwards: W(S,q') <= P(S) d(q',q") + W(S,q"),
// so putting a set-up off never costs anything.
func (m *model) undominated(all []option) []option {
	slices.SortStableFunc(all, func(a, b option) int {
		switch {
		case a.seconds != b.seconds:
			return int(min(max(a.seconds-b.seconds, -1), 1))
		case a.pre != b.pre:
			return int(a.pre - b.pre)
		}
		return int(a.via - b.via)
	})
	// In rising order of seconds only earlier options can dominate: an equal
	// one can too, but then both reach each other for nothing and the first
	// stands for both, or the later one is kept needlessly, which is harmless.
	var kept []option
	for _, o := range all {
		if !slices.ContainsFunc(kept, func(k option) bool {
			return k.seconds+m.close.dist[k.post][o.post] <= o.seconds
		}) {
			kept = append(kept, o)
		}
	}
	return kept
}
