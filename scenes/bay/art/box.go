package art

import "coldbay/scenes/paint"

// paintStud is the body's ground stud with ring terminals.
func (k *Kit) paintStud(l *paint.List, r paint.Rect) {
	c := r.Mid()
	l.Disc(c, r.W*0.52, k.sheetLo)
	l.Disc(c, r.W*0.47, k.sheetHi)
	l.Disc(c, r.W*0.36, alloyLo)
	l.Disc(c, r.W*0.31, alloy)
	bolt(l, c.X, c.Y, r.W*0.2)
	// Second ring terminal, of the pump's ground.
	d := Pt(r, 0.22, 0.84)
	l.Rope([]paint.Pt{c, d}, r.W*0.15, brass)
	l.Disc(d, r.W*0.14, brass)
	l.Disc(d, r.W*0.075, paint.RGB(0x7d6330))
}

// paintFuseBox is the open relay and fuse box: rim, floor, blank slots.
func (k *Kit) paintFuseBox(l *paint.List, r paint.Rect) {
	shade(l, r, 22)
	block(l, r, 22, plasHi, plastic, rubber)
	in := Sub(r, 0.02, 0.03, 0.96, 0.94)
	l.BoxGrad(in, 14, plasLo, paint.RGB(0x20282c))
	l.Box(Sub(r, 0.03, 0.615, 0.94, 0.012), 2, plasHi)
	for i := range 8 {
		x := 0.43 + 0.045*float64(i)
		l.BoxGrad(Sub(r, x, 0.455, 0.03, 0.09), 3, plasHi, plastic)
		l.Box(Sub(r, x+0.011, 0.47, 0.008, 0.06), 1, rubber)
	}
}

// paintFuseLid is the closed box in the overview.
func (k *Kit) paintFuseLid(l *paint.List, r paint.Rect) {
	shade(l, r, 12)
	block(l, r, 12, plasHi, plastic, rubber)
	l.BoxGrad(Sub(r, 0.05, 0.08, 0.90, 0.78), 8, paint.RGB(0x4b575d), plasHi)
	for i := range 3 {
		l.Box(Sub(r, 0.12+0.16*float64(i), 0.18, 0.12, 0.22), 4, paint.Fade(paint.Black, 0.28))
	}
	for i := range 7 {
		l.Box(Sub(r, 0.12+0.066*float64(i), 0.50, 0.04, 0.2), 3, paint.Fade(paint.Black, 0.28))
	}
	l.BoxGrad(Sub(r, 0.64, 0.20, 0.26, 0.48), 4, labelled, paint.RGB(0xb9b096))
	for i := range 4 {
		l.Box(Sub(r, 0.67, 0.27+0.09*float64(i), 0.18, 0.03), 1, paint.Fade(paint.RGB(0x3a5a66), 0.6))
	}
	l.BoxGrad(Sub(r, 0.44, 0.86, 0.12, 0.14), 4, alloyHi, alloyLo)
}

// paintRelay is a cube relay seen from above.
func (k *Kit) paintRelay(l *paint.List, r paint.Rect) {
	shade(l, r, 10)
	block(l, r, 10, paint.RGB(0x5a676d), plasHi, rubber)
	l.Frame(r.Inset(9), 6, 3, paint.Fade(paint.Black, 0.35))
	// Printed coil and contact.
	ink := labelled
	l.Frame(Sub(r, 0.18, 0.30, 0.22, 0.34), 2, 4, ink)
	l.Line([]paint.Pt{Pt(r, 0.18, 0.64), Pt(r, 0.40, 0.30)}, 4, ink)
	l.Line([]paint.Pt{Pt(r, 0.62, 0.22), Pt(r, 0.62, 0.40)}, 4, ink)
	l.Line([]paint.Pt{Pt(r, 0.62, 0.62), Pt(r, 0.74, 0.40)}, 4, ink)
	l.Line([]paint.Pt{Pt(r, 0.62, 0.62), Pt(r, 0.62, 0.78)}, 4, ink)
	l.Line([]paint.Pt{Pt(r, 0.42, 0.47), Pt(r, 0.64, 0.47)}, 2, paint.Fade(ink, 0.6))
}

// paintRelaySocket is what stays in the box: the four contacts.
func (k *Kit) paintRelaySocket(l *paint.List, r paint.Rect) {
	block(l, r, 12, plasHi, plastic, rubber)
	l.Box(Sub(r, 0.07, 0.05, 0.86, 0.60), 6, rubber)
	for i := range 4 {
		l.Box(Sub(r, 0.14+0.205*float64(i), 0.20, 0.10, 0.26), 3, paint.RGB(0x7d6330))
		l.Box(Sub(r, 0.17+0.205*float64(i), 0.24, 0.04, 0.18), 2, plasLo)
	}
	l.Box(Sub(r, 0.07, 0.68, 0.86, 0.29), 6, plasLo)
}

// paintFuseSocket is a fuse's place with its two clips.
func (k *Kit) paintFuseSocket(l *paint.List, r paint.Rect) {
	block(l, r, 8, plasHi, plastic, rubber)
	l.Box(Sub(r, 0.10, 0.05, 0.80, 0.90), 5, rubber)
	for _, x := range []float64{0.17, 0.65} {
		l.BoxGrad(Sub(r, x, 0.30, 0.18, 0.40), 3, brass, paint.RGB(0x7d6330))
	}
}

func fuse(l *paint.List, r paint.Rect, hi, lo paint.Ink) {
	shade(l, r, 8)
	for _, x := range []float64{0.10, 0.68} {
		l.BoxGrad(Sub(r, x, 0.55, 0.22, 0.48), 2, alloyHi, alloyLo)
	}
	l.Box(Sub(r, 0, 0, 1, 0.70), 10, paint.Fade(paint.Black, 0.7))
	l.BoxGrad(Sub(r, 0.015, 0.015, 0.97, 0.66), 9, hi, lo)
	l.Box(Sub(r, 0.12, 0.09, 0.76, 0.07), 4, paint.Fade(paint.White, 0.4))
	l.Box(Sub(r, 0.18, 0.24, 0.64, 0.32), 4, paint.Fade(paint.Black, 0.28))
}

func (k *Kit) paintFuseOrange(l *paint.List, r paint.Rect) {
	fuse(l, r, paint.RGB(0xe08b3a), paint.RGB(0xa85c1c))
}
func (k *Kit) paintFuseBlue(l *paint.List, r paint.Rect) {
	fuse(l, r, paint.RGB(0x5fa3cf), paint.RGB(0x2f6c96))
}

// paintEcmPlug is the controller's plug with its rows of pins.
func (k *Kit) paintEcmPlug(l *paint.List, r paint.Rect) {
	block(l, r, 12, plasHi, plastic, rubber)
	l.Box(r.Inset(14), 6, rubber)
	for row := range 3 {
		for i := range 14 {
			l.Box(Sub(r, 0.075+0.0625*float64(i), 0.18+0.25*float64(row), 0.028, 0.12), 2, paint.RGB(0x6b5630))
		}
	}
	l.BoxGrad(Sub(r, 0.30, -0.08, 0.40, 0.10), 6, alloyHi, alloyLo)
}

// paintPlug is a two-way connector lying level, latch above.
func (k *Kit) paintPlug(l *paint.List, r paint.Rect) {
	l.Box(Sub(r, 0.0, 0.1, 0.5, 0.8), 8, rubber)
	l.BoxGrad(Sub(r, 0.01, 0.12, 0.48, 0.74), 7, plasHi, plasLo)
	for _, y := range []float64{0.28, 0.58} {
		l.BoxGrad(Sub(r, -0.06, y, 0.10, 0.12), 2, brass, paint.RGB(0x7d6330))
	}
}
