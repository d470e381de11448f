package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// US Standard Atmosphere 1976 = ISO 2533. Pressures worked out apart from this
// program from p0(1 - h/44329)^5.255876; "rounded" are psia values of an
// engineering reference site's altitude table.
func TestStandardAtmosphere(t *testing.T) {
	tests := []struct {
		metres, kelvin, pascal, rounded, inHg, density float64
	}{
		{0, 288.150, 101325.0, 101325.3, 29.921, 1.2250},
		{304.8, 286.169, 97716.6, 97733.2, 28.856, 1.1896},
		{609.6, 284.188, 94212.9, 94209.9, 27.821, 1.1549},
		{1000, 281.650, 89874.6, 0, 26.540, 1.1116},
		{1524, 278.244, 84307.3, 84322.9, 24.896, 1.0555},
	}
	for _, test := range tests {
		a, err := StandardAtmosphere(test.metres)
		require.NoError(t, err)
		require.InDelta(t, test.kelvin, a.Temperature, 5.1e-4)
		require.InEpsilon(t, test.pascal, a.Pressure, 1e-4)
		if test.rounded != 0 {
			require.InEpsilon(t, test.rounded, a.Pressure, 5e-4)
		}
		require.InDelta(t, test.inHg, InHg.FromSI(a.Pressure), 0.001)
		require.InEpsilon(t, test.density, a.Density, 1e-4)
	}
}

// "Readings lowered about 1 inch of mercury for every 1000 ft, about 5 inHg less
// at about 5000 ft" (US Army ordnance training text OD1001, lesson 3).
func TestGaugeRule(t *testing.T) {
	sea, err := StandardAtmosphere(0)
	require.NoError(t, err)
	high, err := StandardAtmosphere(Foot.ToSI(5000))
	require.NoError(t, err)
	const manifold = 35000
	change := Vacuum(manifold, sea.Pressure) - Vacuum(manifold, high.Pressure)
	require.InDelta(t, 5.0, InHg.FromSI(change), 0.1)
}

func TestStandardAtmosphereRange(t *testing.T) {
	for _, h := range []float64{-2001, 11001, math.NaN(), math.Inf(1)} {
		_, err := StandardAtmosphere(h)
		require.Error(t, err, "%g", h)
	}
	// Tropopause, 22632 Pa (US Standard Atmosphere 1976, from memory).
	a, err := StandardAtmosphere(11000)
	require.NoError(t, err)
	require.InEpsilon(t, 22632, a.Pressure, 1e-4)
}
