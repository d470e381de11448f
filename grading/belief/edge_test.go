package belief

import (
	"context"
	"errors"
	"slices"
	"testing"

	"coldbay/grading/plan"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// edgeOf is, for one piece of work, the least severity of a suspect at which a number of it passes from one class into the next: the last on
// the one side and the first on the other, which no instrument of the bay tells apart.
func edgeOf(t *testing.T, cfg bench.Config, suspect string, span []*world, work []bench.Action) [2]float64 {
	t.Helper()
	at := func(severity float64) []bench.Percept {
		truth := cfg
		truth.Truth = &bench.Truth{Fault: suspect, Severity: severity, Draw: cfg.Order.Truth.Draw}
		var shown []bench.Percept
		for _, f := range doAll(t, truth, work) {
			shown = append(shown, f.Percepts...)
		}
		return shown
	}
	// number is the first reading that differs between two worlds in a number only, and how.
	number := func(a, b []bench.Percept) int {
		if len(a) != len(b) {
			return -1
		}
		for k := range a {
			x, y := a[k].Class(), b[k].Class()
			if x != y && alike(a[k], b[k]) && x.Word == "" && y.Word == "" && x.Flag == y.Flag {
				return k
			}
		}
		return -1
	}
	a := at(span[0].Severity)
	for k := 0; k+1 < rungs; k++ {
		lo, hi := span[k].Severity, span[k+1].Severity
		z := at(hi)
		n := number(a, z)
		if n < 0 {
			a = z
			continue
		}
		for range 16 {
			mid := (lo + hi) / 2
			m := at(mid)
			if len(m) == len(a) && m[n].Class() == a[n].Class() {
				lo, a = mid, m
			} else {
				hi = mid
			}
		}
		return [2]float64{lo, hi}
	}
	require.Fail(t, "no edge", suspect)
	return [2]float64{}
}

// doAll is what of some work can be done on a car.
func doAll(t *testing.T, truth bench.Config, work []bench.Action) []bench.Finding {
	t.Helper()
	car, err := bench.NewLocal(truth)
	require.NoError(t, err)
	for _, a := range work {
		_, err := car.Do(context.Background(), a)
		var no *bench.Refusal
		if !errors.As(err, &no) {
			require.NoError(t, err, bench.FormatLine(a))
		}
	}
	return car.Ledger()
}

// A reading that lies at the edge of a class, nearer than any instrument tells, never strikes the suspect that gave it: neither where its
// severity is among the worlds, as the truth's is, nor where it has to be found, even where two readings leave little room.
func TestReadingsAtAnEdge(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "quiet_pump")
	short := *cfg.Order
	short.Suspects = []string{"pump_ground_corroded", "pump_worn", "valve_line_split"}
	cfg.Order = &short
	base, err := New(ctx, cfg, Options{Workers: 2, OffGrid: true})
	require.NoError(t, err)
	keys := map[string]bool{}
	for _, c := range []struct{ suspect, chore int }{{0, 3}, {1, 4}, {2, 9}} {
		id, span := base.suspects[c.suspect].ID, base.worlds[c.suspect]
		work := actions(t, append([]string{"scan on"}, chores[c.chore]...)...)
		edge := edgeOf(t, cfg, id, span, work)
		require.Less(t, edge[1]-edge[0], 1e-5)
		for _, severity := range edge {
			truth := cfg
			truth.Truth = &bench.Truth{Fault: id, Severity: severity, Draw: cfg.Order.Truth.Draw}
			log := doAll(t, truth, work)
			found, known := base.Clone(), base.Clone()
			known.worlds[c.suspect] = withTruth(known.worlds[c.suspect], &base.suspects[c.suspect], severity)
			at := slices.IndexFunc(known.worlds[c.suspect], func(w *world) bool { return w.World == plan.World{Severity: severity} })
			own := known.worlds[c.suspect][at]
			own.b, err = known.bench(c.suspect, own.World)
			require.NoError(t, err)
			for _, f := range log {
				for k, b := range []*Belief{found, known} {
					st, err := b.See(ctx, f)
					require.NoError(t, err)
					require.True(t, b.Fits(c.suspect), "%s at %.9f fell at %s", id, severity, bench.FormatLine(f.Action))
					if k == 1 {
						require.False(t, own.out)
						require.True(t, st.Parts[0].Has(own.cell), "its cell is of the part that was seen")
						require.True(t, st.After.Has(own.cell))
					}
				}
				for _, p := range f.Percepts {
					keys[p.Key] = true
				}
			}
		}
	}
	for _, key := range []string{"volts", "amps", "pid.34", "rpm"} {
		require.True(t, keys[key], key)
	}
}
