package cutaway

import (
	"math"

	"coldbay/scenes/paint"
	inside "coldbay/sim/cutaway"
)

// The cutaway's own tones; the accents are the palette's.
var (
	ground   = paint.RGB(0x0a171c) // behind a picture
	hollow   = paint.RGB(0x10252c) // an empty hose
	casing   = paint.RGB(0x29505b)
	metal    = paint.RGB(0x3f6a75)
	edge     = paint.RGB(0x8fb0b4)
	exhausts = paint.RGB(0x4a4038)
	soot     = paint.RGB(0x020304)
)

// Full scales of what is shown by colour.
const (
	fullVacuum  = 55e3 // Pa
	fullGauge   = 15e3 // Pa
	fullPipe    = 20e3 // Pa, of the needle of a pipe's pressure sensor
	fullVolts   = 14.0
	coldMetal   = 293.0 // K
	glowing     = 800.0 // K
	hairFlow    = 4e-7  // kg/s, below which nothing is drawn as moving
	hairCurrent = 0.02  // A
)

// fill is the colour of what is in a way.
func fill(w *inside.Way, f *inside.Film, at float64) paint.Ink {
	v, ok := f.Shade(*w, at)
	switch w.Medium {
	case inside.Vacuum:
		return vacuumInk(v)
	case inside.Air:
		if !ok {
			return hollow
		}
		if v < 0 {
			return vacuumInk(-v)
		}
		return paint.Blend(hollow, paint.Green, share(v/fullGauge)*0.9)
	case inside.Gas:
		return exhausts
	}
	return paint.Blend(paint.RGB(0x4d4238), paint.Orange, share(v/fullVolts))
}

func vacuumInk(pa float64) paint.Ink { return paint.Blend(hollow, paint.Sky, share(pa/fullVacuum)) }

func share(x float64) float64 { return math.Min(1, math.Max(0, x)) }

// heatInk runs from cold metal over dull red to nearly white.
func heatInk(k float64) paint.Ink {
	x := share((k - coldMetal) / (glowing - coldMetal))
	stops := []paint.Ink{paint.RGB(0x3d4f55), paint.RGB(0x6e3b2a), paint.RGB(0xc24a16), paint.RGB(0xf08c1e), paint.RGB(0xffd97a)}
	at := x * float64(len(stops)-1)
	i := min(int(at), len(stops)-2)
	return paint.Blend(stops[i], stops[i+1], at-float64(i))
}

// marks is the colour of the marks that travel along a way.
func marks(m inside.Medium) paint.Ink {
	switch m {
	case inside.Vacuum, inside.Air:
		return paint.Chalk
	case inside.Gas:
		return paint.RGB(0xffb37a)
	}
	return paint.Yellow
}

// speed is how fast marks travel, in units of the screen a second: in proportion to kg/s, the same for all gases, but a hundred times as
// fast in the thin vacuum lines; and to amperes.
func speed(m inside.Medium, flow float64) float64 {
	k := 12e3
	switch m {
	case inside.Vacuum:
		k = 6e5
	case inside.Current:
		k = 4
	case inside.Signal:
		k = 240
	}
	return math.Max(-fastest, math.Min(fastest, k*flow))
}

const fastest = 260.0

// faint tells whether so little moves that nothing is drawn.
func faint(m inside.Medium, flow float64) bool {
	if m == inside.Current || m == inside.Signal {
		return math.Abs(flow) < hairCurrent
	}
	return math.Abs(flow) < hairFlow
}

// bore is how wide a way is drawn, in field units.
func bore(m inside.Medium) float64 {
	switch m {
	case inside.Vacuum:
		return 9
	case inside.Air:
		return 20
	case inside.Gas:
		return 26
	case inside.Current:
		return 5
	}
	return 3
}
