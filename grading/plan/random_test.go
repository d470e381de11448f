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

var families = []shape{
	{n: 6, units: 6, tests: 8, outcomes: 2, configs: 1},
	{n: 8, units: 3, tests: 6, outcomes: 3, configs: 1, twins: true},
	{n: 9, units: 9, tests: 12, outcomes: 3, configs: 1},
	{n: 7, units: 4, tests: 8, outcomes: 2, configs: 3},
	{n: 8, units: 8, tests: 7, outcomes: 3, configs: 4, twins: true},
	{n: 9, units: 5, tests: 10, outcomes: 4, configs: 5, twins: true},
	{n: 5, units: 4, tests: 2, outcomes: 2, configs: 3},
}

// Every family against plain dynamic programming, proof before parts and
// gambling: root, random beliefs, single tests; with a certificate, and with
// path lengths that average to par.
func TestRandomAgainstOracle(t *testing.T) {
	ctx := context.Background()
	for f, s := range families {
		for seed := range uint64(40) {
			d := random(seed+uint64(f)*1000, s)
			r := rand.New(rand.NewPCG(seed, 5))
			for _, economic := range []bool{false, true} {
				name := fmt.Sprintf("family %d seed %d economic %v", f, seed, economic)
				o := newOracle(d, economic)
				p, err := plan.New(d, plan.Options{Economic: economic})
				require.NoError(t, err)
				b, err := p.Par(ctx)
				require.Equal(t, o.value(d.All(), d.Start), exact(t, b, err), name)
				for range 4 {
					set, q := plan.Set{r.Uint64()}.And(d.All()), r.IntN(s.configs)
					b, err := p.Value(ctx, set, q)
					require.Equal(t, o.value(set, q), exact(t, b, err), name)
					k := r.IntN(s.tests)
					b, err = p.Q(ctx, set, q, k)
					if !set.Empty() {
						require.Equal(t, o.test(set, q, k), exact(t, b, err), name)
					}
				}
				checkBest(t, p, o, d.All(), d.Start, name)
				checkPaths(t, p, o, name)
				if !economic {
					c, err := p.Certificate(ctx, d.All(), d.Start)
					require.NoError(t, err, name)
					require.NoError(t, certify.Check(d, c), name)
				}
			}
		}
	}
}

// checkBest compares the optimal set with the oracle's, test by test.
func checkBest(t *testing.T, p *plan.Planner, o *oracle, s plan.Set, q int, name string) {
	t.Helper()
	best, complete, err := p.Best(context.Background(), s, q)
	require.NoError(t, err)
	require.True(t, complete)
	if best[0].Act == plan.ActRepair && !o.economic {
		return // a leaf: nothing to choose
	}
	v := o.value(s, q)
	got := map[int]bool{}
	for _, c := range best {
		require.Equal(t, plan.Bounds{Lo: v, Hi: v}, c.Value)
		if c.Act == plan.ActTest {
			got[c.Index] = true
		} else {
			require.Equal(t, v, o.replace(s, q, c.Index, o.value), name)
		}
	}
	if len(o.units(s)) == 1 {
		return
	}
	for k := range o.d.Tests {
		want := o.splits(s, k) && o.test(s, q, k) == v
		require.Equal(t, want, got[k], "%s test %d", name, k)
	}
}

// checkPaths checks that the paths for all truths average to par, and that no
// proof line is longer than the path of the plan.
func checkPaths(t *testing.T, p *plan.Planner, o *oracle, name string) {
	t.Helper()
	ctx := context.Background()
	d := p.Dictionary()
	var sum int64
	for h, hyp := range d.Hypotheses {
		path, err := p.PathFor(ctx, h)
		require.NoError(t, err)
		require.True(t, path.Exact)
		sum += hyp.Weight * path.Seconds
		q := d.Start
		for _, st := range path.Steps {
			require.Equal(t, q, st.From, name)
			require.True(t, st.Left.Has(h), name)
			q = st.To
		}
		if !o.economic {
			proof, err := p.ProofLine(ctx, h, d.Start)
			require.NoError(t, err)
			require.True(t, proof.Exact)
			if repairs(path) == 1 { // a vain repair could have moved the bench
				require.LessOrEqual(t, proof.Seconds, path.Seconds, name)
			}
			require.Equal(t, bruteProof(o, h), proof.Seconds, name)
		}
	}
	require.Equal(t, o.value(d.All(), d.Start), sum, name)
	root, ok, err := p.Policy(ctx, d.All(), d.Start)
	require.NoError(t, err)
	require.True(t, ok)
	require.Equal(t, sum, priceTree(d, root), name)
}

func repairs(p plan.Path) (n int) {
	for _, st := range p.Steps {
		if st.Act == plan.ActRepair {
			n++
		}
	}
	return n
}

// priceTree adds up a policy tree independently of the planner's values.
func priceTree(d *plan.Dictionary, n *plan.Node) int64 {
	var s int64
	for _, st := range n.Do {
		s += st.Seconds
	}
	sum := s * d.Weight(n.Left)
	for _, b := range n.Branches {
		if b.Next != nil {
			sum += priceTree(d, b.Next)
		}
	}
	return sum
}

// bruteProof is the proof line by relaxation over (suspects left, configuration).
func bruteProof(o *oracle, h int) int64 {
	d := o.d
	var goal plan.Set
	for i, x := range d.Hypotheses {
		alike := true
		for _, t := range d.Tests {
			alike = alike && t.Row[i] == t.Row[h]
		}
		if alike || x.Unit == d.Hypotheses[h].Unit {
			goal = goal.With(i)
		}
	}
	all := d.All()
	cost := map[oracleKey]int64{{all, d.Start}: 0}
	for again := true; again; {
		again = false
		for k, c := range cost {
			for _, t := range d.Tests {
				var keep plan.Set
				for i, r := range t.Row {
					if r == t.Row[h] {
						keep = keep.With(i)
					}
				}
				for _, p := range o.anywhere(t.At) {
					to, s := oracleKey{k.set.And(keep), p.Post}, c+o.dist[k.q][p.Pre]+t.Seconds
					if old, ok := cost[to]; !ok || s < old {
						cost[to], again = s, true
					}
				}
			}
		}
	}
	best := oracleFar
	u := d.Units[d.Hypotheses[h].Unit]
	for k, c := range cost {
		if !k.set.Within(goal) {
			continue
		}
		for _, a := range o.anywhere(u.RepairAt) {
			for _, b := range o.anywhere(u.VerifyAt) {
				best = min(best, c+o.dist[k.q][a.Pre]+u.Repair+o.dist[a.Post][b.Pre]+u.Verify)
			}
		}
	}
	return best
}
