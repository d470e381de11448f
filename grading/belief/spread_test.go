package belief

import (
	"context"
	"errors"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// procedures are the steps of the car's own tests.
func procedures(t testing.TB, cfg bench.Config) [][]string {
	t.Helper()
	_, data, err := scenarios.ProceduresFile(cfg.Order.Car)
	require.NoError(t, err)
	var out [][]string
	for _, m := range regexp.MustCompile(`steps: \[([^\]]*)\]`).FindAllStringSubmatch(string(data), -1) {
		out = append(out, strings.Split(strings.ReplaceAll(m[1], "\n", " "), ","))
	}
	require.Greater(t, len(out), 40)
	return out
}

// attempt is work drawn by a seed, done on a car: what could be done of it.
func attempt(t testing.TB, truth bench.Config, work [][]string, seed uint64) []bench.Finding {
	t.Helper()
	car, err := bench.NewLocal(truth)
	require.NoError(t, err)
	lines := []string{"scan on"}
	r := rand.New(rand.NewPCG(seed, 5))
	for _, c := range r.Perm(len(work))[:12] {
		lines = append(lines, work[c]...)
	}
	for _, a := range actions(t, lines...) {
		_, err := car.Do(context.Background(), a)
		var no *bench.Refusal
		if !errors.As(err, &no) {
			require.NoError(t, err)
		}
	}
	return car.Ledger()
}

// A reading rules a suspect out only by more than two healthy cars differ: with the order's car replaced by others of its model, at
// severities between the rungs, the suspect that is at fault falls less often for a family of several cars than for one that knows a
// single car, whose severity alone would have to make up for the difference.
func TestOtherCarsOfTheModel(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "quiet_pump")
	short := *cfg.Order
	short.Suspects = []string{"pressure_pipe_off", "pump_worn", "solenoid_clogged", "inlet_off_worn_pump", "no_fault_found"}
	cfg.Order = &short
	many, err := New(ctx, cfg, Options{Workers: 2})
	require.NoError(t, err)
	var single []Cell
	for _, c := range many.Cells() {
		if c.Worlds[0].Draw == 0 {
			single = append(single, c)
		}
	}
	one, err := New(ctx, cfg, Options{Workers: 2, Cells: single})
	require.NoError(t, err)
	one.alone = true
	work := procedures(t, cfg)
	plays, fell, alone := 0, 0, 0
	for i, s := range many.Suspects() {
		for k := range uint64(6) {
			truth := cfg
			truth.Truth = &bench.Truth{Fault: s.ID, Severity: 1, Draw: 7000 + 10*uint64(i) + k}
			if !s.Fixed {
				truth.Truth.Severity = within(many.worlds[i], 0.1+0.15*float64(k))
			}
			seen := attempt(t, truth, work, uint64(i)<<8|k)
			a, b := many.Clone(), one.Clone()
			for _, f := range seen {
				_, err := a.See(ctx, f)
				require.NoError(t, err)
				_, err = b.See(ctx, f)
				require.NoError(t, err)
			}
			plays++
			if !a.Fits(i) {
				fell++
			}
			if !b.Fits(i) {
				alone++
			}
		}
	}
	t.Logf("%d plays in cars of other draws: the suspect at fault fell %d times, %d times with the order's own car alone", plays, fell, alone)
	require.Less(t, fell, alone)
	require.Less(t, 20*fell, plays, "one in twenty is more than chance at the edges of a few readings")
}

// Families reach as far down as the car is still what the customer brings, and no farther: the lamp is on at both ends of each span, and
// off a hundredth below.
func TestFamiliesReachToTheComplaint(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "quiet_pump")
	b, err := New(ctx, cfg, Options{Workers: 2})
	require.NoError(t, err)
	k := known{cfg: &b.cfg}
	low := 0
	for i, s := range b.Suspects() {
		if s.Fixed {
			require.Equal(t, 1., b.worlds[i][0].Severity)
			continue
		}
		lo, hi := b.worlds[i][0].Severity, b.worlds[i][rungs-1].Severity
		require.True(t, lit(b.worlds[i][0].b), s.ID)
		require.True(t, lit(b.worlds[i][rungs-1].b), s.ID)
		require.Equal(t, 1., hi, s.ID)
		l, err := k.arrive(s.ID, lo-0.01, 0)
		require.NoError(t, err)
		require.False(t, lit(l), "%s explains the lamp below %g", s.ID, lo)
		if lo < 0.4 {
			low++
		}
	}
	require.Positive(t, low, "no family reaches below the constant that once stood here")
}

// A car that lights no lamp has been brought for what is heard: nothing of a family's span sounds like a healthy car.
func TestFamiliesOfACarWithoutLamp(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "burnt_hose")
	b, err := New(ctx, cfg, Options{Workers: 2})
	require.NoError(t, err)
	k := known{cfg: &b.cfg}
	healthy, err := k.arrive(cfg.Car.NoFault.ID, 1, 0)
	require.NoError(t, err)
	want, err := k.heard(ctx, healthy)
	require.NoError(t, err)
	for _, id := range []string{"belt_slack", "diverter_torn", "rail_carboned"} {
		i := b.Find(id)
		for _, w := range b.worlds[i] {
			got, err := k.heard(ctx, w.b)
			require.NoError(t, err)
			require.NotEqual(t, want, got, "%s at %g", id, w.Severity)
		}
		l, err := k.arrive(id, b.worlds[i][0].Severity-0.01, 0)
		require.NoError(t, err)
		got, err := k.heard(ctx, l)
		require.NoError(t, err)
		require.Equal(t, want, got, "%s explains the complaint below %g", id, b.worlds[i][0].Severity)
	}
}

// A belief in a dictionary's cells takes the true car in, also where the dictionary was made for another severity, and counts it in the
// nearest cell.
func TestTruthJoinsTheCells(t *testing.T) {
	ctx := context.Background()
	cfg := config(t, "quiet_pump")
	cfg.Truth = &bench.Truth{Fault: "pump_worn", Severity: 0.777, Draw: cfg.Order.Truth.Draw}
	cells := []Cell{}
	for i, id := range cfg.Order.SuspectIDs(cfg.Layout) {
		for _, v := range []float64{0.7, 0.8} {
			if id != "no_fault_found" {
				cells = append(cells, Cell{Suspect: i, Worlds: []plan.World{{Severity: v}}})
			}
		}
		if id == "no_fault_found" {
			cells = append(cells, Cell{Suspect: i, Worlds: []plan.World{{Severity: 1}}})
		}
	}
	b, err := New(ctx, cfg, Options{Workers: 2, Cells: cells})
	require.NoError(t, err)
	i := b.Find("pump_worn")
	require.Len(t, b.worlds[i], 3)
	require.Equal(t, plan.World{Severity: 0.777}, b.worlds[i][1].World)
	require.Equal(t, b.worlds[i][2].cell, b.worlds[i][1].cell)
	require.Equal(t, b.CellOf("pump_worn", 0.777), b.worlds[i][1].cell)
	_, err = New(ctx, cfg, Options{Cells: cells[:3]})
	require.ErrorContains(t, err, "has no cell")
	_, err = New(ctx, cfg, Options{Cells: append(cells, Cell{Suspect: 99})})
	require.ErrorContains(t, err, "of no suspect")
}
