package dictionary

import (
	"context"
	"os"
	"slices"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// fewWithEach says whether a procedure is one of the first two that need some tool, or of those that need none, or puts smoke into the
// supply line, which begins with a pull that tells something by itself.
func fewWithEach(p *Procedures, q *Procedure) bool {
	if q.ID == "smoke_supply_line" {
		return true
	}
	for _, tool := range append(bench.AllTools(), "") {
		n := 0
		for i := range p.List {
			if p.List[i].with(tool) {
				n++
			}
			if p.List[i].ID == q.ID && n <= 2 && q.with(tool) {
				return true
			}
		}
	}
	return false
}

// with says whether a step of the procedure needs the tool; with "" whether none needs any.
func (p *Procedure) with(tool string) bool {
	if tool == "" {
		return !p.Scan && !slices.ContainsFunc(p.actions, func(a bench.Action) bool { return a.Verb.Tool() != "" })
	}
	return p.Scan && tool == bench.ToolScan || slices.ContainsFunc(p.actions, func(a bench.Action) bool { return a.Verb.Tool() == tool })
}

// Whatever tool is withheld: no procedure with it is left, none that does without is lost that tells something, and who has one tool
// less is never quicker on average. Every day a short board and two procedures with each tool are tried, all of quiet_pump's board by
// make prove.
func TestEveryToolWithheld(t *testing.T) {
	cfg, p := few(t, func(o *bench.Order) {
		o.Suspects = []string{"supply_line_off", "supply_line_split", "pump_ground_corroded", "no_fault_found"}
	})
	if os.Getenv("COLDBAY_PROVE") == "" {
		var short []Procedure
		for i := range p.List {
			if fewWithEach(p, &p.List[i]) {
				short = append(short, p.List[i])
			}
		}
		p.List = short
	} else {
		lib, err := scenarios.Builtin()
		require.NoError(t, err)
		o, err := lib.Load("quiet_pump")
		require.NoError(t, err)
		cfg = lib.Config(o, "test")
	}
	par := func(b *Built) float64 {
		pl, err := plan.New(b.Dictionary, plan.Options{Nodes: b.Dictionary.Effort()})
		require.NoError(t, err)
		v, err := pl.Par(context.Background())
		require.NoError(t, err)
		require.True(t, v.Exact())
		return float64(v.Hi) / float64(b.Dictionary.Weight(b.Dictionary.All())) / 60
	}
	all := build(t, cfg, p, 2)
	whole := par(all)
	require.Contains(t, all.Procedure, "smoke_supply_line")
	for _, tool := range bench.AllTools() {
		o := *cfg.Order
		o.Withheld = []string{tool}
		without := cfg
		without.Order = &o
		got := build(t, without, p, 2)
		left := map[string]bool{}
		for _, id := range got.Procedure {
			left[id] = true
		}
		for _, id := range all.Procedure {
			q, err := p.Find(id)
			require.NoError(t, err)
			require.Equal(t, !q.with(tool), left[id], "%s without the %s", id, tool)
		}
		least := par(got)
		t.Logf("without the %s: %d of %d tests, par %.2f of %.2f min", tool, len(got.Dictionary.Tests), len(all.Dictionary.Tests), least, whole)
		require.GreaterOrEqual(t, least, whole-1e-9, "without the %s", tool)
	}
}
