package dictionary

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// Three suspects, a test that finds the first, another that parts the other two: one repair after one test, or after two.
func TestStepsOfAPlan(t *testing.T) {
	d := &plan.Dictionary{Name: "hand-made", Configs: []plan.Config{{ID: "c", Name: "cold"}},
		Units:      []plan.Unit{{ID: "a", Name: "A", Repair: 6000, Verify: 60}, {ID: "b", Name: "B", Repair: 6000, Verify: 60}, {ID: "c", Name: "C", Repair: 6000, Verify: 60}},
		Hypotheses: []plan.Hypothesis{{ID: "1@1", Name: "one", Unit: 0, Weight: 2}, {ID: "2@1", Name: "two", Unit: 1, Weight: 1}, {ID: "3@1", Name: "three", Unit: 2, Weight: 1}},
		Tests: []plan.Test{{ID: "t", Name: "t", Seconds: 10, Outcomes: []string{"x", "y"}, Row: []int{0, 1, 1}, At: []plan.Placement{{}}},
			{ID: "u", Name: "u", Seconds: 10, Outcomes: []string{"x", "y"}, Row: []int{0, 0, 1}, At: []plan.Placement{{}}}}}
	require.Empty(t, Hidden(d))
	p, err := plan.New(d, plan.Options{})
	require.NoError(t, err)
	root, _, err := p.Policy(context.Background(), d.All(), d.Start)
	require.NoError(t, err)
	require.Equal(t, Length{Least: 2, Mean: 2.5, Most: 3}, Steps(d, root))
	d.Tests = d.Tests[:1]
	require.Equal(t, []string{"2", "3"}, Hidden(d))
}

// Slips of an order's own lines: tools allowed and withheld at once, none left, a guide far from par.
func TestSlipsOfTools(t *testing.T) {
	said := func(change func(*bench.Order)) string {
		cfg, _ := few(t, change)
		return strings.Join(Slips(cfg), "\n")
	}
	require.NotContains(t, said(nil), "tool")
	require.Contains(t, said(func(o *bench.Order) { o.Withheld = bench.AllTools() }), "no tool is left")
	require.Contains(t, said(func(o *bench.Order) {
		o.Tools, o.Withheld = []string{bench.ToolScan, "meter"}, []string{bench.ToolScan}
	}), "both allowed and withheld: "+bench.ToolScan)
	for guide, slip := range map[int]bool{2: true, 42: true, 43: false, 86: false, 342: false, 343: true} {
		require.Equal(t, slip, Guide(guide, 85.7) != "", "%d minutes", guide)
	}
}
