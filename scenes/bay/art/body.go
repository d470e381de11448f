package art

import "coldbay/scenes/paint"

// paintBody is the engine compartment from the front of the car: cowl above, wings left and right, radiator below.
func (k *Kit) paintBody(l *paint.List, r paint.Rect) {
	l.Box(r, 0, k.deep)
	// Wings.
	left := []paint.Pt{Pt(r, 0, 0.02), Pt(r, 0.075, 0.02), Pt(r, 0.055, 0.45), Pt(r, 0.075, 0.96), Pt(r, 0, 0.98)}
	right := []paint.Pt{Pt(r, 1, 0.02), Pt(r, 1, 0.98), Pt(r, 0.925, 0.96), Pt(r, 0.945, 0.45), Pt(r, 0.925, 0.02)}
	l.PolyGrad(left, k.sheetHi, k.sheetLo)
	l.PolyGrad(right, k.sheetHi, k.sheetLo)
	// Inner floor.
	floor := []paint.Pt{Pt(r, 0.085, 0.10), Pt(r, 0.915, 0.10), Pt(r, 0.935, 0.45), Pt(r, 0.915, 0.92), Pt(r, 0.085, 0.92), Pt(r, 0.065, 0.45)}
	l.PolyGrad(floor, k.floor, k.floorLo)
	// Cowl with its seal and wiper holes.
	l.BoxGrad(Sub(r, 0.06, 0, 0.88, 0.105), 10, k.sheetHi, k.sheet)
	l.Box(Sub(r, 0.06, 0.094, 0.88, 0.016), 3, rubber)
	for i := range 16 {
		l.Box(Sub(r, 0.33+float64(i)*0.022, 0.03, 0.012, 0.03), 3, k.sheetLo)
	}
	// Strut towers.
	for _, x := range []float64{0.125, 0.875} {
		c := Pt(r, x, 0.235)
		l.Disc(c, r.H*0.088, k.sheetLo)
		l.Disc(c, r.H*0.078, k.sheet)
		l.Disc(c, r.H*0.05, k.sheetLo)
		l.Disc(c, r.H*0.032, alloyLo)
		bolt(l, c.X, c.Y, r.H*0.014)
	}
	// Radiator support with latch and fan shroud.
	l.BoxGrad(Sub(r, 0.03, 0.93, 0.94, 0.055), 8, k.sheetHi, k.sheet)
	l.Box(Sub(r, 0.30, 0.905, 0.40, 0.03), 6, plasLo)
	for i := range 34 {
		l.Box(Sub(r, 0.306+float64(i)*0.0116, 0.909, 0.004, 0.02), 1, plasHi)
	}
	l.Box(Sub(r, 0.475, 0.938, 0.05, 0.04), 4, k.sheetLo)
	l.Ring(Pt(r, 0.5, 0.958), r.H*0.011, 3, alloyHi)
	for _, x := range []float64{0.06, 0.2, 0.8, 0.94} {
		bolt(l, r.X+r.W*x, r.Y+r.H*0.957, 6)
	}
}

// paintTray is painted sheet seen close: the wall of the compartment.
func (k *Kit) paintTray(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.wall, k.wallLo)
	for i := range 4 {
		y := 0.14 + 0.24*float64(i)
		l.Box(Sub(r, 0, y, 1, 0.012), 0, paint.Fade(paint.Black, 0.22))
		l.Box(Sub(r, 0, y+0.012, 1, 0.006), 0, paint.Fade(paint.White, 0.05))
	}
	for _, p := range []paint.Pt{{X: 0.04, Y: 0.07}, {X: 0.96, Y: 0.08}, {X: 0.03, Y: 0.92}, {X: 0.97, Y: 0.94}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 13)
	}
}

// paintFloor is the lower front of the compartment where the air pump hangs on its bracket.
func (k *Kit) paintFloor(l *paint.List, r paint.Rect) {
	k.paintTray(l, r)
	l.BoxGrad(Sub(r, 0.28, 0.70, 0.52, 0.09), 8, alloy, alloyLo)
	l.BoxGrad(Sub(r, 0.36, 0.55, 0.04, 0.2), 4, alloyLo, alloyLo)
	l.BoxGrad(Sub(r, 0.66, 0.55, 0.04, 0.2), 4, alloyLo, alloyLo)
	for _, x := range []float64{0.31, 0.56, 0.77} {
		bolt(l, r.X+r.W*x, r.Y+r.H*0.745, 12)
	}
}

// paintHead is the cylinder head's exhaust side, close.
func (k *Kit) paintHead(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, paint.RGB(0x15272d), paint.RGB(0x0e1c21))
	l.BoxGrad(Sub(r, 0, 0.60, 1, 0.18), 0, alloyHi, alloyLo)
	for i := range 7 {
		l.Box(Sub(r, 0.03+0.15*float64(i), 0.62, 0.06, 0.13), 6, paint.Fade(alloyLo, 0.7))
	}
	for i := range 4 {
		x := 0.10 + 0.25*float64(i)
		l.BoxGrad(Sub(r, x, 0.76, 0.11, 0.24), 16, rust, rustLo)
		l.BoxGrad(Sub(r, x-0.02, 0.745, 0.15, 0.05), 8, rust, rustLo)
		bolt(l, r.X+r.W*(x-0.005), r.Y+r.H*0.77, 10)
		bolt(l, r.X+r.W*(x+0.115), r.Y+r.H*0.77, 10)
	}
	// Flange of the air valve with the port behind it.
	l.Box(Sub(r, 0.385, 0.60, 0.26, 0.11), 18, alloyLo)
	l.BoxGrad(Sub(r, 0.39, 0.603, 0.25, 0.10), 16, alloyHi, alloy)
	for i := range 4 {
		l.Oval(Pt(r, 0.45+0.043*float64(i), 0.652), 11, 15, plasLo, rubber)
	}
	bolt(l, r.X+r.W*0.408, r.Y+r.H*0.652, 12)
	bolt(l, r.X+r.W*0.622, r.Y+r.H*0.652, 12)
}

// paintPlenum is the intake manifold, close.
func (k *Kit) paintPlenum(l *paint.List, r paint.Rect) {
	k.paintTray(l, r)
	for i := range 4 {
		x := 0.34 + 0.155*float64(i)
		l.BoxGrad(Sub(r, x, 0.45, 0.095, 0.55), 26, alloyHi, alloyLo)
		l.Box(Sub(r, x+0.012, 0.5, 0.012, 0.5), 5, paint.Fade(paint.White, 0.25))
	}
	shade(l, Sub(r, 0.29, 0.25, 0.66, 0.30), 60)
	l.Box(Sub(r, 0.29, 0.24, 0.66, 0.30), 60, alloyLo)
	l.BoxGrad(Sub(r, 0.292, 0.243, 0.655, 0.285), 58, alloyHi, alloy)
	l.Box(Sub(r, 0.33, 0.275, 0.58, 0.03), 8, paint.Fade(paint.White, 0.30))
	for i := range 5 {
		l.Box(Sub(r, 0.40+0.1*float64(i), 0.33, 0.02, 0.16), 6, paint.Fade(alloyLo, 0.6))
	}
	// Throttle body.
	l.BoxGrad(Sub(r, 0.86, 0.10, 0.12, 0.30), 20, alloy, alloyLo)
	l.Disc(Pt(r, 0.92, 0.22), 54, plasLo)
	l.Oval(Pt(r, 0.92, 0.22), 44, 44, brass, paint.RGB(0x7d6330))
	l.Box(Sub(r, 0.884, 0.215, 0.072, 0.010), 2, plasLo)
	// Nipple boss.
	l.BoxGrad(Sub(r, 0.262, 0.375, 0.05, 0.085), 8, alloy, alloyLo)
}
