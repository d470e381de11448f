package units

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		x, resolution float64
		unit, want    string
	}{
		{12.4567, 0.01, "V", "12.46 V"},
		{12.4567, 0.5, "inHg", "12.5 inHg"},
		{12.4567, 1, "A", "12 A"},
		{1234, 50, "rpm", "1250 rpm"},
		{0.025, 0.05, "V", "0.05 V"},
		{-0.004, 0.01, "V", "0.00 V"},
		{-0.4, 1, "", "0"},
		{-0.006, 0.01, "V", "-0.01 V"},
		{0.3, 0.1, "V", "0.3 V"},
		{99.95, 0.1, "%", "100.0 %"}, // 99.95/0.1 rounds up to 999.5
		{1.20003, 0.0001, "", "1.2000"},
		{0.12345, 0.00025, "", "0.12350"},
		{2.0 / 3, 0, "", "0.666666667"},
		{2.0 / 3, math.NaN(), "", "0.666666667"},
		{math.NaN(), 0.01, "V", "--- V"},
		{math.Inf(1), 0.1, "Ω", "OL Ω"},
		{math.Inf(-1), 0.1, "V", "-OL V"},
		{1e300, 0.001, "", fmt.Sprintf("%.3f", 1e300)},
	}
	for _, test := range tests {
		t.Run(test.want, func(t *testing.T) {
			require.Equal(t, test.want, Format(test.x, test.resolution, test.unit))
		})
	}
	require.Equal(t, "20.0 inHg", InHg.Show(67727.78, 0.1))
	require.Equal(t, 12.5, Round(12.4567, 0.5))
}

// What is shown lies within half a resolution of the value.
func FuzzNumber(f *testing.F) {
	f.Add(12.4567, 0.01)
	f.Add(-1e9, 3.0)
	f.Add(1e-12, 1e-9)
	f.Fuzz(func(t *testing.T, x, resolution float64) {
		s := Number(x, resolution)
		require.NotEmpty(t, s)
		if !(math.Abs(x) < 1e9) || !(resolution > 1e-6 && resolution < 1e6) {
			return
		}
		var back float64
		_, err := fmt.Sscan(s, &back)
		require.NoError(t, err)
		if d := resolution * 1e9; d == math.Round(d) { // a decimal resolution
			require.InDelta(t, x, back, resolution*0.5000001+1e-6)
		}
	})
}
