// Package debrief shows what the grader found: marks, the timeline against the best plan, the suspect board against the
// evidence, the bill and the hazards.
package debrief

import (
	"fmt"
	"math"
	"slices"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/phrase"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the debrief.
type Scene struct {
	desk  *stage.Desk
	tab   string
	pages map[string]int
}

// New makes the debrief of a desk.
func New(desk *stage.Desk) *Scene {
	return &Scene{desk: desk, tab: "marks", pages: map[string]int{}}
}

// Enter begins at the marks.
func (s *Scene) Enter() { s.tab = "marks" }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

func minutes(v float64) string { return fmt.Sprintf("%.1f", v) }

// Build shows one page of the debrief under its heading.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Debrief)
	d := s.desk.Doc
	b.Page.Title = b.T("debrief.title")
	room := stage.Below(b.W, b.H).Pad(12, 6)
	tabs, paper := room.CutTop(34, 0)
	b.Group("sheets")
	for i, t := range []string{"marks", "timeline", "board", "bill"} {
		b.Control(ui.Control{ID: "debrief." + t, Name: b.T("debrief." + t), Role: ui.Tab, On: s.tab == t,
			Rect: paint.Rect{X: tabs.X + float64(i)*206, Y: tabs.Y, W: 200, H: 30}, Do: func() { s.tab = t; s.desk.Touch() }},
			b.T("debrief."+t), ui.Look{Align: paint.Centre})
	}
	ui.Paper(b.Front, paper)
	in := paper.Pad(24, 16)
	if d == nil {
		b.Front.Para(b.T("debrief.none"), paint.Body, in, paint.PageInk)
		return
	}
	switch s.tab {
	case "marks":
		s.marks(b, in, d)
	case "timeline":
		s.timeline(b, in, d)
	case "board":
		s.board(b, in, d)
	default:
		s.bill(b, in, d)
	}
}

func (s *Scene) marks(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	y := r.Y
	y += l.Para(d.Truth, paint.Heading, paint.Rect{X: r.X, Y: y, W: r.W, H: 48}, paint.PageInk) + 2
	verdict := d.Verdict
	for _, c := range d.Caps {
		verdict += " " + c
	}
	y += l.Para(verdict, paint.Body, paint.Rect{X: r.X, Y: y, W: r.W, H: 60}, paint.PageDim) + 8
	b.Read(d.Truth)
	b.Read(verdict)
	left, right := paint.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}.CutLeft(r.W*0.60, 28)
	h := left.H / float64(max(len(d.Marks), 1))
	for i, m := range d.Marks {
		s.mark(b, paint.Rect{X: left.X, Y: left.Y + float64(i)*h, W: left.W, H: h}, m)
	}
	s.references(b, right, d)
}

func (s *Scene) mark(b *ui.Build, r paint.Rect, m page.Mark) {
	l := b.Front
	l.Box(paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 1}, 0, paint.PageRul)
	l.TextIn(m.Name, paint.Strong, paint.Rect{X: r.X, Y: r.Y + 5, W: 92, H: 24}, paint.Left, paint.PageInk)
	bar := paint.Rect{X: r.X + 98, Y: r.Y + 10, W: r.W - 98 - 150, H: 14}
	l.Box(bar, 3, paint.PageRul)
	if w := bar.W * float64(m.Score) / 100; w > 2 {
		l.Box(paint.Rect{X: bar.X, Y: bar.Y, W: w, H: bar.H}, 3, choose(m.Passed, paint.Blue, paint.Vermil))
	}
	l.TextIn(stage.Num(m.Score), paint.Style{Face: paint.Mono, Size: 17}, paint.Rect{X: bar.Right() + 6, Y: r.Y + 4, W: 40, H: 26}, paint.Right, paint.PageInk)
	sign := paint.Rect{X: bar.Right() + 58, Y: r.Y + 10, W: 14, H: 13}
	words := b.T("debrief.passed")
	if m.Passed {
		ui.Tick(l, sign, paint.Green)
	} else {
		ui.Cross(l, sign, paint.Vermil)
		words = b.T("debrief.failed")
	}
	l.TextIn(words, paint.Small, paint.Rect{X: sign.Right() + 6, Y: r.Y + 6, W: r.Right() - sign.Right() - 6, H: 22}, paint.Left, paint.PageInk)
	l.Para(m.Reason, paint.Small, paint.Rect{X: r.X, Y: r.Y + 31, W: r.W, H: r.H - 33}, paint.PageInk)
	b.Read(b.T("debrief.mark", "name", m.Name, "score", stage.Num(m.Score), "state", words, "reason", m.Reason))
}

// references are the minutes used and the three to compare with, as bars on one scale.
func (s *Scene) references(b *ui.Build, r paint.Rect, d *page.Document) {
	l := b.Front
	l.TextIn(b.T("debrief.minutes"), paint.Strong, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 22}, paint.Left, paint.PageInk)
	rows := []struct {
		key  string
		ref  page.Reference
		mine bool
	}{
		{"debrief.used", page.Reference{Minutes: d.Minutes, Known: true}, true}, {"debrief.par", d.Par, false},
		{"debrief.faultpar", d.FaultPar, false}, {"debrief.proofline", d.ProofLine, false},
	}
	top := 1.0
	for _, x := range rows {
		top = math.Max(top, x.ref.Minutes)
	}
	y := r.Y + 28
	for _, x := range rows {
		value := b.T("debrief.unknown")
		if x.ref.Known {
			value = minutes(x.ref.Minutes)
			l.Box(paint.Rect{X: r.X, Y: y + 20, W: math.Max(2, (r.W-64)*x.ref.Minutes/top), H: 12}, 2, choose(x.mine, paint.Orange, paint.Blue))
		}
		l.TextIn(b.T(x.key), paint.SmallB, paint.Rect{X: r.X, Y: y, W: r.W - 60, H: 18}, paint.Left, paint.PageInk)
		l.TextIn(value, paint.Digits, paint.Rect{X: r.Right() - 60, Y: y + 14, W: 60, H: 22}, paint.Right, paint.PageInk)
		b.Read(b.T(x.key) + ": " + value)
		y += 38
		if x.ref.Note != "" {
			y += l.Para(x.ref.Note, paint.Label, paint.Rect{X: r.X, Y: y - 3, W: r.W, H: 32}, paint.PageDim)
		}
		y += 4
	}
	if len(d.ProofLine.Steps) == 0 || y > r.Bottom()-40 {
		return
	}
	l.TextIn(b.T("debrief.proof.steps"), paint.SmallB, paint.Rect{X: r.X, Y: y, W: r.W, H: 20}, paint.Left, paint.PageInk)
	y += 22
	for i, step := range d.ProofLine.Steps {
		words := stage.Num(i+1) + ". " + step
		if y+l.ParaHeight(words, paint.Small, r.W) > r.Bottom()+4 {
			break
		}
		y += l.Para(words, paint.Small, paint.Rect{X: r.X, Y: y, W: r.W, H: 80}, paint.PageInk) + 2
	}
}

func (s *Scene) turn(id string) func(int) {
	return func(d int) { s.pages[id] += d; s.desk.Touch() }
}

// paged sets blocks of different heights page by page; set paints block i at y.
func (s *Scene) paged(b *ui.Build, id string, r paint.Rect, heights []float64, set func(i int, y float64)) {
	room := r.H - 34
	var starts []int
	h := 0.0
	for i, need := range heights {
		if i == 0 || h+need > room {
			starts, h = append(starts, i), 0
		}
		h += need
	}
	if len(starts) == 0 {
		return
	}
	p := min(max(s.pages[id], 0), len(starts)-1)
	s.pages[id] = p
	end := len(heights)
	if p+1 < len(starts) {
		end = starts[p+1]
	}
	y := r.Y
	for i := starts[p]; i < end; i++ {
		set(i, y)
		y += heights[i]
	}
	b.Group("pages")
	b.Pager("debrief."+id+".page", paint.Pt{X: r.Right() - 150, Y: r.Bottom() - 28}, p, len(starts), true, r, s.turn(id))
}

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
		l.Text(minutes(st.Minute), paint.Style{Face: paint.Mono, Size: 13}, body.X, y, paint.PageDim)
		l.TextIn(stage.Num(st.Left), paint.Style{Face: paint.Mono, Size: 14}, shift(col(0), y), paint.Right, paint.PageInk)
		par := ""
		if st.ParLeft >= 0 {
			par = stage.Num(st.ParLeft)
		}
		l.TextIn(par, paint.Style{Face: paint.Mono, Size: 14}, shift(col(1), y), paint.Right, paint.PageDim)
		if st.Regret > 0.05 {
			l.TextIn("+"+minutes(st.Regret), paint.Style{Face: paint.Mono, Size: 14}, shift(col(2), y), paint.Right, paint.Vermil)
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
		b.Read(minutes(st.Minute) + ": " + all)
	})
}

func shift(r paint.Rect, y float64) paint.Rect { r.Y = y - 2; return r }

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
		l.TextIn(phrase.Money(x.Cents), paint.Digits, paint.Rect{X: left.Right() - 96, Y: y, W: 96, H: 26}, paint.Right, paint.PageInk)
		b.Read(x.Name + ", " + phrase.Money(x.Cents) + ", " + words)
		y += 28
	}
	l.TextIn(b.T("debrief.total"), paint.Strong, paint.Rect{X: left.X, Y: y + 4, W: 200, H: 26}, paint.Left, paint.PageInk)
	l.TextIn(phrase.Money(d.BillCents), paint.Style{Face: paint.Mono, Size: 17}, paint.Rect{X: left.Right() - 120, Y: y + 4, W: 120, H: 26}, paint.Right, paint.PageInk)
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

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}
