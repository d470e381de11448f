package art

import "coldbay/scenes/paint"

// paintEngineDual is a small inline four across the car with two camshafts under one ribbed cover: exhaust manifold behind it, moulded
// intake manifold in front, belt side at the right, gearbox at the left.
func (k *Kit) paintEngineDual(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.02, 0.14, 0.94, 0.82), 40, 26)
	// Gearbox with its mount.
	rodV(l, Sub(r, -0.06, 0.34, 0.15, 0.44), 26, dull)
	rodV(l, Sub(r, -0.10, 0.42, 0.07, 0.26), 14, dull)
	l.BoxGrad(Sub(r, -0.08, 0.30, 0.16, 0.06), 8, plasHi, plasLo)
	bolt(l, r.X-r.W*0.05, r.Y+r.H*0.33, 8)
	bolt(l, r.X+r.W*0.05, r.Y+r.H*0.33, 8)
	// Exhaust manifold: four cast branches into one.
	for i := range 4 {
		x := 0.14 + 0.185*float64(i)
		pipe(l, []paint.Pt{Pt(r, x+0.05, 0.27), Pt(r, x+0.05, 0.16), Pt(r, x*0.62+0.22, 0.07), Pt(r, 0.46, 0.03)}, r.W*0.062, rusty)
		l.BoxGrad(Sub(r, x, 0.235, 0.10, 0.045), 6, rust, rustLo)
		bolt(l, r.X+r.W*(x+0.008), r.Y+r.H*0.258, 6)
		bolt(l, r.X+r.W*(x+0.092), r.Y+r.H*0.258, 6)
	}
	rodV(l, Sub(r, 0.40, -0.02, 0.13, 0.09), 10, rusty)
	// Block below the head, seen between the runners.
	block(l, Sub(r, 0.06, 0.50, 0.86, 0.42), 18, alloyLo, paint.RGB(0x3c474b), plasLo)
	rodH(l, Sub(r, 0.10, 0.885, 0.76, 0.10), 14, dull)
	for i := range 7 {
		l.Box(Sub(r, 0.10+0.115*float64(i), 0.56, 0.012, 0.32), 3, paint.Fade(paint.Black, 0.28))
	}
	// Ribbed cover: two long humps for the camshafts, plugs between them.
	l.Box(Sub(r, 0.055, 0.262, 0.87, 0.27), 26, paint.RGB(0x2c3336))
	l.BoxGrad(Sub(r, 0.058, 0.265, 0.864, 0.255), 25, alloy, alloyLo)
	for _, y := range []float64{0.275, 0.425} {
		rodH(l, Sub(r, 0.075, y, 0.83, 0.085), 18, bright)
		gill(l, Sub(r, 0.13, y+0.018, 0.62, 0.044), 26, 0.22, paint.Fade(alloyLo, 0.7))
	}
	l.BoxGrad(Sub(r, 0.10, 0.365, 0.74, 0.055), 10, paint.RGB(0x2a3134), paint.RGB(0x20272a))
	for i := range 4 {
		x := 0.13 + 0.185*float64(i)
		l.BoxGrad(Sub(r, x, 0.350, 0.085, 0.075), 9, moulded.hi, plasLo)
		l.BoxGrad(Sub(r, x+0.02, 0.362, 0.045, 0.05), 6, paint.RGB(0x6a777d), plasHi)
		l.Box(Sub(r, x+0.075, 0.378, 0.026, 0.02), 3, paint.RGB(0x7a3a2e))
	}
	for i := range 6 {
		x := r.X + r.W*(0.075+0.166*float64(i))
		bolt(l, x, r.Y+r.H*0.270, 5.5)
		bolt(l, x, r.Y+r.H*0.517, 5.5)
	}
	// Oil filler.
	dome(l, Pt(r, 0.845, 0.392), 25, moulded)
	l.Box(paint.Rect{X: r.X + r.W*0.845 - 18, Y: r.Y + r.H*0.392 - 5, W: 36, H: 10}, 4, plasLo)
	// Intake: runners bow out of the head into the plenum in front.
	for i := range 4 {
		x := 0.105 + 0.195*float64(i)
		l.Box(Sub(r, x+0.018, 0.56, 0.115, 0.36), 22, paint.Fade(paint.Black, 0.35))
		rodV(l, Sub(r, x, 0.545, 0.115, 0.32), 24, moulded)
		l.BoxGrad(Sub(r, x-0.012, 0.530, 0.14, 0.045), 8, plasHi, plasLo)
		bolt(l, r.X+r.W*(x+0.004), r.Y+r.H*0.552, 5.5)
		bolt(l, r.X+r.W*(x+0.111), r.Y+r.H*0.552, 5.5)
		// Injector in its seat with a coloured plug.
		l.BoxGrad(Sub(r, x+0.138, 0.565, 0.036, 0.075), 5, paint.RGB(0x3e4a86), paint.RGB(0x252c52))
		l.BoxGrad(Sub(r, x+0.143, 0.63, 0.026, 0.05), 4, alloyHi, alloyLo)
	}
	pipe(l, []paint.Pt{Pt(r, 0.09, 0.585), Pt(r, 0.5, 0.585), Pt(r, 0.885, 0.585)}, 9, bright)
	drop(l, Sub(r, 0.075, 0.79, 0.80, 0.135), 34, 14)
	rodH(l, Sub(r, 0.07, 0.775, 0.80, 0.145), 34, moulded)
	for i := range 9 {
		l.Box(Sub(r, 0.12+0.08*float64(i), 0.79, 0.010, 0.115), 3, paint.Fade(paint.Black, 0.25))
		l.Box(Sub(r, 0.13+0.08*float64(i), 0.79, 0.005, 0.10), 2, paint.Fade(paint.White, 0.10))
	}
	gloss(l, Sub(r, 0.11, 0.795, 0.66, 0.014))
	// Throttle at the plenum's right end.
	rodV(l, Sub(r, 0.855, 0.770, 0.085, 0.155), 12, bright)
	rodV(l, Sub(r, 0.925, 0.785, 0.03, 0.125), 6, dull)
	// Cover of the timing belt at the right.
	l.BoxGrad(Sub(r, 0.905, 0.255, 0.085, 0.50), 22, moulded.hi, plasLo)
	l.BoxGrad(Sub(r, 0.913, 0.27, 0.069, 0.46), 18, plasHi, plastic)
	for _, y := range []float64{0.30, 0.45, 0.60, 0.715} {
		bolt(l, r.X+r.W*0.948, r.Y+r.H*y, 5)
	}
	// Dipstick and lifting eye.
	l.Ring(Pt(r, 0.035, 0.545), 9, 4, paint.RGB(0xd8c23a))
	l.Ring(Pt(r, 0.045, 0.245), 10, 5, alloyHi)
}

// paintAirboxFlat is a flat filter housing with a round cover over the element, its spigot for the air pump at the left below.
func (k *Kit) paintAirboxFlat(l *paint.List, r paint.Rect) {
	drop(l, r, 28, 16)
	l.BoxGrad(Sub(r, -0.09, 0.70, 0.16, 0.16), 6, plasHi, plasLo)
	l.Box(Sub(r, -0.10, 0.68, 0.035, 0.20), 4, plasLo)
	block(l, r, 28, moulded.hi, plastic, rubber)
	l.Box(Sub(r, 0.02, 0.60, 0.96, 0.02), 2, rubber)
	l.Box(Sub(r, 0.02, 0.62, 0.96, 0.012), 2, paint.Fade(paint.White, 0.10))
	c := Pt(r, 0.54, 0.36)
	rad := r.H * 0.30
	dome(l, c, rad, moulded)
	for i := range 3 {
		l.Ring(c, rad*(0.72-0.2*float64(i)), 2, paint.Fade(paint.Black, 0.35))
	}
	l.Disc(c, rad*0.16, plasLo)
	bolt(l, c.X, c.Y, rad*0.12)
	for _, x := range []float64{0.12, 0.46, 0.80} {
		l.BoxGrad(Sub(r, x, 0.54, 0.06, 0.16), 3, alloyHi, alloyLo)
	}
	tag(l, Sub(r, 0.08, 0.74, 0.24, 0.15), 2)
	gloss(l, Sub(r, 0.08, 0.03, 0.80, 0.02))
}
