package circuit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Rest voltages at 80 degF by a battery state-of-charge sheet, table credited to BCI.
func TestRestVoltage(t *testing.T) {
	for charge, want := range map[float64]float64{1: 12.65, 0.75: 12.45, 0.5: 12.24, 0.25: 12.06} {
		require.InDelta(t, want, restVolts(12.65, charge), 0.005, "%g", charge)
	}
	before := 0.0
	for i := range 101 {
		v := restVolts(12.65, float64(i)/100)
		require.True(t, i == 0 && v == 0 || v > before, "rising with charge")
		before = v
	}
}

// A battery with nothing in it feeds nothing: what is taken out in all is what was in it.
func TestEmptyBattery(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.65, 0.006), res("load", "b", "0", 1))
	r.par[r.at["bat.capacity_ah"]] = 1
	r.in.Dt = 1
	taken := 0.0
	e, _ := r.n.Elem("load")
	for range 3 * 3600 {
		require.NoError(t, r.step())
		taken += r.n.Amps(&r.s, e) * r.in.Dt / 3600
	}
	require.InDelta(t, 1, taken, 0.01, "Ah")
	require.Less(t, r.v(t, "b"), 0.1)
}
