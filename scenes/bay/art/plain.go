package art

import "coldbay/scenes/paint"

// paintPlate is what a nipple sits on.
func (k *Kit) paintPlate(l *paint.List, r paint.Rect) {
	shade(l, r, 8)
	block(l, r, 8, alloyHi, alloy, alloyLo)
}

// paintPost is a terminal's brass post.
func (k *Kit) paintPost(l *paint.List, r paint.Rect) {
	l.Disc(r.Mid(), r.W*0.5, rubber)
	l.Disc(r.Mid(), r.W*0.4, brass)
	l.Disc(r.Mid(), r.W*0.22, paint.RGB(0x7d6330))
}

// paintCable is a piece of cable that a clamp goes round.
func (k *Kit) paintCable(l *paint.List, r paint.Rect) {
	Tube(&l.Mesh, []paint.Pt{{X: r.X, Y: r.Mid().Y}, {X: r.Right(), Y: r.Mid().Y}}, r.H*0.8, Ink("red"))
}

// paintPanel is a place in the overview of a car that has no drawing of its own.
func (k *Kit) paintPanel(l *paint.List, r paint.Rect) {
	shade(l, r, 18)
	l.Box(r, 18, k.sheetLo)
	l.BoxGrad(r.Inset(3), 16, k.sheetHi, k.sheet)
	for _, p := range []paint.Pt{{X: 0.04, Y: 0.92}, {X: 0.96, Y: 0.92}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 7)
	}
}

// paintCrate is a part of which nothing more is known.
func (k *Kit) paintCrate(l *paint.List, r paint.Rect) {
	shade(l, r, 10)
	block(l, r, 10, plasHi, plastic, rubber)
	l.Frame(r.Inset(10), 6, 3, paint.Fade(paint.White, 0.2))
}

// paintGap is the place that a part leaves.
func (k *Kit) paintGap(l *paint.List, r paint.Rect) {
	l.Box(r, 10, paint.Fade(paint.Black, 0.35))
	l.Frame(r, 10, 2, paint.Fade(paint.White, 0.15))
}
