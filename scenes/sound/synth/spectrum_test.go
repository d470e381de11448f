package synth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"
)

const fftLen = 1 << 15

// spectrum is the power of x by bins of Rate/fftLen Hz, averaged over half-overlapping Hann windows.
func spectrum(x []float64) []float64 {
	f := fourier.NewFFT(fftLen)
	power := make([]float64, fftLen/2+1)
	w := make([]float64, fftLen)
	var c []complex128
	for at := 0; at+fftLen <= len(x); at += fftLen / 2 {
		for i := range w {
			w[i] = x[at+i] * (0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/fftLen))
		}
		c = f.Coefficients(c, w)
		for i, v := range c {
			power[i] += real(v)*real(v) + imag(v)*imag(v)
		}
	}
	return power
}

func bin(hz float64) int    { return int(math.Round(hz * fftLen / Rate)) }
func pitch(bin int) float64 { return float64(bin) * Rate / fftLen }
func loudest(p []float64, from, to float64) (at int) {
	at = bin(from)
	for i := bin(from); i <= bin(to); i++ {
		if p[i] > p[at] {
			at = i
		}
	}
	return at
}

func energy(p []float64, from, to float64) float64 {
	e := 0.0
	for i := bin(from); i <= bin(to); i++ {
		e += p[i]
	}
	return e
}

// spread is the root of the second moment of the power around hz within a semitone and a half to either side, in Hz.
func spread(p []float64, hz float64) float64 {
	e, m := 0.0, 0.0
	for i := bin(hz * 0.92); i <= bin(hz*1.08); i++ {
		d := pitch(i) - hz
		e += p[i]
		m += p[i] * d * d
	}
	return math.Sqrt(m / e)
}

// The whine stands at the number of vanes times the shaft's turns, the commutator at the number of its bars: geometry, whatever the
// loudness.
func TestPumpPitch(t *testing.T) {
	for _, speed := range []float64{640, 1080, 1560} {
		p := spectrum(left(settled(Params{Pump: Pump{Speed: speed, Clear: 1, Path: beside}}, 4)))
		turn := speed / (2 * math.Pi)
		for _, k := range []float64{vanes, bars} {
			at := loudest(p, turn*k*0.95, turn*k*1.05)
			require.InDelta(t, turn*k, pitch(at), 2*float64(Rate)/fftLen, "speed %v", speed)
			require.Greater(t, p[at], 30*energy(p, turn*k*1.02, turn*k*1.06)/float64(bin(turn*k*1.06)-bin(turn*k*1.02)), "stands out")
		}
		require.Equal(t, bin(turn*vanes), loudest(p, 40, 8000), "the whine is the loudest tone")
	}
}

func TestRoughnessWidensTheWhine(t *testing.T) {
	turn := 1080 / (2 * math.Pi)
	last := 0.0
	for _, rough := range []float64{0, 0.45, 1} {
		x := left(settled(Params{Pump: Pump{Speed: 1080, Clear: 1, Rough: rough, Path: beside}}, 4))
		w := spread(spectrum(x), turn*vanes)
		t.Logf("roughness %.2f: spread %.1f Hz", rough, w)
		require.Greater(t, w, last*1.15)
		last = w
	}
}

func TestUnclearPumpHasNoPitch(t *testing.T) {
	p := spectrum(left(settled(Params{Pump: Pump{Speed: 1080, Path: beside}}, 4)))
	hz := 1080 / (2 * math.Pi) * vanes
	around := energy(p, hz*0.9, hz*1.1) / float64(bin(hz*1.1)-bin(hz*0.9))
	require.Less(t, p[loudest(p, hz*0.98, hz*1.02)], 12*around)
}

func TestIdleFiresTwiceATurn(t *testing.T) {
	for _, rpm := range []float64{750, 1500} {
		p := spectrum(left(settled(Params{Engine: Engine{Rpm: rpm, Path: beside}}, 4)))
		fires := rpm / 60 * firingsATurn
		// The cylinders differ, so there are lines at quarters of it too; the strongest near the exhaust's pitch is a multiple.
		at := pitch(loudest(p, 20, 200))
		require.InDelta(t, 0, math.Remainder(at, fires), 2.5, "%v rpm: %v Hz", rpm, at)
		require.Greater(t, energy(p, fires-2, fires+2), 5*energy(p, fires*1.375-2, fires*1.375+2))
	}
}

func TestHuntingWidensTheIdle(t *testing.T) {
	wide := func(hunt float64) float64 {
		p := spectrum(left(settled(Params{Engine: Engine{Rpm: 750, Hunt: hunt, Path: beside}}, 6)))
		return spread(p, 75) // third multiple of 25 Hz
	}
	require.Greater(t, wide(70), 1.5*wide(0))
}

func TestHissIsHighAndGrowsWithFlow(t *testing.T) {
	last := 0.0
	centre := math.Inf(1)
	for _, flow := range []float64{0.18, 0.5, 1} {
		x := left(settled(Params{Hiss: Hiss{Flow: flow, Path: beside}}, 2))
		p := spectrum(x)
		require.Greater(t, energy(p, 1500, 12000), 6*energy(p, 20, 1500))
		c, e := 0.0, 0.0
		for i := range p {
			c += p[i] * pitch(i)
			e += p[i]
		}
		require.Greater(t, rms(x), last*1.2)
		require.Less(t, c/e, centre)
		last, centre = rms(x), c/e
	}
}

func TestCrankingPulses(t *testing.T) {
	s := New(1)
	p := Params{Master: 1, Once: once()}
	s.Publish(p)
	play(s, 0.1)
	p.Once[CrankInVain].Count++
	s.Publish(p)
	play(s, 0.1)
	x := left(play(s, crankVain-0.3))
	// Peaks of the smoothed loudness are compressions.
	var env pole
	k := poleShare(8)
	up, n, low, high := true, 0, 0.0, 0.0
	for i, v := range x {
		e := env.step(v*v, k)
		if i < Rate/5 {
			low, high = e, e
			continue
		}
		switch {
		case up && e > high:
			high = e
		case up && e < high*0.8:
			up, low = false, e
			n++
		case !up && e < low:
			low = e
		case !up && e > low*1.25:
			up, high = true, e
		}
	}
	heard := float64(n) / (float64(len(x))/Rate - 0.2)
	require.InDelta(t, crankPulses*0.87, heard, 1.2)
	play(s, 1)
	require.Zero(t, peak(play(s, 0.2)))
}
