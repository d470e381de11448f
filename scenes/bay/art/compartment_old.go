package art

import "coldbay/scenes/paint"

// paintBodyOld is the compartment of an older car from its front: a bulkhead with its seams, flat inner wings, the radiator's tank
// across the front.
func (k *Kit) paintBodyOld(l *paint.List, r paint.Rect) {
	l.Box(r, 0, k.deep)
	l.PolyGrad([]paint.Pt{Pt(r, 0.11, 0.18), Pt(r, 0.89, 0.18), Pt(r, 0.94, 0.9), Pt(r, 0.06, 0.9)}, k.floor, k.floorLo)
	// Bulkhead, pressed, with a heater duct and a row of spot welds.
	l.BoxGrad(Sub(r, 0.08, 0, 0.84, 0.20), 0, k.sheet, k.sheetLo)
	for i := range 5 {
		l.BoxGrad(Sub(r, 0.12+0.16*float64(i), 0.055, 0.12, 0.10), 14, paint.Fade(paint.Black, 0.18), paint.Fade(paint.Black, 0.05))
		l.Box(Sub(r, 0.125+0.16*float64(i), 0.150, 0.11, 0.006), 2, paint.Fade(paint.White, 0.12))
	}
	l.BoxGrad(Sub(r, 0.06, 0, 0.88, 0.032), 0, k.sheetHi, k.sheet)
	l.Box(Sub(r, 0.06, 0.030, 0.88, 0.012), 0, rubber)
	for i := range 26 {
		l.Disc(Pt(r, 0.10+0.032*float64(i), 0.187), 2.4, paint.Fade(paint.Black, 0.35))
	}
	l.Box(Sub(r, 0.08, 0.196, 0.84, 0.010), 0, paint.Fade(paint.Black, 0.5))
	// Inner wings: upright walls with a folded rail.
	for _, side := range []float64{0, 1} {
		x := func(d float64) float64 {
			if side == 0 {
				return d
			}
			return 1 - d
		}
		l.PolyGrad([]paint.Pt{Pt(r, x(0.085), 0), Pt(r, x(0.115), 0.19), Pt(r, x(0.065), 0.91), Pt(r, x(0.030), 0.91)}, k.sheet, k.sheetLo)
		l.PolyGrad([]paint.Pt{Pt(r, x(0), 0), Pt(r, x(0.085), 0), Pt(r, x(0.032), 0.94), Pt(r, x(0), 0.94)}, k.sheetHi, k.sheet)
		l.Line([]paint.Pt{Pt(r, x(0.085), 0), Pt(r, x(0.032), 0.94)}, 5, paint.Fade(paint.White, 0.25))
		for i := range 13 {
			t := float64(i) / 12
			l.Disc(Pt(r, x(0.070-0.048*t), 0.04+0.86*t), 3, paint.Fade(paint.Black, 0.3))
		}
		l.Oval(Pt(r, x(0.098), 0.40), 22, 34, k.sheetLo, k.sheet)
	}
	// Radiator: core behind, tank with its cap and seams in front, lock carrier.
	l.BoxGrad(Sub(r, 0.20, 0.832, 0.60, 0.05), 2, paint.RGB(0x2a2c2b), paint.RGB(0x101211))
	for i := range 84 {
		l.Box(Sub(r, 0.203+0.0071*float64(i), 0.836, 0.0028, 0.042), 0, paint.RGB(0x4a4d4a))
	}
	rodH(l, Sub(r, 0.185, 0.868, 0.63, 0.072), 16, metal{paint.RGB(0x5d625f), paint.RGB(0x3a3f3d), paint.RGB(0x1b1e1d)})
	gloss(l, Sub(r, 0.21, 0.880, 0.56, 0.008))
	dome(l, Pt(r, 0.295, 0.900), 26, zinc)
	l.Box(Sub(r, 0.272, 0.893, 0.046, 0.013), 3, zinc.lo)
	l.BoxGrad(Sub(r, 0.02, 0.935, 0.96, 0.065), 4, k.sheetHi, k.sheetLo)
	l.Box(Sub(r, 0.02, 0.935, 0.96, 0.006), 0, paint.Fade(paint.White, 0.3))
	for _, x := range []float64{0.10, 0.24, 0.38, 0.62, 0.76, 0.90} {
		l.Oval(Pt(r, x, 0.970), 20, 9, k.sheetLo, paint.Black)
	}
	l.Box(Sub(r, 0.472, 0.948, 0.056, 0.04), 3, plasLo)
	l.Rope([]paint.Pt{Pt(r, 0.488, 0.968), Pt(r, 0.512, 0.968)}, 8, alloyHi)
}

// paintBulkhead is the bulkhead seen close.
func (k *Kit) paintBulkhead(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, k.sheetLo, k.wallLo)
	for i := range 3 {
		q := Sub(r, 0.03+0.325*float64(i), 0.10, 0.29, 0.66)
		l.Box(q, 40, paint.Fade(paint.Black, 0.22))
		l.BoxGrad(paint.Rect{X: q.X + 4, Y: q.Y + 6, W: q.W - 6, H: q.H - 8}, 36, k.wall, k.sheetLo)
	}
	for i := range 30 {
		l.Disc(Pt(r, 0.02+0.033*float64(i), 0.055), 4, paint.Fade(paint.Black, 0.3))
		l.Disc(Pt(r, 0.02+0.033*float64(i), 0.051), 2, paint.Fade(paint.White, 0.12))
	}
	l.Box(Sub(r, 0, 0.83, 1, 0.012), 0, paint.Fade(paint.Black, 0.4))
	l.Box(Sub(r, 0, 0.842, 1, 0.006), 0, paint.Fade(paint.White, 0.10))
	for _, p := range []paint.Pt{{X: 0.035, Y: 0.90}, {X: 0.5, Y: 0.90}, {X: 0.965, Y: 0.90}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 13)
	}
}
