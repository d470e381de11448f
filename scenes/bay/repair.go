package bay

import (
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

const repairRows = 10

// drawRepair is the repair bench: what can be renewed or mended, its price and its time, and the drive that verifies.
func (s *Scene) drawRepair(b *ui.Build) {
	r := b.Sheet(860, 548)
	b.Group("repair")
	b.Page.Title = b.T("repair.title")
	l := b.Front
	in := r.Pad(24, 16)
	l.TextIn(b.T("repair.title"), paint.Title, paint.Rect{X: in.X, Y: in.Y, W: in.W - 120, H: 30}, paint.Left, paint.PageInk)
	b.Button("repair.close", b.T("sheet.close"), paint.Rect{X: in.Right() - 100, Y: in.Y, W: 100, H: 30}, ui.Look{Paper: true}, s.escape)
	l.Para(b.T("repair.hint"), paint.Small, paint.Rect{X: in.X, Y: in.Y + 34, W: in.W, H: 36}, paint.PageDim)
	b.Read(b.T("repair.hint"))
	units := s.desk.Cat.Units
	pages := (len(units) + repairRows - 1) / repairRows
	s.page = min(s.page, max(pages-1, 0))
	list := paint.Rect{X: in.X, Y: in.Y + 76, W: in.W, H: repairRows * 36}
	for i := range repairRows {
		n := s.page*repairRows + i
		if n >= len(units) {
			break
		}
		u := units[n]
		row := paint.Rect{X: list.X, Y: list.Y + float64(i)*36, W: list.W, H: 36}
		l.Box(paint.Rect{X: row.X, Y: row.Bottom() - 1, W: row.W, H: 1}, 0, paint.PageRul)
		l.TextIn(u.Name, paint.Body, paint.Rect{X: row.X, Y: row.Y, W: row.W - 380, H: 35}, paint.Left, paint.PageInk)
		l.TextIn(b.Msg.Decimal(phrase.Money(u.Price)), paint.Digits, paint.Rect{X: row.Right() - 372, Y: row.Y, W: 90, H: 35}, paint.Right, paint.PageInk)
		l.TextIn(b.T("repair.minutes", "n", num(u.Minutes)), paint.Body, paint.Rect{X: row.Right() - 270, Y: row.Y, W: 90, H: 35}, paint.Right, paint.PageInk)
		verb := b.T(choose(u.Mend, "repair.mend", "repair.renew"))
		b.Control(ui.Control{ID: "repair." + u.ID, Role: ui.Push, Rect: paint.Rect{X: row.Right() - 150, Y: row.Y + 4, W: 150, H: 28},
			Name: b.N("repair.name", u.Minutes, "verb", verb, "unit", u.Name, "price", b.Msg.Decimal(phrase.Money(u.Price))),
			Do:   func() { s.repair(bench.Action{Verb: bench.Repair, On: u.ID}) }}, verb, ui.Look{Paper: true, Align: paint.Centre})
	}
	foot := in.Bottom() - 34
	b.Pager("repair.page", paint.Pt{X: in.X, Y: foot + 3}, s.page, pages, true, r, func(d int) { s.page += d; s.desk.Touch() })
	b.Control(ui.Control{ID: "repair.drive", Name: b.T("repair.drive.name"), Role: ui.Push,
		Rect: paint.Rect{X: in.Right() - 400, Y: foot, W: 400, H: 34}, Do: func() { s.repair(bench.Action{Verb: bench.Drive}) }},
		b.T("repair.drive"), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
}

func (s *Scene) repair(a bench.Action) {
	s.sheet = ""
	s.desk.Act(a)
}
