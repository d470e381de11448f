package exhaust

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// The table of the Nernst equation (testdata/reference/nernst.csv: exact constants; its working formula in print): 0.05 mV up to 1 % of oxygen, 0.1 mV
// beyond, where the table is rounded.
func TestNernst(t *testing.T) {
	f, err := os.Open("../../testdata/reference/nernst.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4)
	at := []float64{0.10, 0.05, 0.01, 1e-10, 1e-15, 1e-20}
	for _, row := range rows[1:] {
		c, err := strconv.ParseFloat(row[0], 64)
		require.NoError(t, err)
		for k, p := range at {
			want, err := strconv.ParseFloat(row[2+k], 64)
			require.NoError(t, err)
			tolerance := 0.05
			if p < 0.01 {
				tolerance = 0.1
			}
			require.InDelta(t, want, 1000*Nernst(c+273.15, p), tolerance, "%g degC, %g atm", c, p)
		}
	}
}

// Rich and lean gas in equilibrium: oxygen of lean gas as in the exhaust table (complete combustion of CH1.85: 0.386 and 0.938 % wet at ratios of
// 1.02 and 1.05), millivolts of rich gas as worked out with the CEA constants (949, 980 at 900 K; 891, 926 at 1000 K).
func TestEquilibriumGas(t *testing.T) {
	require.InDelta(t, 0.00386, EquilibriumOxygen(1.02, 900), 2e-5)
	require.InDelta(t, 0.00938, EquilibriumOxygen(1.05, 900), 2e-5)
	for _, c := range []struct{ lambda, k, mv float64 }{{0.95, 900, 949}, {0.90, 900, 980}, {0.95, 1000, 891}, {0.90, 1000, 926}} {
		require.InDelta(t, c.mv, 1000*Nernst(c.k, EquilibriumOxygen(c.lambda, c.k)), 2, "%g at %g K", c.lambda, c.k)
	}
}

// A real sensor: near 0.8 to 0.95 V rich, below 0.2 V lean, steep between, nothing but the bias when cold (common practice, no source).
func TestNarrowBandSensor(t *testing.T) {
	require.InDelta(t, 0.88, SensorVolts(0.95, 880), 0.08)
	require.InDelta(t, 0.05, SensorVolts(1.05, 880), 0.05)
	require.Greater(t, SensorVolts(0.999, 880), 0.7)
	require.Less(t, SensorVolts(1.001, 880), 0.2)
	require.InDelta(t, 0.45, SensorVolts(0.8, 300), 0.001)
	last := 2.0
	for lambda := 0.7; lambda < 1.5; lambda += 0.0005 {
		v := SensorVolts(lambda, 850)
		require.LessOrEqual(t, v, last+1e-9, "more air never gives more voltage: %g", lambda)
		last = v
	}
}
