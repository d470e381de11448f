package debrief

import (
	"math"
	"slices"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

func (s *Scene) timeline(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	head, body := r.CutTop(24, 4)
	wide := body.W - 310
	col := func(i int) paint.Rect {
		return paint.Rect{X: body.Right() - 200 + float64(i)*70, Y: head.Y, W: 62, H: 22}
	}
	l.TextIn(b.T("debrief.col.minute"), paint.LabelB, paint.Rect{X: body.X, Y: head.Y, W: 70, H: 22}, paint.Left, paint.PageDim)
	l.TextIn(b.T("debrief.col.step"), paint.LabelB, paint.Rect{X: body.X + 90, Y: head.Y, W: 200, H: 22}, paint.Left, paint.PageDim)
	known := slices.ContainsFunc(d.Steps, func(st page.Step) bool { return st.ParLeft >= 0 })
	for i, k := range []string{"left", "par", "regret"} {
		if k == "par" && !known {
			continue
		}
		l.TextIn(b.T("debrief.col."+k), paint.LabelB, col(i), paint.Right, paint.PageDim)
	}
	heights := make([]float64, len(d.Steps))
	for i, st := range d.Steps {
		heights[i] = l.ParaHeight(st.Sentence, paint.Small, wide) + 10
		for _, extra := range []string{st.Ruled, st.Better} {
			if extra != "" {
				heights[i] += l.ParaHeight(extra, paint.Small, wide)
			}
		}
		heights[i] = math.Max(heights[i], 30)
	}
	s.paged(b, "timeline", body, heights, func(i int, y float64) {
		st := d.Steps[i]
		l.Box(paint.Rect{X: body.X, Y: y, W: body.W, H: 1}, 0, paint.PageRul)
		y += 4
		l.Text(minutes(b, st.Minute), paint.Style{Face: paint.Mono, Size: 13}, body.X, y, paint.PageDim)
		l.TextIn(stage.Num(st.Left), paint.Style{Face: paint.Mono, Size: 14}, shift(col(0), y), paint.Right, paint.PageInk)
		par := ""
		if st.ParLeft >= 0 {
			par = stage.Num(st.ParLeft)
		}
		l.TextIn(par, paint.Style{Face: paint.Mono, Size: 14}, shift(col(1), y), paint.Right, paint.PageDim)
		if st.Regret > 0.05 {
			l.TextIn("+"+minutes(b, st.Regret), paint.Style{Face: paint.Mono, Size: 14}, shift(col(2), y), paint.Right, paint.Vermil)
		}
		x := body.X + 90
		all := st.Sentence
		y += l.Para(st.Sentence, paint.Small, paint.Rect{X: x, Y: y, W: wide, H: 400}, paint.PageInk)
		if st.Ruled != "" {
			y += l.Para(st.Ruled, paint.Small, paint.Rect{X: x, Y: y, W: wide, H: 400}, paint.Navy)
			all += " " + st.Ruled
		}
		if st.Better != "" {
			l.Fill([]paint.Pt{{X: x - 14, Y: y + 3}, {X: x - 5, Y: y + 8}, {X: x - 14, Y: y + 13}}, paint.Vermil)
			l.Para(st.Better, paint.Small, paint.Rect{X: x, Y: y, W: wide, H: 400}, paint.RGB(0x9c4400))
			all += " " + st.Better
		}
		b.Read(minutes(b, st.Minute) + ": " + all)
	})
}

func shift(r paint.Rect, y float64) paint.Rect { r.Y = y - 2; return r }
