package debrief

import (
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// thought shows the same actions in the true car and in that of a suspect, who is chosen at the left.
func (s *Scene) thought(b *ui.Build, r paint.Rect, d *page.Document) {
	list, table := r.CutLeft(r.W*0.29, 24)
	s.whom(b, list, d)
	t, ok := d.Find(s.other)
	if !ok && len(d.Thoughts) > 0 {
		t, ok = &d.Thoughts[0], true
	}
	if !ok {
		words := b.T("debrief.thought.none")
		b.Front.Para(words, paint.Body, table, paint.PageInk)
		b.Read(words)
		return
	}
	s.sideBySide(b, table, t)
}

// whom lists the suspects to choose from; those that the trainee named or kept are marked.
func (s *Scene) whom(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	head, body := r.CutTop(l.ParaHeight(b.T("debrief.thought.choose"), paint.SmallB, r.W)+6, 0)
	l.Para(b.T("debrief.thought.choose"), paint.SmallB, head, paint.PageInk)
	b.Read(b.T("debrief.thought.choose"))
	b.Group("suspects")
	shown := s.other
	if shown == "" && len(d.Thoughts) > 0 {
		shown = d.Thoughts[0].Suspect
	}
	heights := make([]float64, len(d.Suspects))
	for i, x := range d.Suspects {
		heights[i] = l.ParaHeight(x.Name, paint.Small, r.W-26) + 12
	}
	s.paged(b, "suspects", body, heights, func(i int, y float64) {
		x := d.Suspects[i]
		box := paint.Rect{X: body.X, Y: y, W: body.W, H: heights[i] - 4}
		c := ui.Control{ID: "debrief.suspect." + x.ID, Name: b.T("debrief.thought.ask", "name", x.Name), Role: ui.Toggle, Rect: box, On: x.ID == shown,
			Do: func() {
				s.desk.Compare(x.ID, func() { s.other, s.pages["thought"] = x.ID, 0; s.desk.Touch() })
			}}
		b.Control(c, "", ui.Look{Paper: true})
		ink := choose(c.On, paint.Page, paint.PageInk)
		l.Para(x.Name, paint.Small, paint.Rect{X: box.X + 18, Y: box.Y + 3, W: box.W - 26, H: box.H - 4}, ink)
		if t, ok := d.Find(x.ID); ok && t.Marked {
			l.Disc(paint.Pt{X: box.X + 9, Y: box.Mid().Y}, 4, paint.Orange)
		}
	})
}

// sideBySide is the table of both cars.
func (s *Scene) sideBySide(b *ui.Build, r paint.Rect, t *page.Thought) {
	l := b.Front
	title := b.T("debrief.thought.title", "heading", t.Heading, "name", t.Name)
	y := r.Y + l.Para(title, paint.Heading, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 52}, paint.PageInk) + 2
	y += l.Para(t.Says, paint.Small, paint.Rect{X: r.X, Y: y, W: r.W, H: 60}, paint.RGB(0x9c4400)) + 6
	b.Read(title)
	b.Read(t.Says)
	seq, did, cars := 48.0, (r.W-48)*0.34, (r.W-48)*0.33
	at := []float64{r.X, r.X + seq, r.X + seq + did, r.X + seq + did + cars}
	for i, k := range []string{"line", "did", "true", "theirs"} {
		w := []float64{seq, did, cars, cars}[i] - 10
		l.TextIn(b.T("debrief.thought.col."+k), paint.LabelB, paint.Rect{X: at[i], Y: y, W: w, H: 18}, paint.Left, paint.PageDim)
	}
	body := paint.Rect{X: r.X, Y: y + 20, W: r.W, H: r.Bottom() - y - 20}
	nothing := b.T("debrief.thought.nothing")
	cell := func(x string) string { return choose(x == "", nothing, x) }
	heights := make([]float64, len(t.Lines))
	for i, x := range t.Lines {
		heights[i] = 12 + max(l.ParaHeight(x.Did, paint.Small, did-14), l.ParaHeight(cell(x.True), paint.Small, cars-14), l.ParaHeight(cell(x.Theirs), paint.Small, cars-22))
	}
	s.paged(b, "thought", body, heights, func(i int, y float64) {
		x := t.Lines[i]
		row := paint.Rect{X: body.X, Y: y, W: body.W, H: heights[i]}
		parts := x.Seq == t.PartsAt
		if parts {
			// The line where the two part is framed as well as tinted, and says so at its end.
			l.Box(row.Pad(-4, 1), 4, paint.RGB(0xf6d9b8))
			l.Frame(row.Pad(-4, 1), 4, 1.5, paint.Vermil)
		} else {
			l.Box(paint.Rect{X: row.X, Y: row.Y, W: row.W, H: 1}, 0, paint.PageRul)
		}
		y += 5
		l.Text(stage.Num(x.Seq), paint.Style{Face: paint.Mono, Size: 13}, at[0], y, paint.PageDim)
		l.Para(x.Did, paint.Small, paint.Rect{X: at[1], Y: y, W: did - 14, H: 600}, paint.PageInk)
		l.Para(cell(x.True), paint.Small, paint.Rect{X: at[2], Y: y, W: cars - 14, H: 600}, choose(x.True == "", paint.PageDim, paint.PageInk))
		l.Para(cell(x.Theirs), paint.Small, paint.Rect{X: at[3], Y: y, W: cars - 22, H: 600}, choose(x.Theirs == "", paint.PageDim, paint.PageInk))
		said := b.T("debrief.thought.read", "line", stage.Num(x.Seq), "did", x.Did, "true", cell(x.True), "theirs", cell(x.Theirs))
		if parts {
			ui.Cross(l, paint.Rect{X: row.Right() - 12, Y: row.Y + 8, W: 10, H: 10}, paint.Vermil)
			said += " " + b.T("debrief.thought.part")
		}
		b.Read(said)
	})
}
