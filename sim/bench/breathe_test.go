package bench_test

import (
	"context"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// A session that breathes lives through the same car as one that doesn't.
func TestBreathing(t *testing.T) {
	cfg := config(t, "cold_whisper", "pump_worn", 0.7)
	plain, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	n := 0
	cfg.Breathe = func() { n++ }
	slow, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	require.Equal(t, plain.World().Hash(), slow.World().Hash())
	require.Greater(t, n, 100)
	ctx := context.Background()
	for _, line := range []string{"extract on", "start", "watch 30", "stop"} {
		a, err := bench.ParseLine(line)
		require.NoError(t, err)
		f, err := plain.Do(ctx, a)
		require.NoError(t, err)
		g, err := slow.Do(ctx, a)
		require.NoError(t, err)
		require.Equal(t, f, g)
	}
	require.Equal(t, plain.World().Hash(), slow.World().Hash())
}
