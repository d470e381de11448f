package belief

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"

	"coldbay/grading/plan"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// chores are stretches of work that leave the bench as it was; a script draws some of them.
var chores = [][]string{
	{"look pump", "look valve bend", "look solenoid bend"},
	{"key on", "codes stored", "codes pending", "key off"},
	{"key on", "actuator both", "listen pump", "listen solenoid", "actuator off", "key off"},
	{"meter volts pump_2h bat_neg", "key on", "actuator pump", "actuator off", "key off", "meter off"},
	{"clamp w_feed zero", "key on", "actuator pump", "actuator off", "key off", "clamp off"},
	{"remove relay", "meter volts pump_1h pump_2h", "jump rly_30 rly_87 12awg 40A", "read meter", "unjump rly_30 rly_87", "meter off", "refit relay"},
	{"pull line_valve.a", "handpump valve_nipple", "stroke 6", "holdvac 10", "key on", "actuator pump", "feel tailpipe", "actuator off", "key off",
		"release", "handpump off", "fit line_valve.a valve_nipple"},
	{"pull line_valve.b", "handpump line_valve.b", "stroke 4", "holdvac 20", "release", "handpump off", "fit line_valve.b sol_out"},
	{"open sol_plug", "meter ohms sol_1 sol_2", "meter off", "close sol_plug"},
	{"extract on", "clamp w_feed zero", "start", "watch 12", "data 34", "stop", "clamp off", "extract off"},
}

func actions(t testing.TB, lines ...string) []bench.Action {
	t.Helper()
	var out []bench.Action
	for _, l := range lines {
		a, err := bench.ParseLine(l)
		require.NoError(t, err, l)
		out = append(out, a)
	}
	return out
}

// The truth stays in the belief for every suspect of the car, whether its severity stands on the grid or between two of it, whatever
// is done; and whoever falls, falls on a reading that a technician can tell from the one predicted.
func TestTruthNeverLeaves(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "cold_whisper")
	base, err := New(ctx, cfg, Options{Workers: 2, OffGrid: true})
	require.NoError(t, err)
	var refined atomic.Int32
	t.Run("plays", func(t *testing.T) {
		for i, s := range base.Suspects() {
			// A rung of the family, and two severities between the rungs.
			severities := []float64{1}
			if rung := base.worlds[i]; !s.Fixed {
				severities = []float64{rung[i%rungs].Severity, within(rung, 0.13), within(rung, 0.62)}
			}
			for k, severity := range severities {
				t.Run(fmt.Sprintf("%s %g", s.ID, severity), func(t *testing.T) {
					t.Parallel()
					truth := cfg
					truth.Truth = &bench.Truth{Fault: s.ID, Severity: severity, Draw: cfg.Order.Truth.Draw}
					b := base.Clone()
					mixed(t, b, truth, i, uint64(k))
					for k := range b.worlds {
						refined.Add(int32(len(b.worlds[k]) - len(base.worlds[k])))
					}
				})
			}
		}
	})
	require.Positive(t, refined.Load(), "no family was ever refined: bisection was not tried")
}

// within is the severity at a share of a suspect's span.
func within(family []*world, share float64) float64 {
	return family[0].Severity + share*(family[rungs-1].Severity-family[0].Severity)
}

// mixed plays chores drawn by a seed on the true car, suspect at of the belief, and holds the belief against it.
func mixed(t *testing.T, b *Belief, truth bench.Config, at int, seed uint64) {
	ctx := context.Background()
	car, err := bench.NewLocal(truth)
	require.NoError(t, err)
	lines := []string{"scan on"}
	r := rand.New(rand.NewPCG(uint64(at), seed))
	for _, c := range r.Perm(len(chores))[:3] {
		lines = append(lines, chores[c]...)
	}
	for _, a := range actions(t, lines...) {
		f, err := car.Do(ctx, a)
		var no *bench.Refusal
		if errors.As(err, &no) {
			continue // at no cost and with no trace
		}
		require.NoError(t, err)
		st, err := b.See(ctx, f)
		require.NoError(t, err)
		require.True(t, b.Fits(at), "fell at %s", bench.FormatLine(f.Action))
		require.False(t, st.After.Empty())
		for _, x := range st.Strikes {
			require.NotEqual(t, at, x.Suspect)
			if x.Refused == "" {
				require.NotEqual(t, x.Seen.Class(), x.Predicted.Class())
				require.NotEmpty(t, x.Seen.Key+x.Predicted.Key)
			}
		}
	}
}

// A pump's current and voltage drop at a severity between two worlds far apart are in neither's class: bisection finds a world that
// gives them all, near the true severity, and everybody else falls.
func TestBisectionFindsTheSeverity(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "quiet_pump")
	var cells []Cell
	at := -1
	for i, id := range cfg.Order.SuspectIDs(cfg.Layout) {
		worlds := []plan.World{{Severity: 1}}
		if id == "pump_ground_corroded" {
			at, worlds = i, []plan.World{{Severity: 0.3}, {Severity: 1}}
		}
		for _, w := range worlds {
			cells = append(cells, Cell{Suspect: i, Worlds: []plan.World{w}})
		}
	}
	base, err := New(ctx, cfg, Options{Workers: 2, OffGrid: true, Cells: cells})
	require.NoError(t, err)
	found := 0
	for _, severity := range []float64{0.46, 0.5, 0.55, 0.66, 0.7, 0.8, 0.85, 0.95} {
		truth := cfg
		truth.Truth = &bench.Truth{Fault: "pump_ground_corroded", Severity: severity, Draw: cfg.Order.Truth.Draw}
		car, err := bench.NewLocal(truth)
		require.NoError(t, err)
		b := base.Clone()
		for _, a := range actions(t, "remove relay", "clamp w_feed zero", "meter volts pump_2h bat_neg", "jump rly_30 rly_87 12awg 40A", "read meter", "read clamp") {
			f, err := car.Do(ctx, a)
			require.NoError(t, err)
			_, err = b.See(ctx, f)
			require.NoError(t, err)
			require.True(t, b.Fits(at), "%g fell at %s", severity, bench.FormatLine(a))
		}
		for i := range b.Suspects() {
			require.Equal(t, i == at, b.Fits(i), b.Suspects()[i].ID)
		}
		onGrid := false
		for _, w := range b.worlds[at] {
			if !w.out {
				require.InDelta(t, severity, w.Severity, 0.15)
				onGrid = onGrid || slices.ContainsFunc(base.worlds[at], func(v *world) bool { return v.World == w.World })
			}
		}
		if !onGrid {
			found++
		}
	}
	require.Positive(t, found, "each of these severities reads like one of the grid: nothing was bisected")
	t.Logf("%d found by bisection", found)
}

// Neither the order in which suspects stand on the board nor their names matter.
func TestBoardOrderDoesNotMatter(t *testing.T) {
	cfg := config(t, "quiet_pump")
	lines := actions(t, "look pump", "remove relay", "jump rly_30 rly_87 12awg 40A", "listen pump")
	one := play(t, cfg, Options{Workers: 2}, lines...)
	board := cfg.Order.SuspectIDs(cfg.Layout)
	slices.Reverse(board)
	o := *cfg.Order
	o.Suspects = board
	cfg.Order = &o
	two := play(t, cfg, Options{Workers: 1}, lines...)
	n := len(one.Suspects())
	require.Equal(t, n, len(two.Suspects()))
	for i, s := range one.Suspects() {
		require.Equal(t, s.ID, two.Suspects()[n-1-i].ID)
		require.Equal(t, one.Fits(i), two.Fits(n-1-i), s.ID)
	}
	for k := range one.Steps() {
		a, b := one.Steps()[k], two.Steps()[k]
		require.Equal(t, a.After.Count(), b.After.Count())
		require.Equal(t, len(a.Parts), len(b.Parts))
		require.Equal(t, len(a.Strikes), len(b.Strikes))
		for _, x := range a.Strikes {
			id := one.Suspects()[x.Suspect].ID
			at := slices.IndexFunc(b.Strikes, func(y Strike) bool { return two.Suspects()[y.Suspect].ID == id })
			require.GreaterOrEqual(t, at, 0, id)
			require.Equal(t, x.Seen, b.Strikes[at].Seen)
			require.Equal(t, x.Predicted, b.Strikes[at].Predicted)
		}
	}
}

// Parts of a step are disjoint, make up what fitted before, and the seen one comes first.
func TestPartsMakeUpTheBelief(t *testing.T) {
	b := play(t, config(t, "second_pump"), Options{Workers: 2}, actions(t, "scan on", "key on", "codes stored", "actuator both", "listen pump")...)
	for _, st := range b.Steps() {
		all := st.Parts[0]
		for _, p := range st.Parts[1:] {
			require.True(t, all.And(p).Empty())
			all = all.Or(p)
		}
		require.True(t, st.Before.Within(all))
		require.True(t, st.After.Within(all))
	}
}

// BenchmarkBelief is the belief over all suspects from scratch, after an attempt with ten engine minutes, on two workers.
func BenchmarkBelief(b *testing.B) {
	ctx := context.Background()
	cfg := config(b, "quiet_pump")
	car, err := bench.NewLocal(cfg)
	require.NoError(b, err)
	var seen []bench.Finding
	for _, a := range actions(b, "scan on", "extract on", "start", "watch 300", "data 34", "watch 280", "stop", "extract off", "look pump", "look valve bend", "key on",
		"codes stored", "actuator both", "listen pump", "actuator off", "key off") {
		f, err := car.Do(ctx, a)
		require.NoError(b, err)
		seen = append(seen, f)
	}
	for b.Loop() {
		bel, err := New(ctx, cfg, Options{Workers: 2})
		require.NoError(b, err)
		for _, f := range seen {
			_, err := bel.See(ctx, f)
			require.NoError(b, err)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/attempt")
}
