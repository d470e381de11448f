package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A display of 1999 counts: two hundred and up go to the next range.
func TestDigits(t *testing.T) {
	volts := []float64{0.2, 2, 20, 200}
	for _, c := range []struct{ in, want float64 }{
		{0.19994, 0.1999}, {0.2, 0.2}, {1.9994, 1.999}, {12.6543, 12.65}, {-12.6543, -12.65}, {0.00004, 0}, {-0.00004, 0}, {143.27, 143.3},
	} {
		require.Equal(t, c.want, digits(c.in, volts), "%g", c.in)
	}
	require.False(t, math.Signbit(digits(-0.00004, volts)), "no negative zero")
	require.Zero(t, round(math.NaN(), 10))
	require.Equal(t, 29.9, digits(29.94, []float64{200, 2000}))
}

// The needle lags by its play either way.
func TestGaugePlay(t *testing.T) {
	var h handState
	h.follow(50_000)
	require.Equal(t, 49_500.0, h.gauge)
	h.follow(49_800)
	require.Equal(t, 49_500.0, h.gauge, "within the play nothing moves")
	h.follow(40_000)
	require.Equal(t, 40_500.0, h.gauge)
	require.Equal(t, 41.0, h.kPa())
	h.follow(-3000)
	require.Zero(t, h.kPa(), "a vacuum gauge has no other side")
}

func TestRingIsTheMeanOfTheLastThree(t *testing.T) {
	var r ring
	require.Zero(t, r.mean())
	for i, want := range []float64{3, 4.5, 4, 6} {
		r.push([]float64{3, 6, 3, 9}[i])
		require.InDelta(t, want, r.mean(), 1e-12)
	}
}

// Seconds come from tenths without stray digits, and go back to the same tenths.
func TestTicks(t *testing.T) {
	for n := range 20000 {
		require.Equal(t, n, ticksOf(secs(n)))
	}
	require.Equal(t, 2, ticksOf(0.11))
	require.Equal(t, 12.3, secs(123))
}

// Every grade ends in a word for all values beyond, and steps upwards.
func TestGradesAreComplete(t *testing.T) {
	for _, g := range [][]grade{tailpipeWords, openingWords, hissWords, pumpWords, dragWords, heatWords, breathWords, breathOutWords, lampWords, coolantWords} {
		require.True(t, math.IsInf(g[len(g)-1].below, 1))
		for i := 1; i < len(g); i++ {
			require.Greater(t, g[i].below, g[i-1].below)
			require.NotEqual(t, g[i].word, g[i-1].word)
		}
		require.Equal(t, g[0].word, graded(-1, g))
	}
}

// Instruments of one order are off by less than their class, differ from each other, and are the same every time.
func TestCalibration(t *testing.T) {
	seen := map[float64]bool{}
	for draw := range uint64(50) {
		l := &Local{cfg: &Config{Order: &Order{Truth: Truth{Draw: draw}}}}
		for i := range uint64(3) {
			v := l.calibration(i)
			require.LessOrEqual(t, math.Abs(v), 1.0)
			require.Equal(t, v, l.calibration(i))
			seen[v] = true
		}
	}
	require.Greater(t, len(seen), 140)
}
