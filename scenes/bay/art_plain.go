package bay

import "coldbay/scenes/paint"

// artPlate is what a nipple sits on.
func artPlate(l *paint.List, r paint.Rect) {
	shade(l, r, 8)
	block(l, r, 8, alloyHi, alloy, alloyLo)
}

// artPost is a terminal's brass post.
func artPost(l *paint.List, r paint.Rect) {
	l.Disc(r.Mid(), r.W*0.5, rubber)
	l.Disc(r.Mid(), r.W*0.4, brass)
	l.Disc(r.Mid(), r.W*0.22, paint.RGB(0x7d6330))
}

// artCable is a piece of cable that a clamp goes round.
func artCable(l *paint.List, r paint.Rect) {
	tube(&l.Mesh, []paint.Pt{{X: r.X, Y: r.Mid().Y}, {X: r.Right(), Y: r.Mid().Y}}, r.H*0.8, inks("red"))
}

// artPanel is a place in the overview of a car that has no drawing of its own.
func artPanel(l *paint.List, r paint.Rect) {
	shade(l, r, 18)
	l.Box(r, 18, sheetLo)
	l.BoxGrad(r.Inset(3), 16, sheetHi, sheet)
	for _, p := range []paint.Pt{{X: 0.04, Y: 0.92}, {X: 0.96, Y: 0.92}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 7)
	}
}

// artCrate is a part of which nothing more is known.
func artCrate(l *paint.List, r paint.Rect) {
	shade(l, r, 10)
	block(l, r, 10, plasHi, plastic, rubber)
	l.Frame(r.Inset(10), 6, 3, paint.Fade(paint.White, 0.2))
}

// artGap is the place that a part leaves.
func artGap(l *paint.List, r paint.Rect) {
	l.Box(r, 10, paint.Fade(paint.Black, 0.35))
	l.Frame(r, 10, 2, paint.Fade(paint.White, 0.15))
}
