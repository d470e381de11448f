package debrief

import (
	"math"
	"strings"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

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
	st := paint.Small
	for st.Size > 10 && l.ParaHeight(m.Reason, st, r.W) > r.H-33 {
		st.Size -= 0.5
	}
	l.Para(m.Reason, st, paint.Rect{X: r.X, Y: r.Y + 31, W: r.W, H: r.H - 33}, paint.PageInk)
	b.Read(b.T("debrief.mark", "name", m.Name, "score", stage.Num(m.Score), "state", words, "reason", m.Reason))
}

// used is what the attempt took, reckoned as par is.
func used(b *ui.Build, d *page.Document) page.Reference {
	if d.Counted <= 0 {
		return page.Reference{Minutes: d.Minutes, Known: true}
	}
	return page.Reference{Minutes: d.Counted, Known: true, Note: b.T("debrief.note.used", "n", minutes(b, d.Minutes))}
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
		{"debrief.used", used(b, d), true}, {"debrief.par", d.Par, false},
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
			value = minutes(b, x.ref.Minutes)
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
	st := paint.Small
	steps := make([][]string, len(d.ProofLine.Steps))
	all := 0
	for i, step := range d.ProofLine.Steps {
		words := stage.Num(i+1) + ". " + step
		b.Read(words)
		steps[i] = l.Fonts.Wrap(words, st, r.W-14)
		all += len(steps[i])
	}
	// All steps are told, the long ones by their beginnings where there is too little room.
	for room := int((r.Bottom() + 4 - y) / st.LineHeight()); all > room; all-- {
		long := 0
		for i := range steps {
			if len(steps[i]) > len(steps[long]) {
				long = i
			}
		}
		n := len(steps[long]) - 1
		if n < 1 {
			break
		}
		steps[long] = steps[long][:n]
		steps[long][n-1] = strings.TrimSuffix(steps[long][n-1], " …") + " …"
	}
	for _, lines := range steps {
		for _, line := range lines {
			if y+st.BoxHeight() > r.Bottom()+4 {
				return
			}
			l.Text(line, st, r.X, y, paint.PageInk)
			y += st.LineHeight()
		}
	}
}
