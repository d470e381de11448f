package belief

import (
	"context"
	"errors"
	"os"
	"slices"
	"testing"

	"coldbay/sim/bench"
	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// board is quiet_pump's order with other suspects.
func board(t testing.TB, suspects ...string) bench.Config {
	cfg := config(t, "quiet_pump")
	o := *cfg.Order
	o.Suspects = suspects
	cfg.Order = &o
	return cfg
}

const chanceFault = "solenoid_feed_comes_and_goes"

// fits shows a belief what lines give in the true car and says whether a suspect still fits.
func fits(t testing.TB, b *Belief, truth bench.Config, at int, lines []string) bool {
	ctx := context.Background()
	l, err := bench.NewLocal(truth)
	require.NoError(t, err)
	for _, a := range actions(t, lines...) {
		f, err := l.Do(ctx, a)
		var no *bench.Refusal
		if errors.As(err, &no) {
			continue
		}
		require.NoError(t, err)
		_, err = b.See(ctx, f)
		require.NoError(t, err)
	}
	return b.Fits(at)
}

// A fault that comes and goes at times of its own stays while any times fit: with the order's car replaced by one that has other good
// and bad moments, whatever is read of its solenoid.
func TestOtherTimesFit(t *testing.T) {
	cfg := board(t, chanceFault, "solenoid_open", "no_fault_found")
	base, err := New(context.Background(), cfg, Options{Workers: 2})
	require.NoError(t, err)
	drive := []string{"key on", "actuator solenoid", "listen solenoid", "actuator off", "key off"}
	lines := append([]string{"scan on", "key on", "codes stored", "codes pending", "key off"}, drive...)
	lines = append(append(lines, "watch 25"), drive...)
	lines = append(append(lines, "watch 25"), drive...)
	cars := 4
	if os.Getenv("COLDBAY_PROVE") != "" {
		cars = 60
	}
	for k := range cars {
		truth := cfg
		truth.Truth = &bench.Truth{Fault: chanceFault, Severity: 1, Draw: uint64(1000 + k)}
		require.True(t, fits(t, base.Clone(), truth, 0, lines), "car %d: it has the fault", k)
	}
}

// With another fault in the car, one that comes and goes falls on a reading only if none of many draws gives it.
func TestChanceIsNotRuledOutByChance(t *testing.T) {
	cfg := board(t, chanceFault, "solenoid_open", "no_fault_found")
	lines := []string{"scan on", "key on", "codes pending"}
	truth := cfg
	truth.Truth = &bench.Truth{Fault: "solenoid_open", Severity: 1, Draw: cfg.Order.Truth.Draw}
	want := seenClasses(t, truth, lines)
	same := 0
	for draw := range 12 {
		other := cfg
		other.Truth = &bench.Truth{Fault: chanceFault, Severity: 1, Draw: Seed(&cfg, draw)}
		if slices.Equal(want, seenClasses(t, other, lines)) {
			same++
		}
	}
	t.Logf("%d of 12 draws show the same", same)
	require.Positive(t, same)
	b, err := New(context.Background(), cfg, Options{Workers: 2})
	require.NoError(t, err)
	require.True(t, fits(t, b, truth, 0, lines))
}

func seenClasses(t testing.TB, cfg bench.Config, lines []string) []bench.Class {
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	var out []bench.Class
	for _, a := range actions(t, lines...) {
		f, err := l.Do(context.Background(), a)
		require.NoError(t, err)
		out = append(out, f.Classes()...)
	}
	return out
}

// The truth stays where it is a fault that comes later or comes and goes, or several faults at once: every day each of the former and
// some of the latter in one play, in the long campaign all of them in several.
func TestLateAndJoinedTruthsNeverLeave(t *testing.T) {
	cfg := config(t, "quiet_pump")
	var ids []string
	for _, f := range cfg.Car.Faults {
		if slices.ContainsFunc(f.Changes, func(ch car.Change) bool { return ch.Onset.When != "" && ch.Onset.When != "start" }) {
			ids = append(ids, f.ID)
		}
	}
	require.GreaterOrEqual(t, len(ids), 3)
	long := os.Getenv("COLDBAY_PROVE") != ""
	for k, s := range cfg.Car.Sets {
		if long || k%6 == 0 {
			ids = append(ids, s.ID)
		}
	}
	cfg = board(t, ids...)
	plays := 1
	if long {
		plays = 8
	}
	base, err := New(context.Background(), cfg, Options{Workers: 2, OffGrid: true})
	require.NoError(t, err)
	for i, s := range base.Suspects() {
		severity := 1.0
		if !s.Fixed {
			severity = within(base.worlds[i], 0.62)
		}
		for k := range plays {
			truth := cfg
			truth.Truth = &bench.Truth{Fault: s.ID, Severity: severity, Draw: cfg.Order.Truth.Draw}
			mixed(t, base.Clone(), truth, i, uint64(k))
		}
	}
}
