package plan_test

import (
	"math/rand/v2"
	"slices"

	"coldbay/grading/plan"
)

// oracle is plain dynamic programming over (set, configuration), written for
// the tests: no bounds, no reductions, set-ups by relaxation, replacement
// orders by permutation. It shares only the dictionary and its sets with the
// planner. most bounds the states it keeps, 0 is unbounded; past it the oracle
// has given up and its values mean nothing.
type oracle struct {
	d        *plan.Dictionary
	economic bool
	dist     [][]int64
	masks    [][]plan.Set // of each test, by outcome, empty ones left out
	unit     []plan.Set
	at       [][]plan.Placement
	memo     map[oracleKey]int64
	most     int
	gaveUp   bool
}

type oracleKey struct {
	set plan.Set
	q   int
}

const oracleFar = int64(1) << 50

func newOracle(d *plan.Dictionary, economic bool) *oracle {
	o := &oracle{d: d, economic: economic, memo: map[oracleKey]int64{}}
	for a := range d.Configs {
		row := make([]int64, len(d.Configs))
		for b := range row {
			if b != a {
				row[b] = oracleFar
			}
		}
		for range d.Configs {
			for _, e := range d.SetUps {
				row[e.To] = min(row[e.To], row[e.From]+e.Seconds)
			}
			for _, t := range d.Tests {
				for _, p := range t.At {
					row[p.Post] = min(row[p.Post], row[p.Pre]+t.Seconds)
				}
			}
		}
		o.dist = append(o.dist, row)
	}
	for _, t := range d.Tests {
		by := make([]plan.Set, len(t.Outcomes))
		for i, c := range t.Row {
			by[c] = by[c].With(i)
		}
		o.masks = append(o.masks, slices.DeleteFunc(by, plan.Set.Empty))
		o.at = append(o.at, o.anywhere(t.At))
	}
	for u := range d.Units {
		o.unit = append(o.unit, d.InUnit(u))
	}
	return o
}

func (o *oracle) anywhere(at []plan.Placement) []plan.Placement {
	if len(at) == 0 {
		for q := range o.d.Configs {
			at = append(at, plan.Placement{Pre: q, Post: q})
		}
	}
	return at
}

// replace is P(set) times the time of replacing unit u and verifying, and then
// going on with what is left by the given rule.
func (o *oracle) replace(set plan.Set, q, u int, rest func(set plan.Set, q int) int64) int64 {
	left := set.Minus(o.unit[u])
	best := oracleFar
	unit := o.d.Units[u]
	for _, a := range o.anywhere(unit.RepairAt) {
		for _, b := range o.anywhere(unit.VerifyAt) {
			s := o.d.Weight(set) * (o.dist[q][a.Pre] + unit.Repair + o.dist[a.Post][b.Pre] + unit.Verify)
			if !left.Empty() {
				s += rest(left, b.Post)
			}
			best = min(best, s)
		}
	}
	return best
}

func (o *oracle) units(set plan.Set) (out []int) {
	for u, in := range o.unit {
		if !set.And(in).Empty() {
			out = append(out, u)
		}
	}
	return out
}

func (o *oracle) test(set plan.Set, q, t int) int64 {
	best := oracleFar
	weight := o.d.Weight(set)
	for _, p := range o.at[t] {
		sum := weight * (o.dist[q][p.Pre] + o.d.Tests[t].Seconds)
		for _, mask := range o.masks[t] {
			if part := set.And(mask); !part.Empty() {
				sum += o.value(part, p.Post)
			}
		}
		best = min(best, sum)
	}
	return best
}

func (o *oracle) splits(set plan.Set, t int) bool {
	for _, mask := range o.masks[t] {
		if part := set.And(mask); !part.Empty() {
			return part != set
		}
	}
	return false
}

func (o *oracle) value(set plan.Set, q int) int64 {
	if set.Empty() || o.gaveUp {
		return 0
	}
	k := oracleKey{set, q}
	if v, ok := o.memo[k]; ok {
		return v
	}
	best := oracleFar
	units := o.units(set)
	if len(units) > 1 {
		for t := range o.d.Tests {
			if o.splits(set, t) {
				best = min(best, o.test(set, q, t))
			}
		}
	}
	// Parts go on when proven, when nothing can be told apart, or as a gamble.
	if best == oracleFar || o.economic {
		for _, u := range units {
			best = min(best, o.replace(set, q, u, o.value))
		}
	}
	if o.most > 0 && len(o.memo) >= o.most {
		o.gaveUp = true
		return 0
	}
	o.memo[k] = best
	return best
}

// shape describes a family of random instances.
type shape struct {
	n, units, tests, outcomes, configs int
	twins                              bool // some rows are made alike
}

// random makes a small dictionary. Weights, costs and rows are invented.
func random(seed uint64, s shape) *plan.Dictionary {
	r := rand.New(rand.NewPCG(seed, 77))
	d := &plan.Dictionary{Name: "random"}
	for range s.configs {
		d.Configs = append(d.Configs, plan.Config{})
	}
	d.Start = r.IntN(s.configs)
	for q := range s.configs {
		if s.configs > 1 { // a ring, so that all are reachable, and chords
			d.SetUps = append(d.SetUps, plan.SetUp{From: q, To: (q + 1) % s.configs, Seconds: r.Int64N(20)})
			d.SetUps = append(d.SetUps, plan.SetUp{From: q, To: r.IntN(s.configs), Seconds: r.Int64N(40)})
		}
	}
	place := func() (at []plan.Placement) {
		if s.configs == 1 || r.IntN(4) == 0 {
			return nil
		}
		for _, q := range r.Perm(s.configs)[:1+r.IntN(s.configs)] {
			post := q
			if r.IntN(3) == 0 {
				post = r.IntN(s.configs)
			}
			at = append(at, plan.Placement{Pre: q, Post: post})
		}
		return at
	}
	for range s.units {
		d.Units = append(d.Units, plan.Unit{Repair: r.Int64N(60), Verify: r.Int64N(30), RepairAt: place(), VerifyAt: place()})
	}
	for i := range s.n {
		u := i
		if i >= s.units {
			u = r.IntN(s.units)
		}
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: u, Weight: 1 + r.Int64N(20)})
	}
	for range s.tests {
		row := make([]int, s.n)
		for i := range row {
			if r.IntN(3) > 0 {
				row[i] = r.IntN(s.outcomes)
			}
		}
		d.Tests = append(d.Tests, plan.Test{Seconds: 1 + r.Int64N(30), At: place(), Outcomes: make([]string, s.outcomes), Row: row})
	}
	if s.twins {
		for range 3 {
			a, b := r.IntN(s.n), r.IntN(s.n)
			for t := range d.Tests {
				d.Tests[t].Row[a] = d.Tests[t].Row[b]
			}
		}
	}
	return d
}
