package dictionary

import (
	"context"
	"flag"
	"os"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the dictionaries again")

// The dictionaries that are shipped are those that the orders, the car, the procedures and the model give today. -update writes them.
func TestShippedDictionaries(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	built := map[string]bool{}
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		name, data, err := scenarios.ProceduresFile(o.Order.Car)
		require.NoError(t, err)
		p, err := Parse(name, data)
		require.NoError(t, err)
		cfg := lib.Config(o, "test")
		file, shipped, err := scenarios.DictionaryFile(id)
		var d *plan.Dictionary
		if !*update {
			// That the file is for this order, car, model and these procedures is seen at once.
			require.NoError(t, err, "build it: go test ./grading/dictionary -update")
			d, err = Unpack(file, shipped, Name(cfg, data))
			require.NoError(t, err)
			if (built[o.Order.Car] || d.Wide()) && os.Getenv("COLDBAY_PROVE") == "" {
				t.Logf("%s: %d cells of the file; built again by make prove only", id, len(d.Hypotheses))
				continue
			}
		}
		built[o.Order.Car] = true
		b, err := Build(context.Background(), cfg, p, 2)
		require.NoError(t, err)
		packed, err := Pack(b.Dictionary)
		require.NoError(t, err)
		if *update {
			require.NoError(t, os.WriteFile("../../scenarios/dictionaries/"+id+".json.gz", packed, 0o644))
			continue
		}
		got, err := d.Digest()
		require.NoError(t, err)
		want, err := b.Dictionary.Digest()
		require.NoError(t, err)
		require.Equal(t, want, got, "%s is not what the worlds give today: go test ./grading/dictionary -update", file)
		pl, err := plan.New(d, plan.Options{Nodes: d.Effort()})
		require.NoError(t, err)
		v, err := pl.Par(context.Background())
		require.NoError(t, err)
		if !d.Wide() {
			require.True(t, v.Exact(), "par of %s must be exact on this fault set", id)
		}
		require.LessOrEqual(t, float64(v.Hi-v.Lo), 0.05*float64(v.Hi), "par of %s must be within 5 %% of the least possible", id)
		w := float64(d.Weight(d.All()))
		t.Logf("%s: %d cells, %d tests, par %.1f min, %+v, %d bytes", id, len(b.Cells), len(d.Tests), float64(v.Hi)/w/60, pl.Stats(), len(shipped))
	}
}
