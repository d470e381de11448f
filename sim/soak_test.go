package sim

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Soaking is the same as waiting: what creeps and cools ends where ticks would have brought it, whatever the strides.
func TestSoakIsWaiting(t *testing.T) {
	for _, hours := range []float64{0.05, 0.5, 3, 14} {
		w := parked(t)
		w.Step(50)
		long := w.Clone()
		long.Soak(hours)
		w.Step(50)
		w.Step(int(hours * 36000))
		require.InDelta(t, w.Time(), long.Time(), 0.11)
		require.NoError(t, long.Err())
		for _, id := range []string{"reservoir", "chamber", "line_check", "manifold"} {
			require.InDelta(t, vac(t, w, id), vac(t, long, id), 300, "%s after %g h", id, hours)
		}
		require.InDelta(t, w.MotorK("pump_motor"), long.MotorK("pump_motor"), 1, "winding after %g h", hours)
		require.InDelta(t, w.CoolantK(), long.CoolantK(), 1, "coolant after %g h", hours)
		require.InDelta(t, w.ExhaustPartK(), long.ExhaustPartK(), 1, "manifold after %g h", hours)
	}
}
