package dictionary

import (
	"context"
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the dictionaries again")

// The dictionaries that are shipped are those that the orders, the cars, the procedures and the model give today: every day for some of the
// suspects of each order, in the long campaign for all. -update writes them.
func TestShippedDictionaries(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	prove := os.Getenv("COLDBAY_PROVE") != ""
	for k, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		name, data, err := scenarios.ProceduresFile(o.Order.Car)
		require.NoError(t, err)
		p, err := Parse(name, data)
		require.NoError(t, err)
		cfg := lib.Config(o, "test")
		if *update {
			b, err := Build(context.Background(), cfg, p, 2)
			require.NoError(t, err)
			packed, err := Pack(b.Dictionary)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile("../../scenarios/dictionaries/"+id+".json.gz", packed, 0o644))
			continue
		}
		// That the file is for this order, car, model and these procedures is seen at once.
		file, shipped, err := scenarios.DictionaryFile(id)
		require.NoError(t, err, "build it: go test ./grading/dictionary -update")
		d, err := Unpack(file, shipped, Name(cfg, data))
		require.NoError(t, err)
		switch {
		case prove:
			b, err := Build(context.Background(), cfg, p, 2)
			require.NoError(t, err)
			got, err := d.Digest()
			require.NoError(t, err)
			want, err := b.Dictionary.Digest()
			require.NoError(t, err)
			require.Equal(t, want, got, "%s is not what the worlds give today: go test ./grading/dictionary -update", file)
		case !d.Wide():
			some(t, cfg, p, d, k)
		}
		if d.Wide() && !prove {
			t.Logf("%s: %d cells of the file; built again and bounded by make prove only", id, len(d.Hypotheses))
			continue
		}
		pl, err := plan.New(d, plan.Options{Nodes: d.Effort()})
		require.NoError(t, err)
		v, err := pl.Par(context.Background())
		require.NoError(t, err)
		if !d.Wide() {
			require.True(t, v.Exact(), "par of %s must be exact on this fault set", id)
		}
		require.LessOrEqual(t, float64(v.Hi-v.Lo), 0.05*float64(v.Hi), "par of %s must be within 5 %% of the least possible", id)
		w := float64(d.Weight(d.All()))
		t.Logf("%s: %d cells, %d tests, par %.1f min, %+v, %d bytes", id, len(d.Hypotheses), len(d.Tests), float64(v.Hi)/w/60, pl.Stats(), len(shipped))
	}
}

// some builds the dictionary of one in five suspects, from the k-th on, and holds the shipped one's cells, outcomes and seconds against it.
func some(t *testing.T, cfg bench.Config, p *Procedures, d *plan.Dictionary, k int) {
	t.Helper()
	short := *cfg.Order
	short.Suspects = nil
	for i, s := range cfg.Order.SuspectIDs(cfg.Layout) {
		if i%5 == k%5 {
			short.Suspects = append(short.Suspects, s)
		}
	}
	cfg.Order = &short
	b, err := Build(context.Background(), cfg, p, 2)
	require.NoError(t, err)
	at := make([]int, len(b.Dictionary.Hypotheses)) // their places in the shipped one
	own := 0
	for i, h := range d.Hypotheses {
		suspect, _, _ := strings.Cut(h.ID, "@")
		if !slices.Contains(short.Suspects, suspect) {
			continue
		}
		own++
		j := slices.IndexFunc(b.Dictionary.Hypotheses, func(g plan.Hypothesis) bool { return g.ID == h.ID })
		require.GreaterOrEqual(t, j, 0, "%s has no cell %s today", d.Name, h.ID)
		at[j] = i
		g := b.Dictionary.Hypotheses[j]
		require.Equal(t, []any{h.Name, h.Weight, h.Worlds, d.Units[h.Unit].ID}, []any{g.Name, g.Weight, g.Worlds, b.Dictionary.Units[g.Unit].ID}, "%s: %s", d.Name, h.ID)
	}
	require.Len(t, at, own)
	for _, test := range d.Tests {
		j := slices.IndexFunc(b.Dictionary.Tests, func(g plan.Test) bool { return g.ID == test.ID })
		for x := range at {
			for y := range x {
				// A test that tells none of these apart was left out when they were built alone.
				today := j < 0 || b.Dictionary.Tests[j].Row[x] == b.Dictionary.Tests[j].Row[y]
				require.Equal(t, test.Row[at[x]] == test.Row[at[y]], today, "%s: %s, %s against %s", d.Name, test.ID, d.Hypotheses[at[x]].ID, d.Hypotheses[at[y]].ID)
			}
		}
		if j >= 0 {
			g := b.Dictionary.Tests[j]
			require.Equal(t, []any{test.Name, test.At}, []any{g.Name, g.At}, test.ID)
			require.LessOrEqual(t, g.Seconds, test.Seconds, test.ID)
		}
	}
	for _, g := range b.Dictionary.Tests {
		require.True(t, slices.ContainsFunc(d.Tests, func(test plan.Test) bool { return test.ID == g.ID }), "%s has no test %s", d.Name, g.ID)
	}
	require.Equal(t, d.SetUps, b.Dictionary.SetUps)
	for _, u := range b.Dictionary.Units {
		require.Contains(t, d.Units, u)
	}
}
