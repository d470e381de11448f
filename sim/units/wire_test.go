package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const feetPerKilo = 304.8 // metres in 1000 ft

// Diameters and ohms per 1000 ft at 20 degC as in a university's table of common
// wire gauges (HyperPhysics, resistances from Floyd, Electric Circuit
// Fundamentals); the tolerance is the table's last digit.
func TestGaugeTable(t *testing.T) {
	tests := []struct {
		gauge                         Gauge
		inch, ohm1000ft, milliohmPerM float64
	}{
		{10, 0.10189, 0.9989, 3.277},
		{12, 0.0808, 1.588, 5.210},
		{14, 0.06408, 2.525, 8.284},
		{16, 0.05082, 4.016, 13.18},
		{18, 0.0403, 6.385, 20.95},
		{22, 0.02535, 16.14, 52.95},
	}
	for _, test := range tests {
		t.Run(test.gauge.String(), func(t *testing.T) {
			require.InDelta(t, test.inch, Inch.FromSI(test.gauge.Diameter()), 6e-5)
			ohm := test.gauge.OhmPerMetre(Celsius.ToSI(20))
			require.InEpsilon(t, test.ohm1000ft, ohm*feetPerKilo, 1e-3)
			require.InEpsilon(t, test.milliohmPerM, ohm*1000, 1e-3)
		})
	}
}

// The same from the formula with rho = 0.017241 ohm mm2/m, worked out apart
// from this program, for 10, 12 ... 22 AWG.
func TestGaugeFormula(t *testing.T) {
	want := []float64{0.9988, 1.5882, 2.5254, 4.0155, 6.3849, 10.1524, 16.1429}
	for i, w := range want {
		g := Gauge(10 + 2*i)
		require.InDelta(t, w, g.OhmPerMetre(Celsius.ToSI(20))*feetPerKilo, 6e-5, "%v", g)
	}
}

func TestGauge(t *testing.T) {
	require.Equal(t, "4/0 AWG", Gauge(-3).String())
	require.Equal(t, "0 AWG", Gauge(0).String())
	require.InDelta(t, 0.127e-3, Gauge(36).Diameter(), 1e-18) // ASTM B258's two fixed points
	require.InDelta(t, 0.4600, Inch.FromSI(Gauge(-3).Diameter()), 1e-6)
	// 12 AWG is about 3.3 mm2 (ASTM B258: 3.309, from memory).
	require.InDelta(t, 3.309, Gauge(12).Area()*1e6, 1e-3)
	for _, bad := range []Gauge{-4, 57} {
		require.Error(t, bad.Check())
	}
	require.NoError(t, Gauge(-3).Check())
	require.NoError(t, Gauge(56).Check())
}

// alpha20 = 0.00393 /K from a power-engineering handbook's property table;
// answers worked out from it.
func TestCopperTemperature(t *testing.T) {
	require.InDelta(t, 1.2358, CopperFactor(Celsius.ToSI(80)), 1e-4)
	require.InDelta(t, 105.15, 80*CopperFactor(Celsius.ToSI(100)), 0.01)
	require.InDelta(t, 67.42, 80*CopperFactor(Celsius.ToSI(-20)), 0.01)
	// 4 m of 12 AWG at 25 A.
	require.InDelta(t, 0.521, 25*4*Gauge(12).OhmPerMetre(Celsius.ToSI(20)), 0.001)
	// rho/A for metric sizes, mm2 against mohm/m.
	for area, want := range map[float64]float64{0.5: 34.5, 0.75: 23.0, 1: 17.2, 1.5: 11.5, 2.5: 6.90, 4: 4.31, 6: 2.87} {
		require.InEpsilon(t, want, 1000*CopperResistance(1, area*1e-6, Celsius.ToSI(20)), 3e-3)
	}
}
