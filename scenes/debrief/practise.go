package debrief

import (
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// practise says which kind of decision cost most, where, and what to take next.
func (s *Scene) practise(b *ui.Build, r paint.Rect, d *page.Document) {
	left, right := r.CutLeft(r.W*0.44, 36)
	s.kinds(b, left, d)
	s.moments(b, right, d)
}

func (s *Scene) kinds(b *ui.Build, r paint.Rect, d *page.Document) {
	l, p := b.Front, &d.Practise
	l.TextIn(b.T("debrief.practise.head"), paint.Heading, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 24}, paint.Left, paint.PageInk)
	y := r.Y + 32
	y += l.Para(p.Says, paint.Body, paint.Rect{X: r.X, Y: y, W: r.W, H: 90}, paint.PageInk) + 14
	b.Read(p.Says)
	top := 0.0
	for _, k := range p.Kinds {
		top = max(top, k.Minutes)
	}
	for i, k := range p.Kinds {
		l.TextIn(k.Name, paint.SmallB, paint.Rect{X: r.X, Y: y, W: r.W - 90, H: 18}, paint.Left, paint.PageInk)
		// The dearest is hatched as well as coloured.
		bar := paint.Rect{X: r.X, Y: y + 20, W: max(3, (r.W-92)*k.Minutes/top), H: 13}
		l.Box(bar, 2, choose(i == 0, paint.Vermil, paint.Blue))
		for x := bar.X + 8; i == 0 && x < bar.Right()-6; x += 10 {
			l.Line([]paint.Pt{{X: x, Y: bar.Bottom() - 2}, {X: x + 5, Y: bar.Y + 2}}, 1.5, paint.Page)
		}
		words := b.T("debrief.practise.minutes", "n", minutes(b, k.Minutes))
		l.TextIn(words, paint.Digits, paint.Rect{X: r.Right() - 86, Y: y + 14, W: 86, H: 22}, paint.Right, paint.PageInk)
		b.Read(k.Name + ": " + words)
		y += 42
	}
	if p.Next == nil {
		return
	}
	h := 74 + l.ParaHeight(p.Next.Title, paint.Strong, r.W-32) + l.ParaHeight(p.Next.Says, paint.Small, r.W-32)
	card := paint.Rect{X: r.X, Y: min(y+10, r.Bottom()-h), W: r.W, H: h}
	l.Box(card, 6, paint.PageRul)
	l.Box(card.Inset(1.5), 5, paint.PageLo)
	in := card.Pad(16, 8)
	l.TextIn(b.T("debrief.practise.next"), paint.LabelB, paint.Rect{X: in.X, Y: in.Y, W: in.W, H: 18}, paint.Left, paint.PageDim)
	at := in.Y + 20
	at += l.Para(p.Next.Title, paint.Strong, paint.Rect{X: in.X, Y: at, W: in.W, H: 44}, paint.PageInk)
	l.Para(p.Next.Says, paint.Small, paint.Rect{X: in.X, Y: at, W: in.W, H: 60}, paint.PageInk)
	b.Read(b.T("debrief.practise.next") + ": " + p.Next.Title + ". " + p.Next.Says)
	b.Group("next")
	b.Control(ui.Control{ID: "debrief.next", Name: b.T("debrief.practise.take", "title", p.Next.Title), Role: ui.Push,
		Rect: paint.Rect{X: in.X, Y: in.Bottom() - 28, W: 190, H: 28}, Do: func() { s.desk.Open(p.Next.Order, false) }},
		b.T("board.take"), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
}

func (s *Scene) moments(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	l.TextIn(b.T("debrief.practise.moments"), paint.Heading, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 24}, paint.Left, paint.PageInk)
	y := r.Y + 34
	if len(d.Practise.Moments) == 0 {
		words := b.T("debrief.practise.nomoments")
		l.Para(words, paint.Body, paint.Rect{X: r.X, Y: y, W: r.W, H: 60}, paint.PageInk)
		b.Read(words)
	}
	for i, m := range d.Practise.Moments {
		l.Box(paint.Rect{X: r.X, Y: y, W: r.W, H: 1}, 0, paint.PageRul)
		y += 8
		c := paint.Pt{X: r.X + 13, Y: y + 12}
		l.Disc(c, 13, choose(i == 0, paint.Vermil, paint.PageInk))
		l.TextIn(stage.Num(i+1), paint.Strong, paint.Rect{X: c.X - 12, Y: c.Y - 12, W: 24, H: 24}, paint.Centre, paint.White)
		in := paint.Rect{X: r.X + 38, Y: y, W: r.W - 38}
		head := b.T("debrief.practise.moment", "line", stage.Num(m.Seq), "n", minutes(b, m.Minutes))
		l.TextIn(head, paint.SmallB, paint.Rect{X: in.X, Y: y, W: in.W - 124, H: 20}, paint.Left, paint.PageInk)
		b.Group("moments")
		b.Control(ui.Control{ID: "debrief.moment." + stage.Num(m.Seq), Name: b.T("debrief.replay.see.name", "line", stage.Num(m.Seq)), Role: ui.Push,
			Rect: paint.Rect{X: in.Right() - 120, Y: y - 2, W: 120, H: 25}, Do: func() { s.look(m.Seq) }}, b.T("debrief.replay.see"),
			ui.Look{Paper: true, Style: paint.Small, Align: paint.Centre})
		y += 22
		y += l.Para(m.Did, paint.Small, paint.Rect{X: in.X, Y: y, W: in.W, H: 80}, paint.PageInk) + 2
		if m.Better != "" {
			better := b.T("debrief.better", "what", m.Better)
			y += l.Para(better, paint.Small, paint.Rect{X: in.X, Y: y, W: in.W, H: 80}, paint.RGB(0x9c4400))
		}
		y += 12
		b.Read(head + ". " + m.Did + " " + m.Better)
	}
}
