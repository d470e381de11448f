package art

import (
	"math"

	"coldbay/scenes/paint"
)

// paintPump is the electric air pump: motor can on the right, blower housing on the left, inlet and outlet stubs.
func (k *Kit) paintPump(l *paint.List, r paint.Rect) {
	shade(l, Sub(r, 0.02, 0.08, 0.96, 0.84), 50)
	// Stubs.
	l.BoxGrad(Sub(r, -0.03, 0.22, 0.14, 0.19), 6, plasHi, plasLo)
	l.BoxGrad(Sub(r, 0.86, 0.12, 0.17, 0.19), 6, plasHi, plasLo)
	// Motor can.
	l.Box(Sub(r, 0.46, 0.16, 0.44, 0.62), 40, plasLo)
	l.BoxGrad(Sub(r, 0.465, 0.165, 0.43, 0.60), 38, alloyHi, alloyLo)
	for i := range 6 {
		l.Box(Sub(r, 0.56+0.05*float64(i), 0.22, 0.016, 0.48), 4, paint.Fade(paint.Black, 0.22))
	}
	l.BoxGrad(Sub(r, 0.66, 0.10, 0.24, 0.22), 14, plasHi, plastic)
	// Blower housing.
	c := Pt(r, 0.32, 0.50)
	rad := r.H * 0.42
	l.Disc(paint.Pt{X: c.X, Y: c.Y + 4}, rad, plasLo)
	l.Oval(c, rad*0.97, rad*0.97, paint.RGB(0x4b575d), plastic)
	l.Ring(c, rad*0.82, rad*0.05, plasLo)
	l.Ring(c, rad*0.79, rad*0.02, paint.Fade(paint.White, 0.15))
	l.Oval(c, rad*0.36, rad*0.36, plasHi, plasLo)
	for i := range 8 {
		a := float64(i)*math.Pi/4 + 0.2
		l.Line([]paint.Pt{{X: c.X + rad*0.42*math.Cos(a), Y: c.Y + rad*0.42*math.Sin(a)}, {X: c.X + rad*0.72*math.Cos(a), Y: c.Y + rad*0.72*math.Sin(a)}}, rad*0.05, plasHi)
		b := a + math.Pi/8
		bolt(l, c.X+rad*0.89*math.Cos(b), c.Y+rad*0.89*math.Sin(b), rad*0.05)
	}
	// Type plate.
	l.BoxGrad(Sub(r, 0.60, 0.40, 0.20, 0.20), 4, labelled, paint.RGB(0xb9b096))
	for i := range 3 {
		l.Box(Sub(r, 0.62, 0.44+0.045*float64(i), 0.16-0.03*float64(i), 0.016), 1, paint.Fade(paint.RGB(0x3a5a66), 0.6))
	}
	// Pigtail to the plug.
	l.Rope(paint.Curve([]paint.Pt{Pt(r, 0.62, 0.78), Pt(r, 0.58, 0.90), Pt(r, 0.42, 1.0), Pt(r, 0.32, 1.14)}), r.H*0.035, rubber)
}

// paintValve is the air valve: vacuum can above, body with inlet at the left, flange below.
func (k *Kit) paintValve(l *paint.List, r paint.Rect) {
	shade(l, Sub(r, 0.08, 0.10, 0.84, 0.84), 30)
	// Inlet spigot.
	l.BoxGrad(Sub(r, -0.06, 0.67, 0.30, 0.18), 8, alloyHi, alloyLo)
	l.Box(Sub(r, -0.06, 0.655, 0.05, 0.21), 4, alloyLo)
	// Body and flange.
	l.Box(Sub(r, 0.14, 0.48, 0.72, 0.46), 20, plasLo)
	l.BoxGrad(Sub(r, 0.15, 0.483, 0.70, 0.44), 18, alloyHi, alloyLo)
	l.BoxGrad(Sub(r, 0.04, 0.88, 0.92, 0.11), 10, alloy, alloyLo)
	bolt(l, r.X+r.W*0.11, r.Y+r.H*0.935, r.W*0.035)
	bolt(l, r.X+r.W*0.89, r.Y+r.H*0.935, r.W*0.035)
	for i := range 3 {
		l.Box(Sub(r, 0.36+0.14*float64(i), 0.58, 0.04, 0.24), 4, paint.Fade(alloyLo, 0.7))
	}
	// Vacuum can.
	l.Box(Sub(r, 0.10, 0.13, 0.80, 0.40), 26, plasLo)
	l.BoxGrad(Sub(r, 0.11, 0.135, 0.78, 0.19), 22, paint.RGB(0xd0b46a), paint.RGB(0x927538))
	l.BoxGrad(Sub(r, 0.11, 0.33, 0.78, 0.185), 22, paint.RGB(0xa98a45), paint.RGB(0x6a5326))
	l.Box(Sub(r, 0.06, 0.305, 0.88, 0.05), 6, paint.RGB(0x55431f))
	l.Box(Sub(r, 0.17, 0.165, 0.50, 0.025), 4, paint.Fade(paint.White, 0.35))
	// Nipple.
	l.BoxGrad(Sub(r, 0.455, -0.06, 0.09, 0.20), 4, brass, paint.RGB(0x7d6330))
}

// paintReservoir is the vacuum tank with two nipples on top.
func (k *Kit) paintReservoir(l *paint.List, r paint.Rect) {
	for _, x := range []float64{0.275, 0.75} {
		l.BoxGrad(Sub(r, x-0.03, -0.04, 0.06, 0.16), 4, plasHi, plasLo)
	}
	shade(l, Sub(r, 0, 0.08, 1, 0.9), 60)
	l.Box(Sub(r, 0, 0.07, 1, 0.92), r.W*0.22, rubber)
	l.BoxGrad(Sub(r, 0.01, 0.075, 0.98, 0.90), r.W*0.21, paint.RGB(0x57646a), plasLo)
	l.Box(Sub(r, 0.0, 0.49, 1.0, 0.05), 5, rubber)
	l.Box(Sub(r, 0.12, 0.16, 0.07, 0.28), 8, paint.Fade(paint.White, 0.22))
	l.BoxGrad(Sub(r, 0.36, 0.62, 0.32, 0.18), 4, labelled, paint.RGB(0xb9b096))
	l.Box(Sub(r, 0.39, 0.66, 0.2, 0.025), 1, paint.Fade(paint.RGB(0x3a5a66), 0.6))
	l.Box(Sub(r, 0.39, 0.71, 0.24, 0.025), 1, paint.Fade(paint.RGB(0x3a5a66), 0.6))
}

// paintSolenoid is the three-way valve: coil body, two ports on the left, filter cap of the vent on top.
func (k *Kit) paintSolenoid(l *paint.List, r paint.Rect) {
	for _, y := range []float64{0.25, 0.75} {
		l.BoxGrad(Sub(r, -0.06, y-0.05, 0.26, 0.10), 4, plasHi, plasLo)
	}
	shade(l, Sub(r, 0.14, 0.06, 0.86, 0.92), 16)
	block(l, Sub(r, 0.14, 0.10, 0.56, 0.84), 10, plasHi, plastic, plasLo)
	block(l, Sub(r, 0.44, 0.18, 0.56, 0.68), 12, paint.RGB(0x55636a), plasHi, plasLo)
	for i := range 6 {
		l.Box(Sub(r, 0.50+0.08*float64(i), 0.22, 0.02, 0.60), 2, paint.Fade(paint.Black, 0.3))
	}
	// Vent cap with slots.
	l.Box(Sub(r, 0.24, -0.04, 0.26, 0.17), 8, rubber)
	l.BoxGrad(Sub(r, 0.25, -0.035, 0.24, 0.15), 7, labelled, paint.RGB(0x9c9479))
	for i := range 4 {
		l.Box(Sub(r, 0.275+0.052*float64(i), 0.0, 0.022, 0.09), 2, plasLo)
	}
	bolt(l, r.X+r.W*0.24, r.Y+r.H*0.85, r.W*0.045)
}

// paintCheck is the check valve: two shells, the arrow says which way air may go (to the manifold, right).
func (k *Kit) paintCheck(l *paint.List, r paint.Rect) {
	l.BoxGrad(Sub(r, -0.10, 0.36, 0.30, 0.28), 4, plasHi, plasLo)
	l.BoxGrad(Sub(r, 0.80, 0.36, 0.30, 0.28), 4, plasHi, plasLo)
	l.Box(Sub(r, 0.14, 0, 0.72, 1), r.H*0.3, rubber)
	l.BoxGrad(Sub(r, 0.15, 0.02, 0.35, 0.95), r.H*0.28, paint.RGB(0x57646a), plasLo)
	l.BoxGrad(Sub(r, 0.50, 0.02, 0.35, 0.95), r.H*0.28, labelled, paint.RGB(0x9c9479))
	l.Box(Sub(r, 0.47, -0.04, 0.06, 1.08), 2, rubber)
	l.Line([]paint.Pt{Pt(r, 0.30, 0.5), Pt(r, 0.68, 0.5)}, r.H*0.08, paint.Black)
	l.Fill([]paint.Pt{Pt(r, 0.66, 0.30), Pt(r, 0.80, 0.5), Pt(r, 0.66, 0.70)}, paint.Black)
}
