package plan_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"coldbay/grading/ladder"
	"coldbay/grading/plan"
	"coldbay/scenarios"

	"github.com/stretchr/testify/require"
)

// rivalry is one instance that the planner and what one would do without it both work on.
type rivalry struct {
	name string
	d    *plan.Dictionary
	// quick says that both take milliseconds, so that everyday tests compare them; slow that the plain program takes a minute or gives up.
	quick, slow bool
	// nodes bounds the planner's search, 0 is unbounded.
	nodes int64
}

// mostPlain bounds the states of the plain program.
const mostPlain = 1_500_000

// rivalries are the fixtures with known values, families of growing size, and all orders of the program: the boards as they are, and
// for those too large for the plain program the first suspects of them, as many as it can do and more.
func rivalries(t testing.TB) []rivalry {
	t.Helper()
	out := []rivalry{
		{name: "six states", d: sixStates(t), quick: true},
		{name: "two modes", d: twoModes(), quick: true},
		{name: "light print", d: lightPrint(t), quick: true},
		{name: "zoo", d: zooDictionary(t)},
	}
	for _, n := range []int{8, 12, 16, 20, 24, 28} {
		out = append(out, rivalry{name: fmt.Sprintf("sparse, %d suspects", n), d: sparse(3, n, 40), quick: n <= 12, slow: n > 24})
	}
	for _, u := range []int{3, 4, 5, 6, 7, 8} {
		out = append(out, rivalry{name: fmt.Sprintf("chain, %d units, one configuration", u), d: structured(7, u, 6*u, 1), quick: u <= 5})
	}
	for _, u := range []int{3, 4, 5, 6, 20} {
		out = append(out, rivalry{name: fmt.Sprintf("chain, %d units", u), d: structured(7, u, 6*u, 30), quick: u <= 3, slow: u > 6})
	}
	for _, id := range []string{"half_a_breath", "whole_board"} {
		d := shippedDictionary(t, id)
		for _, n := range []int{8, 12, 16, 20, 24} {
			out = append(out, rivalry{name: fmt.Sprintf("%s, %d of its cells", id, n), d: part(d, n)})
		}
	}
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.OrderIDs() {
		d := shippedDictionary(t, id)
		out = append(out, rivalry{name: id, d: d, nodes: d.Effort(), slow: d.Wide()})
	}
	return out
}

func shippedDictionary(t testing.TB, id string) *plan.Dictionary {
	t.Helper()
	_, packed, err := scenarios.DictionaryFile(id)
	require.NoError(t, err)
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	d, err := plan.Decode(z)
	require.NoError(t, err)
	return d
}

// part keeps n cells of a dictionary, evenly taken.
func part(d *plan.Dictionary, n int) *plan.Dictionary {
	return changed(d, func(o *plan.Dictionary) {
		var keep []int
		for k := range n {
			keep = append(keep, k*len(d.Hypotheses)/n)
		}
		o.Hypotheses = nil
		for _, i := range keep {
			o.Hypotheses = append(o.Hypotheses, d.Hypotheses[i])
		}
		for t := range o.Tests {
			row := make([]int, n)
			for k, i := range keep {
				row[k] = d.Tests[t].Row[i]
			}
			o.Tests[t].Row = row
		}
	})
}

// duel is what came of a rivalry.
type duel struct {
	rivalry
	par         plan.Bounds
	stats       plan.Stats
	ours        cost
	plain       int64
	plainStates int
	gaveUp      bool
	theirs      cost
	greedy      int64
}

// cost is what an answer took: time, and the memory still held when it was there.
type cost struct {
	took time.Duration
	held int64
}

// spend measures f and what the value it returns holds.
func spend(f func() any) cost {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	start := time.Now()
	v := f()
	took := time.Since(start)
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(v)
	return cost{took, int64(after.HeapAlloc) - int64(before.HeapAlloc)}
}

func (r rivalry) fight(t testing.TB) duel {
	t.Helper()
	ctx := context.Background()
	out := duel{rivalry: r}
	out.ours = spend(func() any {
		p, err := plan.New(r.d, plan.Options{Nodes: r.nodes})
		require.NoError(t, err, r.name)
		out.par, err = p.Par(ctx)
		require.NoError(t, err, r.name)
		out.stats = p.Stats()
		return p
	})
	out.theirs = spend(func() any {
		o := newOracle(r.d, false)
		o.most = mostPlain
		out.plain = o.value(r.d.All(), r.d.Start)
		out.plainStates, out.gaveUp = len(o.memo), o.gaveUp
		return o
	})
	g, err := ladder.NewGround(r.name, r.d, r.nodes)
	require.NoError(t, err, r.name)
	students := ladder.Students(nil)
	k := slices.IndexFunc(students, func(s ladder.Student) bool { return s.ID == ladder.Greedy })
	out.greedy, err = g.Expected(ctx, students[k])
	require.NoError(t, err, r.name)
	return out
}

// check holds a duel to what has to be true of any.
func (x duel) check(t testing.TB) {
	t.Helper()
	if !x.gaveUp {
		require.Equal(t, plan.Bounds{Lo: x.plain, Hi: x.plain}, x.par, x.name)
	}
	require.LessOrEqual(t, x.par.Lo, x.par.Hi, x.name)
	require.GreaterOrEqual(t, x.greedy, x.par.Lo, x.name)
}

// row is a line of the table, the times last.
func (x duel) row() string {
	d := x.d
	w := float64(d.Weight(d.All()))
	par := fmt.Sprintf("%d", x.par.Lo)
	greedy := fmt.Sprintf("%.4f", float64(x.greedy)/float64(x.par.Hi))
	if !x.par.Exact() {
		par = fmt.Sprintf("%d to %d (gap %.2f %%)", x.par.Lo, x.par.Hi, 100*float64(x.par.Hi-x.par.Lo)/float64(x.par.Lo))
	}
	plain, times := "the same", fmt.Sprintf("%.2g", float64(x.theirs.took)/float64(x.ours.took))
	if x.gaveUp {
		plain, times = "given up", "over "+times
	}
	return fmt.Sprintf("| %s | %d x %d x %d | %s | %.4g | %d | %d | %s | %s | %d | %s | %s | %s |\n", x.name,
		len(d.Hypotheses), len(d.Tests), len(d.Configs), par, float64(x.par.Hi)/w, x.stats.Nodes, x.stats.Memo, megabytes(x.ours.held),
		plain, x.plainStates, megabytes(x.theirs.held), greedy, times)
}

func megabytes(n int64) string { return fmt.Sprintf("%.2g", float64(max(0, n))/1e6) }

// firm is what of a row does not depend on the machine: without memory and times.
func firm(row string) string {
	cells := strings.Split(strings.TrimSpace(row), "|")
	if len(cells) < 13 {
		return row
	}
	return strings.Join(slices.Concat(cells[:7], cells[8:10], cells[11:12]), "|")
}

const comparison = "../../testdata/plan/COMPARISON.md"

const comparisonHead = `# The planner against what one would do without it

Written by ` + "`go test ./grading/plan -run TestComparison -update`" + `; not edited. On each instance, in the same run and one after the other on one
thread: the planner, a plain dynamic program over (suspects left, configuration) with a memo and without bounds, and the rule of most
information about the unit a minute, set-up counted. The plain program gives up after %d states; what it found until then is then worth
nothing. Where both are exact their values are equal to the last digit, or the test fails.

- size: suspects' cells x tests x bench configurations. Cells of real boards are taken evenly from the whole.
- par: weight times seconds, an integer; and its mean, seconds.
- nodes: states the planner expanded. memo, states: what each of the two remembers. MB: what each then holds, its tables included.
- greedy: what the rule takes in the mean over what the planner's plan takes.
- times: the time of the plain program over the planner's. It depends on the machine, and for the smallest, which take microseconds, on
  chance; the everyday test holds all other figures of the small instances, the long campaign those of all where the plain program needs
  fewer than half a million states.

| instance | size | par | mean, s | nodes | memo | MB | plain | states | MB | greedy | times |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
`

var update = flag.Bool("update", false, "write the table of comparisons again")

// The table in the tree is what the planner and its rivals do today. -update writes it; the everyday test does the small instances.
func TestComparison(t *testing.T) {
	long := *update || os.Getenv("COLDBAY_PROVE") != ""
	kept, err := os.ReadFile(comparison)
	if !*update {
		require.NoError(t, err)
	}
	rows := map[string]string{}
	for row := range strings.Lines(string(kept)) {
		if name, _, ok := strings.Cut(strings.TrimPrefix(row, "| "), " | "); ok {
			rows[name] = row
		}
	}
	var page bytes.Buffer
	fmt.Fprintf(&page, comparisonHead, mostPlain)
	for _, r := range rivalries(t) {
		if !*update && (r.slow || !long && !r.quick) {
			require.Contains(t, rows, r.name)
			continue
		}
		x := r.fight(t)
		x.check(t)
		page.WriteString(x.row())
		if !*update {
			require.Equal(t, firm(rows[r.name]), firm(x.row()), "write it again: go test ./grading/plan -run TestComparison -update")
		}
	}
	if *update {
		require.NoError(t, os.MkdirAll("../../testdata/plan", 0o755))
		require.NoError(t, os.WriteFile(comparison, page.Bytes(), 0o644))
	}
}

// BenchmarkRivals is the planner, the plain program and the rule on instances that all of them can do, and the two that can on the
// orders of the program.
func BenchmarkRivals(b *testing.B) {
	for _, r := range rivalries(b) {
		name := strings.ReplaceAll(strings.ReplaceAll(r.name, ",", ""), " ", "_")
		b.Run("plan/"+name, func(b *testing.B) {
			b.ReportAllocs()
			var n int64
			for b.Loop() {
				p, err := plan.New(r.d, plan.Options{Nodes: r.nodes})
				require.NoError(b, err)
				_, err = p.Par(context.Background())
				require.NoError(b, err)
				n = p.Stats().Nodes
			}
			b.ReportMetric(float64(n), "nodes")
		})
		b.Run("plain/"+name, func(b *testing.B) {
			b.ReportAllocs()
			var n int
			for b.Loop() {
				o := newOracle(r.d, false)
				o.most = mostPlain
				o.value(r.d.All(), r.d.Start)
				n = len(o.memo)
				if o.gaveUp {
					b.Skip("more states than it is given")
				}
			}
			b.ReportMetric(float64(n), "states")
		})
	}
}
