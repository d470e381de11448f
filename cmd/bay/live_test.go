package main

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// The belief that follows an attempt in the background is the one that a replay of the closed attempt gives.
func TestFollowerAgreesWithReplay(t *testing.T) {
	ctx := context.Background()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	cfg := lib.Config(o, "test")
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	do := func(s bench.Session, lines ...string) {
		for _, line := range lines {
			a, err := bench.ParseLine(line)
			require.NoError(t, err)
			_, err = s.Do(ctx, a)
			require.NoError(t, err, line)
		}
	}
	do(l, "look pump")
	orders := orders{lib: lib}
	f := follow(cfg, orders.belief(o), l.Ledger())
	defer f.stop()
	s := followed{Local: l, f: f}
	do(s, "remove relay", "jump rly_30 rly_87 12awg 30A", "listen pump")
	var told []int
	first := f.belief(ctx, func(done, of int) {
		require.True(t, of == 0 && len(told) == 0 || of == 4, "%d of %d", done, of)
		if of > 0 {
			told = append(told, done)
		}
	})
	require.NotNil(t, first)
	require.Len(t, first.Steps(), 4)
	require.True(t, slices.IsSorted(told), "%v", told)
	do(s, "unjump rly_30 rly_87", "refit relay", "note slow", "finish pump_ground_corroded")
	got := f.belief(ctx, func(int, int) {})
	require.NotNil(t, got)
	want, err := orders.belief(o)(ctx, cfg)
	require.NoError(t, err)
	for _, x := range l.Ledger() {
		_, err := want.See(ctx, x)
		require.NoError(t, err)
	}
	require.Equal(t, want.Steps(), got.Steps())
	require.Equal(t, want.Left(), got.Left())
}
