package belief

import (
	"context"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

func config(t testing.TB, order string) bench.Config {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load(order)
	require.NoError(t, err)
	return lib.Config(o, "test")
}

// play does actions on the true car and shows them to a belief.
func play(t testing.TB, cfg bench.Config, opts Options, actions ...bench.Action) *Belief {
	t.Helper()
	ctx := context.Background()
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	b, err := New(ctx, cfg, opts)
	require.NoError(t, err)
	for _, a := range actions {
		f, err := l.Do(ctx, a)
		require.NoError(t, err, a)
		_, err = b.See(ctx, f)
		require.NoError(t, err, a)
	}
	return b
}

// The trade's way to a split line: look, actuate, listen, hand vacuum. Only what leaks on the valve's side of the solenoid is left.
func TestVacuumLineIsFound(t *testing.T) {
	b := play(t, config(t, "cold_whisper"), Options{Workers: 2}, actions(t, "scan on", "key on", "codes stored", "look valve", "actuator both", "listen pump",
		"feel tailpipe", "actuator off", "key off", "pull line_valve.b", "handpump line_valve.b", "stroke 6", "holdvac 10")...)
	var left []string
	for i, s := range b.Suspects() {
		if b.Fits(i) {
			left = append(left, s.ID)
		}
	}
	require.ElementsMatch(t, []string{"valve_line_split", "diaphragm_torn"}, left)
}
