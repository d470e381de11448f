package art

import "coldbay/scenes/paint"

// paintBodyRound is the compartment of a small car from its front: round wheel houses, a deep cowl with wiper arms, a moulded front
// panel over the lock.
func (k *Kit) paintBodyRound(l *paint.List, r paint.Rect) {
	l.Box(r, 0, k.deep)
	floor := []paint.Pt{Pt(r, 0.05, 0.12), Pt(r, 0.95, 0.12), Pt(r, 0.975, 0.5), Pt(r, 0.94, 0.9), Pt(r, 0.06, 0.9), Pt(r, 0.025, 0.5)}
	l.PolyGrad(floor, k.floor, k.floorLo)
	// Wings with a folded edge, wheel houses bulging inwards.
	for _, side := range []float64{0, 1} {
		x := func(d float64) float64 {
			if side == 0 {
				return d
			}
			return 1 - d
		}
		l.PolyGrad([]paint.Pt{Pt(r, x(0), 0.02), Pt(r, x(0.055), 0.03), Pt(r, x(0.038), 0.5), Pt(r, x(0.06), 0.95), Pt(r, x(0), 0.97)}, k.sheetHi, k.sheetLo)
		l.Line([]paint.Pt{Pt(r, x(0.055), 0.03), Pt(r, x(0.038), 0.5), Pt(r, x(0.06), 0.95)}, 5, paint.Fade(paint.White, 0.16))
		c := Pt(r, x(0.075), 0.30)
		l.Oval(paint.Pt{X: c.X, Y: c.Y + 6}, r.W*0.095, r.H*0.20, paint.Fade(paint.Black, 0.4), paint.Fade(paint.Black, 0.4))
		l.Oval(c, r.W*0.09, r.H*0.19, k.sheetHi, k.sheetLo)
		l.Oval(paint.Pt{X: c.X, Y: c.Y - 4}, r.W*0.068, r.H*0.145, k.sheet, k.sheetLo)
		t := Pt(r, x(0.082), 0.29)
		l.Disc(t, 40, k.sheetLo)
		l.Oval(t, 35, 35, dull.hi, dull.lo)
		l.Oval(t, 18, 18, plasHi, plasLo)
		for _, d := range []paint.Pt{{X: -24, Y: -12}, {X: 24, Y: -12}, {X: 0, Y: 27}} {
			bolt(l, t.X+d.X, t.Y+d.Y, 6)
		}
	}
	// Cowl of moulded plastic, seal, wiper arms.
	l.PolyGrad([]paint.Pt{Pt(r, 0.02, 0), Pt(r, 0.98, 0), Pt(r, 0.93, 0.10), Pt(r, 0.78, 0.125), Pt(r, 0.22, 0.125), Pt(r, 0.07, 0.10)}, plasHi, plasLo)
	gill(l, Sub(r, 0.25, 0.022, 0.50, 0.035), 30, 0.45, rubber)
	l.Line(paint.Curve([]paint.Pt{Pt(r, 0.05, 0.105), Pt(r, 0.22, 0.132), Pt(r, 0.78, 0.132), Pt(r, 0.95, 0.105)}), 13, rubber)
	l.Line(paint.Curve([]paint.Pt{Pt(r, 0.05, 0.101), Pt(r, 0.22, 0.127), Pt(r, 0.78, 0.127), Pt(r, 0.95, 0.101)}), 3, paint.Fade(paint.White, 0.14))
	for _, x := range []float64{0.36, 0.60} {
		l.Rope([]paint.Pt{Pt(r, x, 0.068), Pt(r, x+0.16, 0.018)}, 9, rubber)
		l.Disc(Pt(r, x, 0.068), 13, plasLo)
		l.Disc(Pt(r, x, 0.066), 8, alloyLo)
	}
	// Front panel: moulded, with a bulge for the lock.
	l.PolyGrad([]paint.Pt{Pt(r, 0.03, 0.925), Pt(r, 0.38, 0.905), Pt(r, 0.42, 0.875), Pt(r, 0.58, 0.875), Pt(r, 0.62, 0.905), Pt(r, 0.97, 0.925), Pt(r, 0.97, 1), Pt(r, 0.03, 1)}, moulded.hi, plasLo)
	l.Line([]paint.Pt{Pt(r, 0.03, 0.93), Pt(r, 0.38, 0.91), Pt(r, 0.42, 0.88), Pt(r, 0.58, 0.88), Pt(r, 0.62, 0.91), Pt(r, 0.97, 0.93)}, 3, paint.Fade(paint.White, 0.22))
	l.Box(Sub(r, 0.455, 0.905, 0.09, 0.06), 8, rubber)
	l.Arc(Pt(r, 0.5, 0.95), r.H*0.022, 180, 360, 6, alloyHi)
	for _, x := range []float64{0.27, 0.36, 0.64, 0.73} {
		l.Disc(Pt(r, x, 0.953), 9, rubber)
		l.Disc(Pt(r, x, 0.951), 6, plasHi)
	}
}

// paintArch is the wheel house seen close.
func (k *Kit) paintArch(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.wall, k.wallLo)
	for i, s := range []float64{1, 0.93, 0.86} {
		ink := []paint.Ink{k.sheetLo, k.sheet, k.wall}[i]
		lo := []paint.Ink{k.wallLo, k.sheetLo, k.wallLo}[i]
		l.Oval(Pt(r, 0.5, 1.12), r.W*0.62*s, r.H*1.02*s, ink, lo)
	}
	l.Box(Sub(r, 0, 0.045, 1, 0.014), 0, paint.Fade(paint.Black, 0.3))
	l.Box(Sub(r, 0, 0.059, 1, 0.006), 0, paint.Fade(paint.White, 0.07))
	for _, p := range []paint.Pt{{X: 0.03, Y: 0.11}, {X: 0.97, Y: 0.10}, {X: 0.025, Y: 0.95}, {X: 0.975, Y: 0.95}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 12)
	}
}
