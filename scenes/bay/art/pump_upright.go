package art

import (
	"math"

	"coldbay/scenes/paint"
)

// paintPumpUpright is an electric air pump that stands: motor above, blower housing below, inlet at the right, outlet at the left.
func (k *Kit) paintPumpUpright(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.10, 0.06, 0.80, 0.90), 50, 18)
	// Stubs.
	spigot(l, Sub(r, -0.06, 0.62, 0.24, 0.145), -1, moulded)
	spigot(l, Sub(r, 0.82, 0.49, 0.24, 0.145), 1, moulded)
	// Motor with its cooling slots and band.
	rodV(l, Sub(r, 0.24, 0.03, 0.52, 0.47), r.W*0.13, dull)
	for i := range 7 {
		l.Box(Sub(r, 0.31+0.058*float64(i), 0.09, 0.020, 0.10), 3, paint.Fade(paint.Black, 0.45))
	}
	rodV(l, Sub(r, 0.225, 0.25, 0.55, 0.055), 5, zinc)
	l.BoxGrad(Sub(r, 0.455, 0.235, 0.09, 0.085), 4, zinc.hi, zinc.lo)
	bolt(l, r.X+r.W*0.5, r.Y+r.H*0.277, r.W*0.026)
	rodV(l, Sub(r, 0.34, -0.03, 0.32, 0.075), 8, moulded)
	tag(l, Sub(r, 0.36, 0.335, 0.24, 0.115), 3)
	// Housing: two shells riveted together.
	l.Box(Sub(r, 0.06, 0.47, 0.88, 0.46), r.W*0.2, plasLo)
	l.BoxGrad(Sub(r, 0.068, 0.473, 0.864, 0.44), r.W*0.19, moulded.hi, plasLo)
	l.BoxGrad(Sub(r, 0.12, 0.50, 0.76, 0.17), r.W*0.10, paint.RGB(0x68757b), plasHi)
	l.Box(Sub(r, 0.04, 0.690, 0.92, 0.035), 5, rubber)
	l.Box(Sub(r, 0.04, 0.688, 0.92, 0.010), 4, paint.Fade(paint.White, 0.18))
	for i := range 6 {
		x := 0.10 + 0.16*float64(i)
		l.Disc(Pt(r, x, 0.708), r.W*0.022, alloyLo)
		l.Disc(Pt(r, x-0.003, 0.704), r.W*0.014, alloyHi)
	}
	for i := range 9 {
		a := (18 + 18*float64(i)) * math.Pi / 180
		c := Pt(r, 0.5, 0.72)
		l.Line([]paint.Pt{{X: c.X + r.W*0.20*math.Cos(a), Y: c.Y + r.W*0.10*math.Sin(a)}, {X: c.X + r.W*0.37*math.Cos(a), Y: c.Y + r.W*0.205*math.Sin(a)}}, r.W*0.016, paint.Fade(paint.Black, 0.4))
	}
	gloss(l, Sub(r, 0.18, 0.515, 0.5, 0.014))
	// Rubber feet.
	for _, x := range []float64{0.16, 0.72} {
		rodV(l, Sub(r, x, 0.91, 0.12, 0.08), 5, metal{plasHi, rubber, paint.Black})
	}
	// Pigtail.
	l.Rope(paint.Curve([]paint.Pt{Pt(r, 0.42, 0.92), Pt(r, 0.36, 1.03), Pt(r, 0.30, 1.12), Pt(r, 0.40, 1.17)}), r.W*0.035, rubber)
}

// paintValvePush is the air valve that the pump's pressure opens: a round cap with its spring, inlet at the right, flange below. It has
// no vacuum nipple.
func (k *Kit) paintValvePush(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.10, 0.06, 0.80, 0.90), 40, 16)
	spigot(l, Sub(r, 0.74, 0.63, 0.32, 0.19), 1, bright)
	// Neck and flange.
	rodV(l, Sub(r, 0.26, 0.56, 0.48, 0.36), 10, bright)
	l.BoxGrad(Sub(r, 0.34, 0.60, 0.05, 0.26), 4, paint.Fade(alloyLo, 0.8), paint.Fade(alloyLo, 0.4))
	rodH(l, Sub(r, 0.04, 0.885, 0.92, 0.105), 12, cast)
	bolt(l, r.X+r.W*0.11, r.Y+r.H*0.937, r.W*0.036)
	bolt(l, r.X+r.W*0.89, r.Y+r.H*0.937, r.W*0.036)
	// Heat has coloured the neck.
	l.BoxGrad(Sub(r, 0.27, 0.78, 0.46, 0.105), 2, paint.Fade(paint.RGB(0x6a4a8a), 0), paint.Fade(paint.RGB(0x8a5a30), 0.55))
	// Cap.
	c := Pt(r, 0.5, 0.35)
	rad := r.W * 0.40
	l.Disc(paint.Pt{X: c.X + 3, Y: c.Y + rad*0.09}, rad*1.04, paint.Fade(paint.Black, 0.5))
	dome(l, c, rad*1.02, bright)
	for i := range 6 {
		a := (float64(i) + 0.5) * math.Pi / 3
		bolt(l, c.X+rad*0.90*math.Cos(a), c.Y+rad*0.90*math.Sin(a), rad*0.085)
	}
	l.Ring(c, rad*0.72, rad*0.05, paint.Fade(paint.Black, 0.4))
	dome(l, c, rad*0.62, moulded)
	for i := range 3 {
		l.Ring(c, rad*(0.48-0.13*float64(i)), rad*0.03, paint.Fade(paint.Black, 0.4))
	}
	for i := range 5 {
		a := -math.Pi/2 + float64(i)*2*math.Pi/5
		l.Disc(paint.Pt{X: c.X + rad*0.34*math.Cos(a), Y: c.Y + rad*0.34*math.Sin(a)}, rad*0.055, paint.Black)
	}
	l.Oval(paint.Pt{X: c.X - rad*0.3, Y: c.Y - rad*0.44}, rad*0.20, rad*0.08, paint.Fade(paint.White, 0.5), paint.Fade(paint.White, 0.05))
}

// paintManifoldCast is the exhaust manifold seen close: branches from the head that join at the right below.
func (k *Kit) paintManifoldCast(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.floor, k.deep)
	// Edge of the head with its studs.
	l.BoxGrad(Sub(r, 0, 0.0, 1, 0.16), 0, alloyHi, alloyLo)
	gill(l, Sub(r, 0.02, 0.03, 0.96, 0.08), 24, 0.3, paint.Fade(alloyLo, 0.8))
	l.Box(Sub(r, 0, 0.155, 1, 0.018), 0, paint.Fade(paint.Black, 0.55))
	for i := range 4 {
		x := 0.10 + 0.245*float64(i)
		pipe(l, []paint.Pt{Pt(r, x, 0.10), Pt(r, x, 0.36), Pt(r, x*0.72+0.17, 0.60), Pt(r, 0.60+0.05*float64(i-1), 0.90), Pt(r, 0.66, 1.15)}, 104, rusty)
		rodH(l, Sub(r, x-0.068, 0.115, 0.136, 0.07), 12, rusty)
		bolt(l, r.X+r.W*(x-0.052), r.Y+r.H*0.15, 12)
		bolt(l, r.X+r.W*(x+0.052), r.Y+r.H*0.15, 12)
	}
	// Rail with the boss of the air valve, cast onto the branches.
	rodH(l, Sub(r, 0.06, 0.635, 0.80, 0.105), 30, cast)
	rodH(l, Sub(r, 0.36, 0.645, 0.29, 0.10), 16, cast)
	for i := range 24 {
		l.Disc(Pt(r, 0.08+0.033*float64(i), 0.655+0.05*math.Mod(float64(i)*0.618, 1)), 2.2, paint.Fade(paint.Black, 0.35))
	}
	for i := range 4 {
		l.Oval(Pt(r, 0.452+0.032*float64(i), 0.690), 11, 14, plasLo, rubber)
	}
	bolt(l, r.X+r.W*0.382, r.Y+r.H*0.694, 12)
	bolt(l, r.X+r.W*0.628, r.Y+r.H*0.694, 12)
}
