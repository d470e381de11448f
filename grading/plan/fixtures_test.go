package plan_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"coldbay/grading/plan"

	"github.com/stretchr/testify/require"
)

// table builds a dictionary with one unit per hypothesis, no repair time and
// one configuration: pure identification.
func table(name string, weights []int64, costs []int64, rows [][]int) *plan.Dictionary {
	d := &plan.Dictionary{Name: name, Configs: []plan.Config{{ID: "bench"}}}
	for i, w := range weights {
		d.Units = append(d.Units, plan.Unit{})
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: i, Weight: w})
	}
	for t, row := range rows {
		d.Tests = append(d.Tests, plan.Test{Seconds: costs[t], Row: row, Outcomes: outcomes(row)})
	}
	return d
}

func outcomes(row []int) []string {
	n := 0
	for _, o := range row {
		n = max(n, o+1)
	}
	return make([]string, n)
}

// worked are the rows of a published worked example, without the line of its column names; its source stands in the file.
func worked(t testing.TB, name string, rows int) [][]string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/plan/" + name + ".csv")
	require.NoError(t, err)
	require.Contains(t, string(data), "# Source", name)
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	out, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, out, rows+1, name)
	return out[1:]
}

// weighed is a worked example whose rows are a weight and the outcomes of tests of unit cost.
func weighed(t testing.TB, name, file string, states int) *plan.Dictionary {
	t.Helper()
	var weights []int64
	var rows [][]int
	for _, r := range worked(t, file, states) {
		weights = append(weights, whole(t, r[0]))
		if rows == nil {
			rows = make([][]int, len(r)-1)
		}
		for k, x := range r[1:] {
			rows[k] = append(rows[k], int(whole(t, x)))
		}
	}
	return table(name, weights, ones(len(rows)), rows)
}

func whole(t testing.TB, text string) int64 {
	t.Helper()
	n, err := strconv.ParseInt(text, 10, 64)
	require.NoError(t, err)
	return n
}

func ones(n int) []int64 {
	out := make([]int64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

func planner(t *testing.T, d *plan.Dictionary) *plan.Planner {
	t.Helper()
	p, err := plan.New(d, plan.Options{})
	require.NoError(t, err)
	return p
}

func exact(t *testing.T, b plan.Bounds, err error) int64 {
	t.Helper()
	require.NoError(t, err)
	require.True(t, b.Exact(), "bounds %v", b)
	return b.Lo
}

func par(t *testing.T, d *plan.Dictionary) int64 {
	t.Helper()
	b, err := planner(t, d).Par(context.Background())
	return exact(t, b, err)
}

// sixStates is the published example of six states and five tests.
func sixStates(t testing.TB) *plan.Dictionary {
	return weighed(t, "six states", "six_states", 6)
}

func TestSixStates(t *testing.T) {
	ctx := context.Background()
	p := planner(t, sixStates(t))
	all := plan.FirstN(6)
	b, err := p.Par(ctx)
	require.Equal(t, int64(218), exact(t, b, err))
	// First tests, worked out here by enumeration of all 316 trees.
	for k, want := range []int64{286, 218, 282, 218, 289} {
		b, err := p.Q(ctx, all, 0, k)
		require.Equal(t, want, exact(t, b, err), "t%d", k+1)
	}
	best, complete, err := p.Best(ctx, all, 0)
	require.NoError(t, err)
	require.True(t, complete)
	require.Len(t, best, 2)
	require.Equal(t, []int{1, 3}, []int{best[0].Index, best[1].Index})
	// The tree printed in the note: path lengths 2,3,3,3,3,2; proofs of 2 each.
	for h, want := range []int64{2, 3, 3, 3, 3, 2} {
		path, err := p.PathFor(ctx, h)
		require.NoError(t, err)
		require.True(t, path.Exact)
		require.Equal(t, want, path.Seconds, "s%d", h)
		proof, err := p.ProofLine(ctx, h, 0)
		require.NoError(t, err)
		require.True(t, proof.Exact)
		require.Equal(t, int64(2), proof.Seconds, "s%d", h)
	}
}

// Series chain: the optimal alphabetic tree. Oracle: interval dynamic
// programming, written here; values worked out by it.
func TestSeriesChain(t *testing.T) {
	weights := []int64{5, 20, 10, 15, 5, 25, 10, 10}
	chain := func(w, costs []int64) *plan.Dictionary {
		var rows [][]int
		for k := 1; k < len(w); k++ {
			row := make([]int, len(w))
			for i := k; i < len(w); i++ {
				row[i] = 1
			}
			rows = append(rows, row)
		}
		return table("chain", w, costs, rows)
	}
	var interval func(w, c []int64, i, j int) int64
	interval = func(w, c []int64, i, j int) int64 {
		if i == j {
			return 0
		}
		var sum int64
		for _, x := range w[i : j+1] {
			sum += x
		}
		best := int64(1 << 60)
		for k := i; k < j; k++ {
			best = min(best, c[k]*sum+interval(w, c, i, k)+interval(w, c, k+1, j))
		}
		return best
	}
	for _, c := range []struct {
		w, costs []int64
		want     int64
		first    int
	}{
		{weights, ones(7), 295, 5},
		{ones(8), ones(7), 24, 4},
		{weights, []int64{4, 1, 3, 2, 6, 1, 2}, 680, 2},
	} {
		d := chain(c.w, c.costs)
		require.Equal(t, c.want, interval(c.w, c.costs, 0, 7))
		require.Equal(t, c.want, par(t, d))
		best, _, err := planner(t, d).Best(context.Background(), plan.FirstN(8), 0)
		require.NoError(t, err)
		require.Equal(t, c.first-1, best[0].Index)
	}
}

// With every subset (or every three-way partition) as a test, the optimum is
// the Huffman code.
func TestAllPartitionsAreHuffman(t *testing.T) {
	every := func(n, arity int) (rows [][]int) {
		total := 1
		for range n {
			total *= arity
		}
		for code := range total {
			row, c := make([]int, n), code
			for i := range row {
				row[i], c = c%arity, c/arity
			}
			rows = append(rows, row)
		}
		return rows
	}
	for _, r := range worked(t, "huffman", 4) {
		var w []int64
		for _, x := range strings.Fields(r[0]) {
			w = append(w, whole(t, x))
		}
		rows := every(len(w), int(whole(t, r[1])))
		require.Equal(t, whole(t, r[2]), par(t, table("partitions", w, ones(len(rows)), rows)))
	}
}

// lightPrint is the published example of causes without tests.
func lightPrint(t testing.TB) *plan.Dictionary {
	var weights, replace []int64
	for _, r := range worked(t, "light_print", 4) {
		weights, replace = append(weights, whole(t, r[0])), append(replace, whole(t, r[1]))
	}
	d := table("light print", weights, nil, nil)
	for u, s := range replace {
		d.Units[u].Repair = s
	}
	return d
}

func TestReplaceInOrderOfWeightOverCost(t *testing.T) {
	ctx := context.Background()
	d := lightPrint(t)
	require.Equal(t, int64(215), par(t, d)) // 21.5, all 24 orders enumerated in the note
	// Order 4,3,2,1: the path of unit 1 pays for all four.
	for h, want := range []int64{37, 17, 7, 2} {
		path, err := planner(t, d).PathFor(ctx, h)
		require.NoError(t, err)
		require.Equal(t, want, path.Seconds)
	}
	for _, c := range []struct{ cost, want int64 }{{3, 196}, {1, 176}} {
		d.Tests = []plan.Test{{Seconds: c.cost, Row: []int{0, 0, 1, 1}, Outcomes: make([]string, 2)}}
		require.Equal(t, c.want, par(t, d))
		p, err := plan.New(d, plan.Options{Economic: true})
		require.NoError(t, err)
		b, err := p.Par(ctx)
		require.Equal(t, c.want, exact(t, b, err), "gambling on parts first does not pay here")
	}
	// Where the test is dear, gambling is cheaper than proof.
	d.Tests[0].Seconds = 30
	p, err := plan.New(d, plan.Options{Economic: true})
	require.NoError(t, err)
	b, err := p.Par(ctx)
	require.Equal(t, int64(215), exact(t, b, err))
	require.Greater(t, par(t, d), int64(215))
}

// More units than are tried in every order: the rule of weight over cost.
func TestLargeGroupFollowsTheRule(t *testing.T) {
	d := table("large group", []int64{5, 9, 1, 7, 3, 8, 2, 6, 4, 10}, nil, nil)
	for u := range d.Units {
		d.Units[u].Repair, d.Units[u].Verify = int64(10+7*u%13), 5
	}
	// Smith's rule: every pair pays the cheaper way round.
	var want int64
	for i, h := range d.Hypotheses {
		ci := d.Units[i].Repair + 5
		want += h.Weight * ci
		for j, o := range d.Hypotheses[:i] {
			want += min(h.Weight*(d.Units[j].Repair+5), o.Weight*ci)
		}
	}
	require.Equal(t, want, par(t, d))
}

// twoModes is a cold and a hot bench: 8 to warm up, 40 to cool down.
func twoModes() *plan.Dictionary {
	d := table("two modes", []int64{30, 25, 20, 15, 10}, []int64{2, 3, 2, 2, 12}, [][]int{
		{0, 0, 0, 1, 1}, {0, 1, 0, 0, 1}, {0, 1, 1, 0, 1}, {1, 1, 0, 0, 0}, {0, 0, 1, 2, 3}})
	d.Configs = []plan.Config{{ID: "cold"}, {ID: "hot"}}
	d.SetUps = []plan.SetUp{{From: 0, To: 1, Seconds: 8}, {From: 1, To: 0, Seconds: 40}}
	for t, q := range []int{0, 0, 1, 1} {
		d.Tests[t].At = []plan.Placement{{Pre: q, Post: q}}
	}
	return d
}

func TestTwoModes(t *testing.T) {
	ctx := context.Background()
	d := twoModes()
	p := planner(t, d)
	all := plan.FirstN(5)
	// Confirmed in the note by a linear program over (subset, mode).
	for q, want := range []int64{1000, 760} {
		b, err := p.Value(ctx, all, q)
		require.Equal(t, want, exact(t, b, err))
	}
	for q, row := range [][]int64{{1000, 1000, 1560, 1560, 1365}, {5000, 5000, 760, 760, 1310}} {
		for k, want := range row {
			b, err := p.Q(ctx, all, q, k)
			require.Equal(t, want, exact(t, b, err), "t%d from %d", k+1, q)
		}
	}
	// t5 in the other mode, entered as a test of its own.
	d.Tests[4].At = []plan.Placement{{Pre: 1, Post: 1}}
	b, err := planner(t, d).Q(ctx, all, 0, 4)
	require.Equal(t, int64(2110), exact(t, b, err))
	d.Tests[4].At = []plan.Placement{{Pre: 0, Post: 0}}
	b, err = planner(t, d).Q(ctx, all, 1, 4)
	require.Equal(t, int64(5365), exact(t, b, err))
	d.SetUps[0].Seconds, d.SetUps[1].Seconds = 0, 0
	d.Tests[4].At = nil
	require.Equal(t, int64(450), par(t, d))
}
