package art

import "coldbay/scenes/paint"

// paintEngine is the inline four across the car: intake manifold behind, cover in the middle, exhaust heat shield in front,
// belt side at the left.
func (k *Kit) paintEngine(l *paint.List, r paint.Rect) {
	shade(l, Sub(r, 0.02, 0.10, 0.95, 0.88), 30)
	// Gearbox bell at the right.
	l.BoxGrad(Sub(r, 0.86, 0.46, 0.12, 0.42), 24, alloy, alloyLo)
	// Block and sump in front.
	block(l, Sub(r, 0.06, 0.56, 0.84, 0.40), 16, alloy, alloyLo, plasLo)
	for i := range 9 {
		l.Box(Sub(r, 0.10+0.086*float64(i), 0.86, 0.014, 0.09), 3, paint.Fade(paint.Black, 0.25))
	}
	// Intake manifold: plenum and four runners.
	for i := range 4 {
		x := 0.17 + 0.175*float64(i)
		l.BoxGrad(Sub(r, x, 0.10, 0.075, 0.24), 14, alloyHi, alloyLo)
	}
	l.Box(Sub(r, 0.07, 0.01, 0.84, 0.155), 34, alloyLo)
	l.BoxGrad(Sub(r, 0.073, 0.013, 0.834, 0.142), 32, alloyHi, alloy)
	l.Box(Sub(r, 0.12, 0.035, 0.72, 0.018), 4, paint.Fade(paint.White, 0.35))
	for i := range 6 {
		l.Box(Sub(r, 0.20+0.11*float64(i), 0.07, 0.012, 0.07), 3, paint.Fade(alloyLo, 0.6))
	}
	// Throttle body and its duct at the right end.
	l.BoxGrad(Sub(r, 0.90, 0.02, 0.07, 0.13), 10, alloy, alloyLo)
	l.BoxGrad(Sub(r, 0.955, 0.03, 0.06, 0.11), 16, plasHi, plasLo)
	// Nipple for the vacuum line.
	l.BoxGrad(Sub(r, 0.085, 0.09, 0.035, 0.05), 5, brass, paint.RGB(0x7d6330))
	// Cylinder head and cover.
	block(l, Sub(r, 0.08, 0.30, 0.82, 0.32), 14, alloyHi, alloyLo, plasLo)
	l.Box(Sub(r, 0.095, 0.285, 0.79, 0.245), 22, plasLo)
	l.BoxGrad(Sub(r, 0.10, 0.288, 0.78, 0.232), 20, paint.RGB(0x3c4a50), paint.RGB(0x262f33))
	for i := range 4 {
		x := 0.185 + 0.165*float64(i)
		l.BoxGrad(Sub(r, x, 0.345, 0.10, 0.115), 8, plasHi, plasLo)
		l.BoxGrad(Sub(r, x+0.025, 0.36, 0.05, 0.06), 5, paint.RGB(0x55636a), plastic)
		l.Box(Sub(r, x+0.035, 0.435, 0.03, 0.018), 2, labelled)
	}
	l.Disc(Pt(r, 0.835, 0.40), 22, plasLo)
	l.Oval(Pt(r, 0.835, 0.397), 19, 19, paint.RGB(0x6d5a2c), paint.RGB(0x433817))
	l.Box(Sub(r, 0.805, 0.391, 0.06, 0.014), 3, brass)
	for i := range 5 {
		x := r.X + r.W*(0.125+0.18*float64(i))
		bolt(l, x, r.Y+r.H*0.302, 6)
		bolt(l, x, r.Y+r.H*0.508, 6)
	}
	// Heat shield over the exhaust manifold, with its embossing.
	l.Box(Sub(r, 0.12, 0.60, 0.60, 0.21), 26, plasLo)
	l.BoxGrad(Sub(r, 0.123, 0.603, 0.594, 0.20), 24, paint.RGB(0xb3aa98), paint.RGB(0x756a58))
	for i := range 4 {
		l.BoxGrad(Sub(r, 0.16+0.135*float64(i), 0.635, 0.10, 0.125), 18, paint.RGB(0x968b77), paint.RGB(0xa89d88))
	}
	for _, x := range []float64{0.145, 0.42, 0.695} {
		bolt(l, r.X+r.W*x, r.Y+r.H*0.622, 6)
	}
	// Pipe down to the catalyst.
	l.BoxGrad(Sub(r, 0.58, 0.79, 0.10, 0.19), 16, rust, rustLo)
	// Belt drive.
	l.Box(Sub(r, 0.0, 0.34, 0.085, 0.56), 18, plasLo)
	l.BoxGrad(Sub(r, 0.006, 0.345, 0.073, 0.55), 16, plasHi, plastic)
	for _, y := range []float64{0.45, 0.62, 0.80} {
		c := Pt(r, 0.042, y)
		l.Disc(c, 18, alloyLo)
		l.Disc(c, 13, plasLo)
		l.Disc(c, 5, alloyHi)
	}
	// Dipstick and lifting eye.
	l.Ring(Pt(r, 0.50, 0.565), 9, 4, brass)
	l.Ring(Pt(r, 0.93, 0.33), 10, 5, alloyHi)
}

// paintAirbox is the filter housing with its clips and its snorkel.
func (k *Kit) paintAirbox(l *paint.List, r paint.Rect) {
	shade(l, r, 18)
	block(l, r, 16, plasHi, plastic, plasLo)
	l.BoxGrad(Sub(r, 0.04, 0.06, 0.92, 0.40), 10, paint.RGB(0x4b575d), plasHi)
	for i := range 6 {
		l.Box(Sub(r, 0.10+0.135*float64(i), 0.11, 0.05, 0.30), 4, paint.Fade(paint.Black, 0.25))
	}
	l.Box(Sub(r, 0, 0.49, 1, 0.03), 0, rubber)
	for _, x := range []float64{0.14, 0.5, 0.82} {
		l.BoxGrad(Sub(r, x, 0.43, 0.06, 0.17), 3, alloyHi, alloyLo)
	}
	// Spigot for the air pump's inlet hose.
	l.BoxGrad(Sub(r, 0.93, 0.54, 0.10, 0.19), 5, plasHi, plasLo)
	l.Box(Sub(r, 1.01, 0.53, 0.025, 0.21), 3, plasLo)
}

// paintBattery is the starter battery with posts, cells and handle.
func (k *Kit) paintBattery(l *paint.List, r paint.Rect) {
	shade(l, r, 10)
	block(l, r, 8, paint.RGB(0x39434a), plasLo, rubber)
	top := Sub(r, 0.015, 0.02, 0.97, 0.36)
	l.BoxGrad(top, 6, paint.RGB(0x59656c), plasHi)
	for i := range 6 {
		l.Disc(Pt(r, 0.12+0.152*float64(i), 0.285), r.H*0.032, plasLo)
		l.Disc(Pt(r, 0.12+0.152*float64(i), 0.278), r.H*0.026, plasHi)
	}
	post := func(x float64, ring paint.Ink) {
		c := Pt(r, x, 0.09)
		l.Disc(c, r.H*0.085, ring)
		l.Disc(c, r.H*0.062, alloyLo)
		l.Oval(paint.Pt{X: c.X, Y: c.Y - r.H*0.012}, r.H*0.05, r.H*0.05, alloyHi, alloy)
		l.Box(paint.Rect{X: c.X - r.H*0.10, Y: c.Y + r.H*0.04, W: r.H * 0.2, H: r.H * 0.055}, 4, alloy)
	}
	post(0.214, paint.RGB(0xa63a2a))
	post(0.786, rubber)
	// Signs as shapes.
	ink := labelled
	c := Pt(r, 0.35, 0.13)
	l.Box(paint.Rect{X: c.X - r.H*.05, Y: c.Y - r.H*.011, W: r.H * .1, H: r.H * .022}, 0, ink)
	l.Box(paint.Rect{X: c.X - r.H*.011, Y: c.Y - r.H*.05, W: r.H * .022, H: r.H * .1}, 0, ink)
	c = Pt(r, 0.65, 0.13)
	l.Box(paint.Rect{X: c.X - r.H*.05, Y: c.Y - r.H*.011, W: r.H * .1, H: r.H * .022}, 0, ink)
	// Label on the front.
	l.BoxGrad(Sub(r, 0.10, 0.50, 0.80, 0.36), 5, labelled, paint.RGB(0xb9b096))
	l.Box(Sub(r, 0.13, 0.56, 0.40, 0.06), 2, paint.RGB(0x3a5a66))
	for i := range 3 {
		l.Box(Sub(r, 0.13, 0.67+0.055*float64(i), 0.50-0.08*float64(i), 0.022), 1, paint.Fade(paint.RGB(0x3a5a66), 0.5))
	}
	l.Fill([]paint.Pt{Pt(r, 0.79, 0.56), Pt(r, 0.86, 0.78), Pt(r, 0.72, 0.78)}, paint.Orange)
	l.Box(Sub(r, 0.785, 0.63, 0.010, 0.08), 1, paint.Black)
	l.Disc(Pt(r, 0.79, 0.745), r.H*0.012, paint.Black)
}
