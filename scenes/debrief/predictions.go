package debrief

import (
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// predictions holds what was written down beforehand against what was read.
func (s *Scene) predictions(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	l.TextIn(b.T("debrief.predictions.head"), paint.Heading, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 24}, paint.Left, paint.PageInk)
	note := b.T("debrief.predictions.note")
	if len(d.Predictions) == 0 {
		note = b.T("debrief.predictions.none")
	}
	y := r.Y + 30
	y += l.Para(note, paint.Small, paint.Rect{X: r.X, Y: y, W: r.W, H: 40}, paint.PageDim) + 8
	b.Read(note)
	body := paint.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	half := (body.W - 190) / 2
	heights := make([]float64, len(d.Predictions))
	for i, p := range d.Predictions {
		heights[i] = 18 + max(20, l.ParaHeight(p.Text, paint.Body, half-20), l.ParaHeight(p.Verdict, paint.Small, half-10))
	}
	s.paged(b, "predictions", body, heights, func(i int, y float64) {
		p := d.Predictions[i]
		l.Box(paint.Rect{X: body.X, Y: y, W: body.W, H: 1}, 0, paint.PageRul)
		y += 8
		line := b.T("debrief.line", "n", stage.Num(p.Seq))
		l.TextIn(line, paint.SmallB, paint.Rect{X: body.X, Y: y, W: 66, H: 20}, paint.Left, paint.PageDim)
		l.Para(b.T("debrief.quote", "text", p.Text), paint.Body, paint.Rect{X: body.X + 70, Y: y, W: half - 20, H: 400}, paint.PageInk)
		sign := paint.Rect{X: body.X + 70 + half, Y: y + 4, W: 12, H: 11}
		key := "unjudged"
		switch {
		case p.Right:
			key = "right"
			ui.Tick(l, sign, paint.Green)
		case p.Judged:
			key = "wrong"
			ui.Cross(l, sign, paint.Vermil)
		default:
			l.Line([]paint.Pt{{X: sign.X, Y: sign.Mid().Y}, {X: sign.Right(), Y: sign.Mid().Y}}, 2.5, paint.PageDim)
		}
		words := b.T("debrief.predictions." + key)
		l.Para(words, paint.SmallB, paint.Rect{X: sign.Right() + 6, Y: y, W: 96, H: 40}, paint.PageInk)
		l.Para(p.Verdict, paint.Small, paint.Rect{X: body.Right() - half + 10, Y: y, W: half - 10, H: 400}, paint.PageInk)
		b.Read(line + ": " + p.Text + ". " + words + ". " + p.Verdict)
	})
}
