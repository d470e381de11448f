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
		st, err := b.See(ctx, f)
		require.NoError(t, err, a)
		t.Logf("%3d %-10s %-22s %6.1f s  left %d of %d", f.Seq, a.Verb, a.On+" "+a.Mode, f.Seconds, st.After.Count(), st.Before.Count())
		for _, p := range f.Percepts {
			t.Logf("      %+v", p)
		}
		for _, s := range st.Strikes {
			t.Logf("      out: %s (at %.2f) seen %v, predicted %v %s", b.suspects[s.Suspect].ID, s.Severity, s.Seen, s.Predicted, s.Refused)
		}
	}
	return b
}

func TestVacuumLineIsFound(t *testing.T) {
	cfg := config(t, "cold_whisper")
	b := play(t, cfg, Options{Workers: 2},
		bench.Action{Verb: bench.ScanOn},
		bench.Action{Verb: bench.Key, Mode: "on"},
		bench.Action{Verb: bench.Codes, Mode: "stored"},
		bench.Action{Verb: bench.Look, On: "valve"},
		bench.Action{Verb: bench.Actuator, Mode: "both"},
		bench.Action{Verb: bench.Listen, On: "pump"},
		bench.Action{Verb: bench.Feel, On: "tailpipe"},
		bench.Action{Verb: bench.Actuator, Mode: "off"},
		bench.Action{Verb: bench.Key, Mode: "off"},
		bench.Action{Verb: bench.Pull, On: "line_valve.b"},
		bench.Action{Verb: bench.HandPump, On: "line_valve.b"},
		bench.Action{Verb: bench.Stroke, N: 6},
		bench.Action{Verb: bench.HoldVac, N: 10},
	)
	for i, s := range b.Suspects() {
		t.Log(s.ID, b.Fits(i))
	}
}
