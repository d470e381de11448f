package plan_test

import (
	"math/rand/v2"
	"slices"

	"coldbay/grading/plan"
)

// oracle is plain dynamic programming over (set, configuration), written for
// the tests: no bounds, no reductions, set-ups by relaxation, replacement
// orders by permutation. It shares only the dictionary with the planner.
type oracle struct {
	d        *plan.Dictionary
	economic bool
	dist     [][]int64
	memo     map[oracleKey]int64
}

type oracleKey struct {
	set uint32
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

func (o *oracle) weight(set uint32) (p int64) {
	for i, h := range o.d.Hypotheses {
		if set>>i&1 == 1 {
			p += h.Weight
		}
	}
	return p
}

// replace is P(set) times the time of replacing unit u and verifying, and then
// going on with what is left by the given rule.
func (o *oracle) replace(set uint32, q, u int, rest func(set uint32, q int) int64) int64 {
	left := set
	for i, h := range o.d.Hypotheses {
		if h.Unit == u {
			left &^= 1 << i
		}
	}
	best := oracleFar
	unit := o.d.Units[u]
	for _, a := range o.anywhere(unit.RepairAt) {
		for _, b := range o.anywhere(unit.VerifyAt) {
			s := o.weight(set) * (o.dist[q][a.Pre] + unit.Repair + o.dist[a.Post][b.Pre] + unit.Verify)
			if left != 0 {
				s += rest(left, b.Post)
			}
			best = min(best, s)
		}
	}
	return best
}

func (o *oracle) units(set uint32) (out []int) {
	for i, h := range o.d.Hypotheses {
		if set>>i&1 == 1 && !slices.Contains(out, h.Unit) {
			out = append(out, h.Unit)
		}
	}
	return out
}

func (o *oracle) test(set uint32, q, t int) int64 {
	best := oracleFar
	test := o.d.Tests[t]
	for _, p := range o.anywhere(test.At) {
		sum := o.weight(set) * (o.dist[q][p.Pre] + test.Seconds)
		for c := range test.Outcomes {
			var part uint32
			for i, r := range test.Row {
				if set>>i&1 == 1 && r == c {
					part |= 1 << i
				}
			}
			if part != 0 {
				sum += o.value(part, p.Post)
			}
		}
		best = min(best, sum)
	}
	return best
}

func (o *oracle) splits(set uint32, t int) bool {
	seen := -1
	for i, r := range o.d.Tests[t].Row {
		if set>>i&1 == 1 {
			if seen >= 0 && r != seen {
				return true
			}
			seen = r
		}
	}
	return false
}

func (o *oracle) value(set uint32, q int) int64 {
	if set == 0 {
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
