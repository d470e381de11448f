package bay

import (
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench/phrase"
)

// drawLedger is the strip with what was done last, newest first. What does not fit is in the notebook.
func (s *Scene) drawLedger(b *ui.Build, r paint.Rect) {
	l := b.Front
	ui.Paper(l, r)
	in := r.Pad(10, 5)
	b.Group("ledger")
	b.Button("ledger.all", b.T("ledger.all"), paint.Rect{X: in.Right() - 92, Y: in.Y, W: 92, H: 26}, ui.Look{Paper: true, Style: paint.Small},
		func() { s.desk.Go("notebook") })
	if len(s.desk.Ledger) == 0 {
		l.Para(b.T("ledger.empty"), paint.Small, paint.Rect{X: in.X, Y: in.Y, W: in.W - 104, H: in.H}, paint.PageInk)
		return
	}
	y, room := in.Y, in.Bottom()
	for i := len(s.desk.Ledger) - 1; i >= 0 && y+paint.Small.BoxHeight() <= room; i-- {
		f := s.desk.Ledger[i]
		st, ink := paint.Small, paint.PageDim
		if i == len(s.desk.Ledger)-1 {
			ink = paint.PageInk
		}
		l.Text(phrase.Clock(f.Start), paint.Style{Face: paint.Mono, Size: 12}, in.X, y+1, paint.PageDim)
		x := in.X + 62
		words := s.desk.Phrase.Line(f)
		lines := l.Fonts.Wrap(words, st, in.Right()-104-x)
		for n, line := range lines {
			if y+st.BoxHeight() > room {
				break
			}
			if n+1 < len(lines) && y+st.LineHeight()+st.BoxHeight() > room {
				line += " …"
			}
			l.Text(line, st, x, y, ink)
			y += st.LineHeight()
		}
		if i == len(s.desk.Ledger)-1 {
			b.Read(words)
		}
	}
}
