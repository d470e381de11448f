package debrief

import (
	"math"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench/phrase"
)

func (s *Scene) board(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	head, body := r.CutTop(42, 4)
	l.Para(b.T("debrief.board.note"), paint.Small, head, paint.PageDim)
	heights := make([]float64, len(d.Board))
	wide := body.W*0.5 - 20
	for i, x := range d.Board {
		heights[i] = 28
		if !x.Agrees() || x.Truth {
			heights[i] = math.Max(28, l.ParaHeight(x.Why, paint.Small, wide)+10)
		}
	}
	s.paged(b, "board", body, heights, func(i int, y float64) {
		x := d.Board[i]
		l.Box(paint.Rect{X: body.X, Y: y, W: body.W, H: 1}, 0, paint.PageRul)
		name := x.Suspect
		st := paint.Body
		if x.Truth {
			st = paint.Strong
			l.Disc(paint.Pt{X: body.X + 6, Y: y + 14}, 5, paint.Orange)
		}
		l.TextIn(name, st, paint.Rect{X: body.X + 18, Y: y + 1, W: body.W*0.36 - 18, H: 26}, paint.Left, paint.PageInk)
		key := map[[2]bool]string{{true, true}: "struck", {true, false}: "tooearly", {false, true}: "kept", {false, false}: "open"}[[2]bool{x.Struck, x.RuledOut}]
		words := b.T("debrief.board." + key)
		sign := paint.Rect{X: body.X + body.W*0.37, Y: y + 8, W: 12, H: 11}
		if x.Agrees() {
			ui.Tick(l, sign, paint.Green)
		} else {
			ui.Cross(l, sign, paint.Vermil)
		}
		l.TextIn(words, paint.Small, paint.Rect{X: sign.Right() + 6, Y: y + 2, W: body.W*0.13 - 22, H: 24}, paint.Left, paint.PageInk)
		if !x.Agrees() || x.Truth {
			l.Para(x.Why, paint.Small, paint.Rect{X: body.X + body.W*0.5 + 20, Y: y + 5, W: wide, H: 300}, paint.PageDim)
		}
		b.Read(name + ": " + words)
	})
}

func (s *Scene) bill(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	left, right := r.CutLeft(r.W*0.5, 36)
	l.TextIn(b.T("debrief.bill.head"), paint.Heading, paint.Rect{X: left.X, Y: left.Y, W: left.W, H: 24}, paint.Left, paint.PageInk)
	y := left.Y + 34
	for _, x := range d.Bill {
		l.Box(paint.Rect{X: left.X, Y: y + 27, W: left.W, H: 1}, 0, paint.PageRul)
		l.TextIn(x.Name, paint.Body, paint.Rect{X: left.X, Y: y, W: left.W - 190, H: 26}, paint.Left, paint.PageInk)
		words := b.T(choose(x.Needed, "debrief.needed", "debrief.needless"))
		l.TextIn(words, paint.Small, paint.Rect{X: left.Right() - 184, Y: y, W: 84, H: 26}, paint.Left, choose(x.Needed, paint.PageDim, paint.Vermil))
		l.TextIn(b.Msg.Decimal(phrase.Money(x.Cents)), paint.Digits, paint.Rect{X: left.Right() - 96, Y: y, W: 96, H: 26}, paint.Right, paint.PageInk)
		b.Read(x.Name + ", " + b.Msg.Decimal(phrase.Money(x.Cents)) + ", " + words)
		y += 28
	}
	l.TextIn(b.T("debrief.total"), paint.Strong, paint.Rect{X: left.X, Y: y + 4, W: 200, H: 26}, paint.Left, paint.PageInk)
	l.TextIn(b.Msg.Decimal(phrase.Money(d.BillCents)), paint.Style{Face: paint.Mono, Size: 17}, paint.Rect{X: left.Right() - 120, Y: y + 4, W: 120, H: 26}, paint.Right, paint.PageInk)
	l.TextIn(b.T("debrief.safety"), paint.Heading, paint.Rect{X: right.X, Y: right.Y, W: right.W, H: 24}, paint.Left, paint.PageInk)
	y = right.Y + 34
	if len(d.Hazards) == 0 {
		l.Para(b.T("debrief.safe"), paint.Body, paint.Rect{X: right.X, Y: y, W: right.W, H: 60}, paint.PageInk)
	}
	for _, h := range d.Hazards {
		ui.Warn(l, paint.Rect{X: right.X, Y: y, W: 22, H: 20}, paint.Orange, paint.Black)
		y += l.Para(h, paint.Body, paint.Rect{X: right.X + 32, Y: y, W: right.W - 32, H: right.Bottom() - y - 60}, paint.PageInk) + 10
		b.Read(h)
	}
	l.Para(d.Caution, paint.Small, paint.Rect{X: right.X, Y: right.Bottom() - 52, W: right.W, H: 52}, paint.PageDim)
	b.Read(d.Caution)
}
