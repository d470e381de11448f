package art

import "coldbay/scenes/paint"

// paintHeadVee is the outer side of a bank's head seen close: three branches, a flange for the air valve. Mirrored it is the other bank.
func (k *Kit) paintHeadVee(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.floor, k.deep)
	// Cover of the bank above.
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0), Pt(r, 1, 0), Pt(r, 1, 0.20), Pt(r, 0, 0.14)}, moulded.hi, plasLo)
	l.Line([]paint.Pt{Pt(r, 0, 0.14), Pt(r, 1, 0.20)}, 5, paint.Fade(paint.White, 0.18))
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.145), Pt(r, 1, 0.205), Pt(r, 1, 0.245), Pt(r, 0, 0.185)}, dull.hi, dull.lo)
	for i := range 6 {
		x := 0.06 + 0.175*float64(i)
		bolt(l, r.X+r.W*x, r.Y+r.H*(0.165+0.06*x), 11)
	}
	// Head.
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.56), Pt(r, 1, 0.62), Pt(r, 1, 0.80), Pt(r, 0, 0.74)}, alloyHi, alloyLo)
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.74), Pt(r, 1, 0.80), Pt(r, 1, 1), Pt(r, 0, 1)}, cast.mid, cast.lo)
	for i := range 8 {
		x := 0.03 + 0.125*float64(i)
		l.Box(Sub(r, x, 0.60+0.06*x, 0.055, 0.10), 6, paint.Fade(alloyLo, 0.6))
	}
	for i := range 3 {
		x := 0.16 + 0.32*float64(i)
		y := 0.735 + 0.06*x
		pipe(l, []paint.Pt{Pt(r, x, y), Pt(r, x, y+0.10), Pt(r, x-0.05, y+0.20), Pt(r, x-0.12, y+0.34)}, 96, rusty)
		rodH(l, Sub(r, x-0.075, y-0.01, 0.15, 0.075), 12, rusty)
		bolt(l, r.X+r.W*(x-0.058), r.Y+r.H*(y+0.028), 12)
		bolt(l, r.X+r.W*(x+0.058), r.Y+r.H*(y+0.028), 12)
	}
	// Flange of the air valve with its ports.
	rodH(l, Sub(r, 0.385, 0.605, 0.26, 0.10), 16, bright)
	for i := range 3 {
		l.Oval(Pt(r, 0.468+0.046*float64(i), 0.655), 12, 16, plasLo, rubber)
	}
	bolt(l, r.X+r.W*0.408, r.Y+r.H*0.655, 12)
	bolt(l, r.X+r.W*0.622, r.Y+r.H*0.655, 12)
}

// paintValley is the room between the two banks, seen close: runners above, sheet below.
func (k *Kit) paintValley(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.wall, k.deep)
	for i := range 3 {
		l.BoxGrad(Sub(r, 0.02+0.33*float64(i), 0.22, 0.30, 0.62), 36, paint.Fade(paint.Black, 0.20), paint.Fade(paint.Black, 0.05))
	}
	for i := range 7 {
		x := -0.02 + 0.16*float64(i)
		rodV(l, Sub(r, x, -0.05, 0.10, 0.13), 20, bright)
	}
	l.BoxGrad(Sub(r, 0, 0.065, 1, 0.03), 0, dull.hi, dull.lo)
	l.BoxGrad(Sub(r, 0, 0.93, 1, 0.07), 0, dull.mid, dull.lo)
	for i := range 7 {
		bolt(l, r.X+r.W*(0.06+0.147*float64(i)), r.Y+r.H*0.965, 10)
	}
}

// paintPlenumVee is the plenum between the banks seen close, with its crossing runners and the throttle at the right.
func (k *Kit) paintPlenumVee(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.wall, k.deep)
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0), Pt(r, 1, 0), Pt(r, 1, 0.10), Pt(r, 0, 0.10)}, moulded.hi, plasLo)
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.88), Pt(r, 1, 0.88), Pt(r, 1, 1), Pt(r, 0, 1)}, moulded.hi, plasLo)
	l.BoxGrad(Sub(r, 0, 0.10, 1, 0.035), 0, dull.hi, dull.lo)
	l.BoxGrad(Sub(r, 0, 0.845, 1, 0.035), 0, dull.hi, dull.lo)
	for i := range 6 {
		x := 0.26 + 0.105*float64(i)
		if i%2 == 0 {
			pipe(l, []paint.Pt{Pt(r, x, 0.48), Pt(r, x+0.01, 0.30), Pt(r, x, 0.11)}, 84, bright)
		} else {
			pipe(l, []paint.Pt{Pt(r, x, 0.52), Pt(r, x+0.01, 0.70), Pt(r, x, 0.86)}, 84, bright)
		}
	}
	drop(l, Sub(r, 0.20, 0.37, 0.66, 0.26), 60, 16)
	rodH(l, Sub(r, 0.20, 0.37, 0.66, 0.26), 74, bright)
	gloss(l, Sub(r, 0.27, 0.40, 0.50, 0.014))
	for i := range 9 {
		l.Box(Sub(r, 0.29+0.055*float64(i), 0.42, 0.012, 0.17), 4, paint.Fade(alloyLo, 0.45))
	}
	// Throttle.
	rodV(l, Sub(r, 0.845, 0.39, 0.06, 0.22), 10, dull)
	l.Oval(Pt(r, 0.955, 0.50), 66, 86, alloyHi, alloyLo)
	l.Oval(Pt(r, 0.957, 0.50), 54, 72, paint.Black, paint.RGB(0x262b2d))
	l.Oval(Pt(r, 0.957, 0.50), 22, 68, paint.RGB(0x9b7f43), paint.RGB(0x5a4824))
	// Boss of the vacuum nipple.
	rodH(l, Sub(r, 0.165, 0.455, 0.06, 0.085), 8, dull)
	rodH(l, Sub(r, 0.125, 0.477, 0.05, 0.042), 4, metal{paint.RGB(0xdcbd72), brass, paint.RGB(0x7d6330)})
}

// paintCabinWide is the dash of a larger car: one wide hood, a screen beside it, the lock in the dash.
func (k *Kit) paintCabinWide(l *paint.List, r paint.Rect) {
	k.windscreen(l, r, 0.24)
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.21), Pt(r, 0.5, 0.185), Pt(r, 1, 0.22), Pt(r, 1, 1), Pt(r, 0, 1)}, paint.RGB(0x4a4f4a), paint.RGB(0x1b1f1c))
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.57), Pt(r, 1, 0.54), Pt(r, 1, 0.58), Pt(r, 0, 0.61)}, paint.RGB(0x8a8f84), paint.RGB(0x5a6056))
	l.Box(Sub(r, 0.195, 0.225, 0.50, 0.395), 110, paint.Fade(paint.Black, 0.5))
	l.Box(Sub(r, 0.20, 0.225, 0.49, 0.375), 100, rubber)
	l.BoxGrad(Sub(r, 0.21, 0.245, 0.47, 0.34), 92, paint.RGB(0x10161a), paint.RGB(0x1a2226))
	l.Arc(Pt(r, 0.445, 0.60), r.H*0.52, 236, 304, 4, paint.Fade(paint.White, 0.16))
	block(l, Sub(r, 0.73, 0.26, 0.21, 0.20), 8, plasHi, plastic, rubber)
	l.BoxGrad(Sub(r, 0.74, 0.275, 0.19, 0.17), 4, paint.RGB(0x1d3038), paint.RGB(0x101c21))
	for i := range 3 {
		l.Box(Sub(r, 0.755, 0.30+0.045*float64(i), 0.10-0.02*float64(i), 0.012), 1, paint.Fade(paint.Sky, 0.35))
	}
	vent(l, Sub(r, 0.03, 0.31, 0.13, 0.13), 4)
	for i := range 6 {
		l.BoxGrad(Sub(r, 0.735+0.036*float64(i), 0.485, 0.030, 0.035), 4, plasHi, plasLo)
	}
	lock(l, Pt(r, 0.77, 0.64))
	socket(l, Sub(r, 0.07, 0.82, 0.12, 0.10))
	w := Pt(r, 0.435, 1.06)
	for _, x := range []float64{-260, 260} {
		l.Rope([]paint.Pt{w, {X: w.X + x, Y: w.Y - 60}}, 60, plasHi)
	}
	l.Arc(w, r.H*0.46, 180, 360, 42, rubber)
	l.Arc(w, r.H*0.46, 182, 358, 30, paint.RGB(0x4a463d))
	l.Arc(w, r.H*0.474, 205, 300, 4, paint.Fade(paint.White, 0.25))
	l.Box(paint.Rect{X: w.X - 150, Y: w.Y - 130, W: 300, H: 220}, 60, plasLo)
	l.BoxGrad(paint.Rect{X: w.X - 146, Y: w.Y - 127, W: 292, H: 214}, 58, moulded.hi, plasLo)
}

// paintTailWide is the rear of a larger car: a lamp band across it, two ends of the exhaust.
func (k *Kit) paintTailWide(l *paint.List, r paint.Rect) {
	ground(l, r, k)
	for _, x := range []float64{0.12, 0.78} {
		l.BoxGrad(Sub(r, x, 0.56, 0.10, 0.30), 28, rubber, paint.Black)
	}
	l.PolyGrad([]paint.Pt{Pt(r, 0.26, -0.02), Pt(r, 0.74, -0.02), Pt(r, 0.82, 0.24), Pt(r, 0.18, 0.24)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(r, 0.29, 0.02), Pt(r, 0.71, 0.02), Pt(r, 0.775, 0.215), Pt(r, 0.225, 0.215)}, paint.RGB(0x20323a), paint.RGB(0x3c5963))
	l.Fill([]paint.Pt{Pt(r, 0.50, 0.02), Pt(r, 0.58, 0.02), Pt(r, 0.56, 0.215), Pt(r, 0.45, 0.215)}, paint.Fade(paint.White, 0.09))
	l.PolyGrad([]paint.Pt{Pt(r, 0.15, 0.24), Pt(r, 0.85, 0.24), Pt(r, 0.915, 0.34), Pt(r, 0.92, 0.66), Pt(r, 0.08, 0.66), Pt(r, 0.085, 0.34)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(r, 0.14, 0.235), Pt(r, 0.86, 0.235), Pt(r, 0.875, 0.265), Pt(r, 0.125, 0.265)}, k.sheetHi, k.sheetLo)
	l.Box(Sub(r, 0.095, 0.345, 0.81, 0.105), 18, k.sheetLo)
	l.BoxGrad(Sub(r, 0.10, 0.35, 0.80, 0.095), 16, paint.RGB(0xa23c31), paint.RGB(0x5f211c))
	for i := range 13 {
		l.Box(Sub(r, 0.15+0.054*float64(i), 0.35, 0.003, 0.095), 0, paint.Fade(paint.Black, 0.35))
	}
	for _, x := range []float64{0.20, 0.75} {
		l.BoxGrad(Sub(r, x, 0.405, 0.05, 0.035), 4, paint.RGB(0xd8dcda), paint.RGB(0x8f9a9c))
	}
	gloss(l, Sub(r, 0.12, 0.358, 0.76, 0.010))
	l.BoxGrad(Sub(r, 0.40, 0.475, 0.20, 0.08), 6, labelled, paint.RGB(0xb9b096))
	l.Box(Sub(r, 0.065, 0.565, 0.87, 0.155), 40, k.sheetLo)
	l.BoxGrad(Sub(r, 0.068, 0.568, 0.864, 0.11), 36, k.sheetHi, k.sheet)
	l.BoxGrad(Sub(r, 0.10, 0.665, 0.80, 0.06), 20, plasHi, plasLo)
	endPipe(l, Pt(r, 0.30, 0.755), 46)
	endPipe(l, Pt(r, 0.70, 0.755), 46)
}
