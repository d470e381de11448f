package art

import "coldbay/scenes/paint"

// paintStripBox is the open box of strip fuses on the battery: a bus bar along its upper studs, three places below.
func (k *Kit) paintStripBox(l *paint.List, r paint.Rect) {
	drop(l, r, 16, 14)
	block(l, r, 16, moulded.hi, plastic, rubber)
	l.BoxGrad(Sub(r, 0.03, 0.05, 0.94, 0.90), 10, plasLo, paint.RGB(0x20282c))
	for i := range 3 {
		x := 0.075 + 0.30*float64(i)
		l.BoxGrad(Sub(r, x, 0.09, 0.25, 0.82), 8, paint.RGB(0x11171a), paint.RGB(0x1b2327))
		l.Frame(Sub(r, x, 0.09, 0.25, 0.82), 8, 2, paint.Fade(paint.White, 0.10))
	}
	rodH(l, Sub(r, 0.10, 0.145, 0.86, 0.085), 3, zinc)
	for i := range 3 {
		x := 0.20 + 0.30*float64(i)
		for _, y := range []float64{0.19, 0.79} {
			l.Disc(Pt(r, x, y+0.01), r.H*0.078, paint.Fade(paint.Black, 0.6))
			bolt(l, r.X+r.W*x, r.Y+r.H*y, r.H*0.07)
		}
	}
	// The two other fuses stay.
	for _, i := range []float64{0, 2} {
		k.paintFuseStrip(l, Sub(r, 0.20+0.30*i-0.075, 0.12, 0.15, 0.74))
	}
}

// paintFuseStrip is a bolted strip fuse: two eyes, a window over the link.
func (k *Kit) paintFuseStrip(l *paint.List, r paint.Rect) {
	l.Box(Sub(r, 0.10, 0.03, 0.88, 0.98), 8, paint.Fade(paint.Black, 0.4))
	for _, y := range []float64{0, 0.80} {
		rodV(l, Sub(r, 0.14, y, 0.72, 0.20), 8, bright)
		c := Pt(r, 0.5, y+0.095)
		bolt(l, c.X, c.Y, r.W*0.25)
	}
	l.BoxGrad(Sub(r, 0.02, 0.22, 0.96, 0.56), 6, paint.RGB(0x7fb08a), paint.RGB(0x44785a))
	l.BoxGrad(Sub(r, 0.20, 0.34, 0.60, 0.32), 4, paint.Fade(paint.White, 0.35), paint.Fade(paint.White, 0.12))
	l.Line(paint.Curve([]paint.Pt{Pt(r, 0.5, 0.36), Pt(r, 0.62, 0.43), Pt(r, 0.38, 0.53), Pt(r, 0.5, 0.64)}), r.W*0.09, alloyLo)
	gloss(l, Sub(r, 0.10, 0.245, 0.80, 0.025))
}

// paintStripLid is the same box shut, with its two clips, small in the overview.
func (k *Kit) paintStripLid(l *paint.List, r paint.Rect) {
	drop(l, r, 8, 8)
	block(l, r, 8, moulded.hi, plastic, rubber)
	l.BoxGrad(Sub(r, 0.06, 0.10, 0.88, 0.74), 6, paint.RGB(0x5a676d), plasHi)
	tag(l, Sub(r, 0.16, 0.24, 0.36, 0.46), 2)
	gill(l, Sub(r, 0.60, 0.24, 0.28, 0.46), 4, 0.5, paint.Fade(paint.Black, 0.35))
	for _, x := range []float64{0.0, 0.94} {
		l.BoxGrad(Sub(r, x, 0.38, 0.06, 0.28), 2, alloyHi, alloyLo)
	}
}

// paintBlockStud is a ground point on the engine block: a machined boss with a bolt.
func (k *Kit) paintBlockStud(l *paint.List, r paint.Rect) {
	c := r.Mid()
	l.Disc(paint.Pt{X: c.X + 1, Y: c.Y + r.H*0.06}, r.W*0.5, paint.Fade(paint.Black, 0.5))
	dome(l, c, r.W*0.48, bright)
	bolt(l, c.X, c.Y, r.W*0.26)
}

// paintRelaySmall is a relay in its socket on a bracket, in the overview.
func (k *Kit) paintRelaySmall(l *paint.List, r paint.Rect) {
	drop(l, r, 6, 8)
	l.BoxGrad(Sub(r, 0.10, 0.78, 0.80, 0.22), 4, plasLo, rubber)
	block(l, Sub(r, 0, 0, 1, 0.84), 6, moulded.hi, plasHi, plasLo)
	gloss(l, Sub(r, 0.12, 0.06, 0.76, 0.05))
	l.Frame(Sub(r, 0.22, 0.26, 0.30, 0.32), 1, 2, labelled)
	l.Line([]paint.Pt{Pt(r, 0.64, 0.58), Pt(r, 0.78, 0.32)}, 2.5, labelled)
}
