package art

import "coldbay/scenes/paint"

// paintManifoldRail is an older exhaust manifold seen close, with the air rail above it and a tube of the rail into each branch.
func (k *Kit) paintManifoldRail(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.floor, k.deep)
	l.BoxGrad(Sub(r, 0, 0.78, 1, 0.22), 0, cast.mid, cast.lo)
	for i := range 30 {
		l.Disc(Pt(r, 0.015+0.034*float64(i), 0.83+0.12*frac(float64(i)*0.618)), 2.4, paint.Fade(paint.Black, 0.3))
	}
	for i := range 4 {
		x := 0.13 + 0.245*float64(i)
		rodV(l, Sub(r, x-0.055, 0.60, 0.11, 0.30), 30, rusty)
		rodH(l, Sub(r, x-0.085, 0.80, 0.17, 0.075), 10, rusty)
		bolt(l, r.X+r.W*(x-0.066), r.Y+r.H*0.838, 12)
		bolt(l, r.X+r.W*(x+0.066), r.Y+r.H*0.838, 12)
	}
	rodH(l, Sub(r, 0.03, 0.555, 0.94, 0.14), 46, rusty)
	for i := range 4 {
		x := 0.13 + 0.245*float64(i)
		pipe(l, []paint.Pt{Pt(r, x, 0.455), Pt(r, x, 0.52), Pt(r, x, 0.57)}, 26, dull)
		rodV(l, Sub(r, x-0.019, 0.535, 0.038, 0.05), 4, zinc)
	}
	pipe(l, []paint.Pt{Pt(r, 0.09, 0.445), Pt(r, 0.5, 0.445), Pt(r, 0.91, 0.445)}, 36, dull)
	rodV(l, Sub(r, 0.465, 0.405, 0.07, 0.085), 8, zinc)
}

func frac(x float64) float64 { return x - float64(int(x)) }

// paintPlenumOld is an older intake manifold seen close: throttle body in its middle, branches down to the head.
func (k *Kit) paintPlenumOld(l *paint.List, r paint.Rect) {
	k.paintBulkhead(l, r)
	l.BoxGrad(Sub(r, 0, 0.80, 1, 0.20), 0, cast.mid, cast.lo)
	for i := range 4 {
		x := 0.27 + 0.175*float64(i)
		mid := 0.55
		pipe(l, []paint.Pt{Pt(r, mid+(x-mid)*0.25, 0.52), Pt(r, mid+(x-mid)*0.8, 0.60), Pt(r, x, 0.72), Pt(r, x, 0.90)}, 92, dull)
		rodH(l, Sub(r, x-0.065, 0.80, 0.13, 0.06), 8, dull)
		bolt(l, r.X+r.W*(x-0.052), r.Y+r.H*0.83, 10)
		bolt(l, r.X+r.W*(x+0.052), r.Y+r.H*0.83, 10)
	}
	drop(l, Sub(r, 0.36, 0.36, 0.38, 0.22), 40, 16)
	rodH(l, Sub(r, 0.36, 0.36, 0.38, 0.22), 44, dull)
	gloss(l, Sub(r, 0.41, 0.385, 0.26, 0.012))
	// Throttle body with its bore and lever.
	rodV(l, Sub(r, 0.46, 0.20, 0.18, 0.20), 12, bright)
	l.Oval(Pt(r, 0.55, 0.20), 118, 40, alloyHi, alloyLo)
	l.Oval(Pt(r, 0.55, 0.20), 92, 29, paint.Black, paint.RGB(0x2a2f31))
	l.Oval(Pt(r, 0.55, 0.205), 84, 20, paint.RGB(0x8a6f38), paint.RGB(0x4d3d1e))
	l.Rope([]paint.Pt{Pt(r, 0.65, 0.31), Pt(r, 0.70, 0.27), Pt(r, 0.705, 0.20)}, 14, zinc.mid)
	l.Disc(Pt(r, 0.65, 0.31), 20, zinc.lo)
	bolt(l, r.X+r.W*0.65, r.Y+r.H*0.31, 12)
	l.Rope(paint.Curve([]paint.Pt{Pt(r, 0.705, 0.20), Pt(r, 0.82, 0.16), Pt(r, 1.02, 0.20)}), 8, rubber)
	// Boss of the vacuum nipple at the left.
	rodH(l, Sub(r, 0.312, 0.425, 0.07, 0.085), 8, dull)
	rodH(l, Sub(r, 0.272, 0.448, 0.05, 0.042), 4, metal{paint.RGB(0xdcbd72), brass, paint.RGB(0x7d6330)})
}

// paintBeltFloor is the lower front of an upright engine, close: timing cover at the right with the crankshaft's wheel.
func (k *Kit) paintBeltFloor(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.floor, k.deep)
	l.PolyGrad([]paint.Pt{Pt(r, 0.70, 0), Pt(r, 1, 0), Pt(r, 1, 1), Pt(r, 0.70, 1), Pt(r, 0.66, 0.6)}, cast.mid, cast.lo)
	l.PolyGrad([]paint.Pt{Pt(r, 0.78, 0.06), Pt(r, 1, 0.02), Pt(r, 1, 1), Pt(r, 0.80, 1), Pt(r, 0.745, 0.7)}, enamel.hi, enamel.lo)
	l.Line([]paint.Pt{Pt(r, 0.78, 0.06), Pt(r, 0.745, 0.7), Pt(r, 0.80, 1)}, 4, paint.Fade(paint.Black, 0.4))
	for _, p := range []paint.Pt{{X: 0.79, Y: 0.12}, {X: 0.775, Y: 0.38}, {X: 0.765, Y: 0.62}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 12)
	}
	// Bracket of the pump.
	l.PolyGrad([]paint.Pt{Pt(r, 0.40, 0.84), Pt(r, 0.72, 0.64), Pt(r, 0.74, 0.76), Pt(r, 0.46, 0.95)}, alloy, alloyLo)
	l.PolyGrad([]paint.Pt{Pt(r, 0.60, 0.16), Pt(r, 0.74, 0.12), Pt(r, 0.74, 0.22), Pt(r, 0.60, 0.30)}, alloy, alloyLo)
	bolt(l, r.X+r.W*0.715, r.Y+r.H*0.70, 12)
	bolt(l, r.X+r.W*0.715, r.Y+r.H*0.17, 12)
}

// paintCrankWheel is the crankshaft's wheel.
func (k *Kit) paintCrankWheel(l *paint.List, r paint.Rect) {
	wheel(l, r.Mid(), r.W*0.5, dull)
}

// paintFusePanel is an older fuse panel: a moulded board with its cover off, six places.
func (k *Kit) paintFusePanel(l *paint.List, r paint.Rect) {
	drop(l, r, 12, 12)
	bake := metal{paint.RGB(0x6d4f3c), paint.RGB(0x4a3427), paint.RGB(0x251913)}
	block(l, r, 12, bake.hi, bake.mid, bake.lo)
	l.BoxGrad(Sub(r, 0.03, 0.06, 0.94, 0.88), 8, bake.lo, paint.RGB(0x2d2019))
	for i := range 4 {
		x := 0.43 + 0.135*float64(i)
		l.BoxGrad(Sub(r, x, 0.14, 0.10, 0.46), 4, paint.RGB(0x1a120e), bake.lo)
		for _, y := range []float64{0.16, 0.50} {
			l.BoxGrad(Sub(r, x+0.022, y, 0.056, 0.085), 2, brass, paint.RGB(0x7d6330))
		}
		rodV(l, Sub(r, x+0.028, 0.22, 0.044, 0.30), 5, []metal{{paint.RGB(0xe8e2d0), paint.RGB(0xc9c2ab), paint.RGB(0x8a846f)}, {paint.RGB(0xc9695a), paint.RGB(0x9a4032), paint.RGB(0x5c231b)}, {paint.RGB(0xe8e2d0), paint.RGB(0xc9c2ab), paint.RGB(0x8a846f)}, {paint.RGB(0x7fb3d4), paint.RGB(0x46789a), paint.RGB(0x234258)}}[i])
	}
	for i := range 6 {
		l.Disc(Pt(r, 0.10+0.16*float64(i), 0.86), r.H*0.035, paint.RGB(0x7d6330))
		l.Disc(Pt(r, 0.10+0.16*float64(i), 0.852), r.H*0.026, brass)
		l.Box(Sub(r, 0.085+0.16*float64(i), 0.845, 0.03, 0.014), 1, paint.RGB(0x5a4520))
	}
}

// paintFuseRed is a ten ampere fuse.
func (k *Kit) paintFuseRed(l *paint.List, r paint.Rect) {
	fuse(l, r, paint.RGB(0xd0604c), paint.RGB(0x8f3022))
}

// paintBatteryOld is a starter battery with screwed caps under a steel clamp.
func (k *Kit) paintBatteryOld(l *paint.List, r paint.Rect) {
	drop(l, r, 8, 18)
	block(l, r, 6, paint.RGB(0x2f3335), paint.RGB(0x1c1f21), paint.Black)
	l.BoxGrad(Sub(r, 0.012, 0.015, 0.976, 0.40), 5, paint.RGB(0x4a4f52), paint.RGB(0x2c3032))
	for i := range 6 {
		c := Pt(r, 0.125+0.15*float64(i), 0.29)
		l.Disc(paint.Pt{X: c.X + 1, Y: c.Y + 3}, r.H*0.052, paint.Fade(paint.Black, 0.5))
		dome(l, c, r.H*0.050, metal{paint.RGB(0xb0563f), paint.RGB(0x8a3c29), paint.RGB(0x4d1e13)})
		l.Box(paint.Rect{X: c.X - r.H*0.03, Y: c.Y - r.H*0.008, W: r.H * 0.06, H: r.H * 0.016}, 1, paint.RGB(0x4d1e13))
	}
	post := func(x float64, ring paint.Ink) {
		c := Pt(r, x, 0.10)
		l.Disc(c, r.H*0.082, ring)
		l.Disc(c, r.H*0.060, alloyLo)
		l.Oval(paint.Pt{X: c.X, Y: c.Y - r.H*0.012}, r.H*0.048, r.H*0.048, alloyHi, alloy)
		l.Box(paint.Rect{X: c.X - r.H*0.10, Y: c.Y + r.H*0.045, W: r.H * 0.2, H: r.H * 0.05}, 4, alloy)
	}
	post(0.214, paint.RGB(0xa63a2a))
	post(0.786, rubber)
	// Ribs of the case, steel clamp across.
	for i := range 9 {
		l.Box(Sub(r, 0.07+0.10*float64(i), 0.46, 0.025, 0.50), 3, paint.Fade(paint.White, 0.05))
	}
	tag(l, Sub(r, 0.28, 0.56, 0.44, 0.24), 3)
	rodH(l, Sub(r, -0.03, 0.395, 1.06, 0.055), 3, zinc)
	for _, x := range []float64{-0.01, 1.01} {
		bolt(l, r.X+r.W*x, r.Y+r.H*0.422, r.H*0.036)
	}
}

// paintFanOld is the fan on the water pump: four blades of sheet metal. It is painted standing; running it is a blur.
func (k *Kit) paintFanOld(l *paint.List, r paint.Rect) {
	Blades(&l.Mesh, r.Mid(), r.W*0.5, 0.4)
}

// Blades are a fan's four blades at an angle in radians.
func Blades(m *paint.Mesh, c paint.Pt, rad, angle float64) {
	ink, lit := paint.RGB(0xb98a3a), paint.RGB(0xdbb264)
	for i := range 4 {
		at := func(a, d float64) paint.Pt { return turned(c, rad*d, angle+float64(i)*1.5708+a) }
		m.Poly([]paint.Pt{at(-0.30, 0.20), at(-0.30, 0.96), at(0.02, 1.0), at(0.20, 0.94), at(0.30, 0.20)}, ink)
		m.Line([]paint.Pt{at(-0.28, 0.22), at(-0.28, 0.94)}, rad*0.03, lit)
	}
	m.Disc(c, rad*0.24, paint.RGB(0x6a5728))
	m.Disc(c, rad*0.19, lit)
	m.Disc(c, rad*0.08, paint.RGB(0x6a5728))
}
