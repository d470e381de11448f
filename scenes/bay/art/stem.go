package art

import "coldbay/scenes/paint"

// stemmed are the kinds of valves that have a stem, with where it leaves them below, by shares of their box: how far down, and how wide its plate is.
var stemmed = map[string]struct{ foot, wide float64 }{
	"airvalve":      {0.985, 0.34},
	"airvalve_push": {0.985, 0.34},
	"diverter":      {0.99, 0.30},
}

// stemTravel is how far a stem is seen to go, as a share of its valve's height.
const stemTravel = 0.085

// Stem paints the stem of a valve that lies beside the car, lifted by a share of its way: its plate hangs below the valve and is drawn up to it.
// It tells whether the kind of thing has a stem.
func (k *Kit) Stem(kind string, m *paint.Mesh, r paint.Rect, lift float64) bool {
	s, ok := stemmed[kind]
	if !ok {
		return false
	}
	foot := r.Y + r.H*s.foot
	low := foot + r.H*stemTravel*(1-min(max(lift, 0), 1))
	rod, plate := r.W*0.07, r.W*s.wide
	c := r.Mid().X
	m.Box(paint.Rect{X: c - rod/2 - 1.5, Y: foot - 2, W: rod + 3, H: low - foot + 4}, 2, paint.Fade(paint.Black, 0.85))
	m.BoxGrad(paint.Rect{X: c - rod/2, Y: foot - 1, W: rod, H: low - foot + 2}, 2, alloyHi, alloy)
	m.Box(paint.Rect{X: c - plate/2 - 1.5, Y: low - 0.5, W: plate + 3, H: r.H*0.034 + 3}, 4, paint.Fade(paint.Black, 0.85))
	m.BoxGrad(paint.Rect{X: c - plate/2, Y: low + 1, W: plate, H: r.H * 0.034}, 3, alloyHi, alloyLo)
	return true
}

// HasStem tells whether a kind of thing is a valve with a stem.
func HasStem(kind string) bool { _, ok := stemmed[kind]; return ok }
