package art

import "coldbay/scenes/paint"

// windscreen is the upper edge of a cabin's picture: sky, pillars, the raised bonnet outside.
func (k *Kit) windscreen(l *paint.List, r paint.Rect, low float64) {
	l.BoxGrad(r, 0, paint.RGB(0x9fb4b8), paint.RGB(0x5f7a80))
	l.PolyGrad([]paint.Pt{Pt(r, 0.08, 0), Pt(r, 0.92, 0), Pt(r, 0.985, low), Pt(r, 0.015, low)}, k.sheetHi, k.sheet)
	l.Line([]paint.Pt{Pt(r, 0.20, 0), Pt(r, 0.15, low)}, 5, paint.Fade(paint.Black, 0.16))
	l.Line([]paint.Pt{Pt(r, 0.80, 0), Pt(r, 0.85, low)}, 5, paint.Fade(paint.Black, 0.16))
	l.Fill([]paint.Pt{Pt(r, 0.30, 0), Pt(r, 0.42, 0), Pt(r, 0.33, low), Pt(r, 0.20, low)}, paint.Fade(paint.White, 0.08))
}

// socket is the scan tool's socket below a dash.
func socket(l *paint.List, r paint.Rect) {
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0), Pt(r, 1, 0), Pt(r, 0.9, 1), Pt(r, 0.1, 1)}, labelled, paint.RGB(0x9c9479))
	for row := range 2 {
		for i := range 8 {
			l.Box(Sub(r, 0.15+0.095*float64(i), 0.18+0.34*float64(row), 0.05, 0.18), 1, plasLo)
		}
	}
}

// lock is the key's switch.
func lock(l *paint.List, c paint.Pt) {
	l.Disc(paint.Pt{X: c.X + 2, Y: c.Y + 4}, 47, paint.Fade(paint.Black, 0.5))
	l.Disc(c, 45, rubber)
	l.Oval(c, 40, 40, alloy, alloyLo)
	l.Oval(c, 34, 34, alloyHi, alloy)
}

// vent is an air outlet with its lamellae.
func vent(l *paint.List, r paint.Rect, n int) {
	l.Box(r, 8, rubber)
	for i := range n {
		h := r.H / float64(n)
		l.BoxGrad(paint.Rect{X: r.X + 6, Y: r.Y + h*(float64(i)+0.25), W: r.W - 12, H: h * 0.42}, 2, plasHi, plasLo)
	}
}

// paintCabinPods is a dash with two round instruments in pods of their own.
func (k *Kit) paintCabinPods(l *paint.List, r paint.Rect) {
	k.windscreen(l, r, 0.25)
	l.PolyGrad(paint.Curve([]paint.Pt{Pt(r, 0, 0.22), Pt(r, 0.15, 0.20), Pt(r, 0.40, 0.165), Pt(r, 0.66, 0.20), Pt(r, 1, 0.24), Pt(r, 1, 1), Pt(r, 0, 1)}), paint.RGB(0x454845), paint.RGB(0x1c1e1d))
	l.BoxGrad(Sub(r, 0.0, 0.60, 1, 0.022), 0, k.sheetHi, k.sheet)
	for _, x := range []float64{0.29, 0.515} {
		c := Pt(r, x, 0.43)
		l.Disc(paint.Pt{X: c.X + 3, Y: c.Y + 8}, r.H*0.178, paint.Fade(paint.Black, 0.45))
		l.Disc(c, r.H*0.172, rubber)
		l.Oval(c, r.H*0.164, r.H*0.164, plasHi, plasLo)
		l.Arc(c, r.H*0.160, 200, 340, 4, paint.Fade(paint.White, 0.30))
	}
	l.BoxGrad(Sub(r, 0.362, 0.465, 0.085, 0.13), 10, paint.RGB(0x10171a), paint.RGB(0x182126))
	vent(l, Sub(r, 0.68, 0.30, 0.105, 0.15), 5)
	vent(l, Sub(r, 0.80, 0.30, 0.105, 0.15), 5)
	block(l, Sub(r, 0.74, 0.50, 0.20, 0.085), 6, plasHi, plastic, rubber)
	for i := range 3 {
		c := Pt(r, 0.775+0.065*float64(i), 0.70)
		dome(l, c, 28, moulded)
		l.Line([]paint.Pt{c, {X: c.X, Y: c.Y - 22}}, 4, labelled)
	}
	vent(l, Sub(r, 0.03, 0.30, 0.10, 0.15), 5)
	socket(l, Sub(r, 0.06, 0.80, 0.12, 0.10))
	lock(l, Pt(r, 0.665, 0.70))
	// Three-spoke wheel.
	w := Pt(r, 0.40, 1.05)
	for _, x := range []float64{-250, 250} {
		l.Rope([]paint.Pt{w, {X: w.X + x, Y: w.Y - 90}}, 44, plasLo)
	}
	l.Arc(w, r.H*0.44, 180, 360, 34, rubber)
	l.Arc(w, r.H*0.44, 182, 358, 24, plasHi)
	l.Arc(w, r.H*0.452, 200, 300, 4, paint.Fade(paint.White, 0.22))
	l.Oval(w, 128, 112, moulded.hi, plasLo)
}

// paintTailHatch is the rear of a small car with a tall tailgate.
func (k *Kit) paintTailHatch(l *paint.List, r paint.Rect) {
	ground(l, r, k)
	for _, x := range []float64{0.17, 0.73} {
		l.BoxGrad(Sub(r, x, 0.58, 0.10, 0.28), 28, rubber, paint.Black)
	}
	l.PolyGrad([]paint.Pt{Pt(r, 0.25, -0.02), Pt(r, 0.75, -0.02), Pt(r, 0.83, 0.30), Pt(r, 0.86, 0.68), Pt(r, 0.14, 0.68), Pt(r, 0.17, 0.30)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(r, 0.285, 0.03), Pt(r, 0.715, 0.03), Pt(r, 0.765, 0.27), Pt(r, 0.235, 0.27)}, paint.RGB(0x20323a), paint.RGB(0x3c5963))
	l.Fill([]paint.Pt{Pt(r, 0.36, 0.03), Pt(r, 0.46, 0.03), Pt(r, 0.39, 0.27), Pt(r, 0.28, 0.27)}, paint.Fade(paint.White, 0.10))
	l.Rope([]paint.Pt{Pt(r, 0.50, 0.262), Pt(r, 0.66, 0.215)}, 9, rubber)
	// Joint of the tailgate, upright lamps, plate, handle.
	l.Loop([]paint.Pt{Pt(r, 0.215, 0.285), Pt(r, 0.785, 0.285), Pt(r, 0.80, 0.555), Pt(r, 0.20, 0.555)}, 4, paint.Fade(paint.Black, 0.35))
	for _, x := range []float64{0.155, 0.785} {
		l.Box(Sub(r, x-0.004, 0.295, 0.068, 0.215), 14, k.sheetLo)
		l.BoxGrad(Sub(r, x, 0.30, 0.06, 0.10), 12, paint.RGB(0xb04a3c), paint.RGB(0x6f2a22))
		l.BoxGrad(Sub(r, x, 0.405, 0.06, 0.045), 6, paint.RGB(0xd9a24c), paint.RGB(0x93662a))
		l.BoxGrad(Sub(r, x, 0.455, 0.06, 0.045), 6, paint.RGB(0xd8dcda), paint.RGB(0x8f9a9c))
	}
	l.BoxGrad(Sub(r, 0.40, 0.43, 0.20, 0.085), 6, labelled, paint.RGB(0xb9b096))
	l.BoxGrad(Sub(r, 0.43, 0.375, 0.14, 0.022), 5, k.sheetLo, k.sheet)
	// Bumper: painted above, moulded below with a cut-out.
	l.Box(Sub(r, 0.115, 0.575, 0.77, 0.155), 34, k.sheetLo)
	l.BoxGrad(Sub(r, 0.118, 0.578, 0.764, 0.10), 30, k.sheetHi, k.sheet)
	l.BoxGrad(Sub(r, 0.125, 0.655, 0.75, 0.075), 26, plasHi, plasLo)
	l.BoxGrad(Sub(r, 0.205, 0.672, 0.06, 0.026), 6, paint.RGB(0x9c3b32), paint.RGB(0x5f211c))
	l.BoxGrad(Sub(r, 0.735, 0.672, 0.06, 0.026), 6, paint.RGB(0x9c3b32), paint.RGB(0x5f211c))
	endPipe(l, Pt(r, 0.36, 0.765), 48)
}

// ground is the floor of the workshop behind a car, with the car's shadow.
func ground(l *paint.List, r paint.Rect, k *Kit) {
	l.BoxGrad(r, 0, paint.Blend(k.wall, paint.Black, 0.35), paint.Blend(k.wallLo, paint.Black, 0.35))
	for i := range 5 {
		l.Box(Sub(r, 0.1+0.2*float64(i)-0.002, 0, 0.004, 0.80), 0, paint.Fade(paint.Black, 0.16))
	}
	l.BoxGrad(Sub(r, 0, 0.80, 1, 0.20), 0, paint.RGB(0x3d4648), paint.RGB(0x23292b))
	l.Box(Sub(r, 0, 0.80, 1, 0.006), 0, paint.Fade(paint.White, 0.08))
	l.Oval(Pt(r, 0.5, 0.86), r.W*0.40, 38, paint.Fade(paint.Black, 0.6), paint.Fade(paint.Black, 0.6))
}

// endPipe is the end of an exhaust, looking out of it.
func endPipe(l *paint.List, c paint.Pt, rad float64) {
	l.BoxGrad(paint.Rect{X: c.X - rad*1.15, Y: c.Y - rad*0.7, W: rad * 2.3, H: rad * 0.8}, 12, plasLo, rubber)
	l.Oval(c, rad, rad*0.9, alloyHi, alloyLo)
	l.Oval(c, rad*0.80, rad*0.70, paint.RGB(0x1b1512), paint.Black)
	l.Arc(c, rad*0.9, 200, 320, 4, paint.Fade(paint.White, 0.6))
}

// paintCabinOld is the dash of an older car: a flat painted panel with wood, instruments let into it, the lock beside the wheel.
func (k *Kit) paintCabinOld(l *paint.List, r paint.Rect) {
	k.windscreen(l, r, 0.22)
	l.BoxGrad(Sub(r, 0, 0.195, 1, 0.07), 10, paint.RGB(0x3a322a), paint.RGB(0x211c17))
	l.BoxGrad(Sub(r, 0, 0.255, 1, 0.32), 0, k.sheetHi, k.sheet)
	wood := paint.RGB(0x7a5433)
	l.BoxGrad(Sub(r, 0.15, 0.275, 0.81, 0.275), 10, paint.RGB(0x8f6540), paint.RGB(0x5c3d24))
	for i := range 7 {
		y := 0.29 + 0.037*float64(i)
		l.Line(paint.Curve([]paint.Pt{Pt(r, 0.155, y), Pt(r, 0.40, y+0.012), Pt(r, 0.68, y-0.008), Pt(r, 0.955, y+0.006)}), 3, paint.Fade(wood, 0.55))
	}
	l.Frame(Sub(r, 0.15, 0.275, 0.81, 0.275), 10, 4, alloyHi)
	for _, g := range []struct{ x, d float64 }{{0.30, 0.135}, {0.56, 0.11}} {
		c := Pt(r, g.x, 0.39)
		l.Disc(c, r.H*g.d, paint.Blend(alloyLo, paint.Black, 0.4))
		l.Ring(c, r.H*g.d*0.97, 7, alloyHi)
	}
	l.Box(Sub(r, 0.405, 0.415, 0.07, 0.085), 8, paint.Black)
	l.Frame(Sub(r, 0.405, 0.415, 0.07, 0.085), 8, 3, alloyLo)
	for i := range 3 {
		c := Pt(r, 0.815+0.05*float64(i), 0.47)
		l.Disc(c, 16, paint.Black)
		dome(l, c, 13, bright)
	}
	vent(l, Sub(r, 0.78, 0.30, 0.15, 0.10), 4)
	lock(l, Pt(r, 0.70, 0.52))
	// Below: the shelf and the knee room.
	l.BoxGrad(Sub(r, 0, 0.575, 1, 0.425), 0, paint.RGB(0x2b2620), paint.RGB(0x120f0c))
	l.BoxGrad(Sub(r, 0, 0.575, 1, 0.022), 0, k.sheetLo, k.sheet)
	l.BoxGrad(Sub(r, 0.60, 0.62, 0.40, 0.38), 20, paint.RGB(0x3a332a), paint.RGB(0x1c1813))
	// Thin wheel with a bright ring.
	w := Pt(r, 0.36, 1.02)
	l.Arc(w, r.H*0.50, 180, 360, 24, rubber)
	l.Arc(w, r.H*0.50, 182, 358, 16, paint.RGB(0x3d3026))
	l.Arc(w, r.H*0.506, 200, 300, 3, paint.Fade(paint.White, 0.3))
	l.Arc(w, r.H*0.26, 190, 350, 7, alloyHi)
	for _, x := range []float64{-330, 330} {
		l.Rope([]paint.Pt{{X: w.X + x*0.2, Y: w.Y - 40}, {X: w.X + x, Y: w.Y - 90}}, 18, alloyLo)
	}
	l.Oval(w, 96, 80, paint.RGB(0x4a3d31), paint.RGB(0x231c15))
}

// paintTailOld is the rear of an older car with a boot: round lamps, bright bumper.
func (k *Kit) paintTailOld(l *paint.List, r paint.Rect) {
	ground(l, r, k)
	for _, x := range []float64{0.15, 0.76} {
		l.BoxGrad(Sub(r, x, 0.58, 0.09, 0.28), 26, rubber, paint.Black)
	}
	l.PolyGrad([]paint.Pt{Pt(r, 0.29, -0.02), Pt(r, 0.71, -0.02), Pt(r, 0.79, 0.23), Pt(r, 0.21, 0.23)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(r, 0.325, 0.03), Pt(r, 0.675, 0.03), Pt(r, 0.735, 0.20), Pt(r, 0.265, 0.20)}, paint.RGB(0x20323a), paint.RGB(0x3c5963))
	l.PolyGrad(paint.Curve([]paint.Pt{Pt(r, 0.13, 0.30), Pt(r, 0.20, 0.22), Pt(r, 0.50, 0.205), Pt(r, 0.80, 0.22), Pt(r, 0.87, 0.30), Pt(r, 0.89, 0.62), Pt(r, 0.86, 0.69), Pt(r, 0.14, 0.69), Pt(r, 0.11, 0.62), Pt(r, 0.13, 0.30)}), k.sheetHi, k.sheetLo)
	l.Line(paint.Curve([]paint.Pt{Pt(r, 0.26, 0.62), Pt(r, 0.25, 0.32), Pt(r, 0.50, 0.285), Pt(r, 0.75, 0.32), Pt(r, 0.74, 0.62)}), 4, paint.Fade(paint.Black, 0.35))
	for _, x := range []float64{0.175, 0.825} {
		c := Pt(r, x, 0.45)
		l.Ring(c, 56, 7, alloyHi)
		l.Oval(c, 52, 52, paint.RGB(0xb04a3c), paint.RGB(0x6f2a22))
		l.Disc(c, 20, paint.RGB(0xd9a24c))
		l.Oval(paint.Pt{X: c.X - 16, Y: c.Y - 22}, 16, 9, paint.Fade(paint.White, 0.4), paint.Fade(paint.White, 0.05))
	}
	l.BoxGrad(Sub(r, 0.40, 0.44, 0.20, 0.085), 4, labelled, paint.RGB(0xb9b096))
	l.BoxGrad(Sub(r, 0.455, 0.375, 0.09, 0.02), 5, alloyHi, alloyLo)
	rodH(l, Sub(r, 0.085, 0.585, 0.83, 0.085), 30, bright)
	for _, x := range []float64{0.27, 0.70} {
		rodV(l, Sub(r, x, 0.565, 0.03, 0.125), 12, bright)
	}
	l.BoxGrad(Sub(r, 0.16, 0.675, 0.68, 0.055), 10, k.sheetLo, paint.Black)
	endPipe(l, Pt(r, 0.62, 0.795), 38)
}
