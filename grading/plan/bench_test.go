package plan_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/plan/certify"

	"github.com/stretchr/testify/require"
)

// structured makes an invented dictionary built like a vehicle system: units in
// a chain with three severities each, a bench of five engine phases x three
// hose states x two connector states, and tests that look at a stretch of the
// chain and tell severities apart to some degree. configs is 30 or 1.
func structured(seed uint64, units, tests, configs int) *plan.Dictionary {
	r := rand.New(rand.NewPCG(seed, 1913))
	d := &plan.Dictionary{Name: fmt.Sprintf("structured %d", seed)}
	const phases, hoses, plugs = 5, 3, 2
	at := func(phase, hose, plug int) int {
		if configs == 1 {
			return 0
		}
		return (phase*hoses+hose)*plugs + plug
	}
	for range configs {
		d.Configs = append(d.Configs, plan.Config{})
	}
	if configs > 1 {
		for h := range hoses {
			for c := range plugs {
				for p := range phases { // warming is quick, cooling is slow
					if p+1 < phases {
						d.SetUps = append(d.SetUps, plan.SetUp{From: at(p, h, c), To: at(p+1, h, c), Seconds: 60 + 120*int64(p)})
					}
					if p > 0 {
						d.SetUps = append(d.SetUps, plan.SetUp{From: at(p, h, c), To: at(p-1, h, c), Seconds: 600})
					}
					for h2 := range hoses {
						if h2 != h {
							d.SetUps = append(d.SetUps, plan.SetUp{From: at(p, h, c), To: at(p, h2, c), Seconds: 90})
						}
					}
					d.SetUps = append(d.SetUps, plan.SetUp{From: at(p, h, c), To: at(p, h, 1-c), Seconds: 120})
				}
			}
		}
	}
	for u := range units {
		d.Units = append(d.Units, plan.Unit{Repair: 300 + 60*r.Int64N(30), Verify: 600})
		prior := 1 + 60/int64(u+1)
		for range 3 {
			d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: u, Weight: prior + r.Int64N(prior+1)})
		}
	}
	perm := r.Perm(units) // place of each unit in the chain
	for range tests {
		lo := r.IntN(units)
		hi := min(units, lo+1+r.IntN(units/2))
		row := make([]int, 3*units)
		for u := range units {
			seen := perm[u] >= lo && perm[u] < hi
			strength := 1 + r.IntN(3)
			for k := range 3 {
				if seen && k+strength >= 2 && r.IntN(8) > 0 {
					row[3*u+k] = 1 + min(2, (k+r.IntN(2))%3)
				}
			}
		}
		t := plan.Test{Seconds: 30 + 30*r.Int64N(12), Row: row, Outcomes: make([]string, 4)}
		if configs > 1 {
			phase, hose, plug := r.IntN(phases), r.IntN(hoses+1), r.IntN(plugs+1)
			for p := range phases {
				for h := range hoses {
					for c := range plugs {
						if (p == phase || r.IntN(6) == 0) && (hose == hoses || h == hose) && (plug == plugs || c == plug) {
							post := p
							if phase < 2 && p+1 < phases {
								post = p + 1 // a reading in the run uses it up
							}
							t.At = append(t.At, plan.Placement{Pre: at(p, h, c), Post: at(post, h, c)})
						}
					}
				}
			}
		}
		d.Tests = append(d.Tests, t)
	}
	return d
}

// sparse makes an invented dictionary in which most tests show the same for
// most suspects, each a unit of its own, and the bench is always the same: the
// hard case for a planner, since no test halves the suspects.
func sparse(seed uint64, n, tests int) *plan.Dictionary {
	r := rand.New(rand.NewPCG(seed, 88))
	weights, costs, rows := make([]int64, n), make([]int64, tests), make([][]int, tests)
	for i := range weights {
		weights[i] = 1 + 60/int64(i+1)
	}
	for t := range rows {
		costs[t], rows[t] = 1+r.Int64N(20), make([]int, n)
		for i := range rows[t] {
			if r.IntN(8) == 0 {
				rows[t][i] = 1 + r.IntN(3)
			}
		}
	}
	return table(fmt.Sprintf("sparse %d", seed), weights, costs, rows)
}

// BenchmarkPlan solves structured instances of 60 hypotheses, 120 tests and 30
// configurations to optimality.
func BenchmarkPlan(b *testing.B) {
	for seed := range uint64(6) {
		d := structured(seed, 20, 120, 30)
		b.Run(fmt.Sprintf("60x120x30/%d", seed), func(b *testing.B) {
			var nodes, memo int64
			var gap float64
			for b.Loop() {
				p, err := plan.New(d, plan.Options{Nodes: 1_000_000})
				require.NoError(b, err)
				v, err := p.Par(context.Background())
				require.NoError(b, err)
				nodes, memo = p.Stats().Nodes, int64(p.Stats().Memo)
				gap = 100 * float64(v.Hi-v.Lo) / float64(v.Lo)
			}
			b.ReportMetric(float64(nodes), "nodes")
			b.ReportMetric(float64(memo), "memo")
			b.ReportMetric(gap, "gap-%")
		})
	}
}

// BenchmarkCompile is the cost of a new planner alone.
func BenchmarkCompile(b *testing.B) {
	d := structured(0, 20, 120, 30)
	for b.Loop() {
		_, err := plan.New(d, plan.Options{})
		require.NoError(b, err)
	}
}

// BenchmarkCheck is the independent check of one certificate.
func BenchmarkCheck(b *testing.B) {
	d := structured(0, 20, 120, 30)
	p, err := plan.New(d, plan.Options{})
	require.NoError(b, err)
	c, err := p.Certificate(context.Background(), d.All(), d.Start)
	require.NoError(b, err)
	for b.Loop() {
		require.NoError(b, certify.Check(d, c))
	}
	b.ReportMetric(float64(len(c.Claims)), "claims")
}

// BenchmarkStep is one graded step away from the plan: the value of a random
// test's partition at a random belief, with a warm planner.
func BenchmarkStep(b *testing.B) {
	d := structured(0, 20, 120, 30)
	p, err := plan.New(d, plan.Options{})
	require.NoError(b, err)
	_, err = p.Par(context.Background())
	require.NoError(b, err)
	r := rand.New(rand.NewPCG(4, 4))
	for b.Loop() {
		t, h := r.IntN(len(d.Tests)), r.IntN(len(d.Hypotheses))
		var left plan.Set
		for i, o := range d.Tests[t].Row {
			if o == d.Tests[t].Row[h] {
				left = left.With(i)
			}
		}
		_, err := p.Q(context.Background(), left, r.IntN(len(d.Configs)), r.IntN(len(d.Tests)))
		require.NoError(b, err)
	}
}
