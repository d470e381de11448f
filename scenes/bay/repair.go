package bay

import (
	"slices"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

const repairRows = 10

// The modal sheets of the bay: the repair bench's list, and the question about one unit of it.
const (
	repairSheet = "repair"
	sureSheet   = "sure"
)

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
		l.TextIn(price(b, u), paint.Digits, paint.Rect{X: row.Right() - 372, Y: row.Y, W: 90, H: 35}, paint.Right, paint.PageInk)
		l.TextIn(b.T("repair.minutes", "n", num(u.Minutes)), paint.Body, paint.Rect{X: row.Right() - 270, Y: row.Y, W: 90, H: 35}, paint.Right, paint.PageInk)
		verb := repairVerb(b, u)
		b.Control(ui.Control{ID: "repair." + u.ID, Role: ui.Push, Rect: paint.Rect{X: row.Right() - 150, Y: row.Y + 4, W: 150, H: 28},
			Name: b.N("repair.name", u.Minutes, "verb", verb, "unit", u.Name, "price", price(b, u)),
			Do:   func() { s.ask(b.Page, u.ID) }}, verb, ui.Look{Paper: true, Align: paint.Centre})
	}
	foot := in.Bottom() - 34
	b.Pager("repair.page", paint.Pt{X: in.X, Y: foot + 3}, s.page, pages, true, r, func(d int) { s.page += d; s.desk.Touch() })
	b.Control(ui.Control{ID: "repair.drive", Name: b.T("repair.drive.name"), Role: ui.Push,
		Rect: paint.Rect{X: in.Right() - 400, Y: foot, W: 400, H: 34}, Do: func() { s.repair(bench.Action{Verb: bench.Drive}) }},
		b.T("repair.drive"), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
}

func repairVerb(b *ui.Build, u bench.UnitInfo) string {
	return b.T(choose(u.Mend, "repair.mend", "repair.renew"))
}

func price(b *ui.Build, u bench.UnitInfo) string { return b.Msg.Decimal(phrase.Money(u.Price)) }

// ask puts the question whether a unit is to be renewed or mended. The focus goes to the way back, so that a key that is held or pressed
// twice repairs nothing.
func (s *Scene) ask(p *ui.Page, unit string) {
	s.sheet, s.unit = sureSheet, unit
	p.Focus("sure.back")
	s.desk.Touch()
}

// drawSure is the question: what it is, its price and time, and the bill that it makes. It is small enough to be seen whole at twice the
// size of text, and nothing of it that can be pressed lies where the list has its buttons, so that a double click repairs nothing.
func (s *Scene) drawSure(b *ui.Build) {
	i := slices.IndexFunc(s.desk.Cat.Units, func(u bench.UnitInfo) bool { return u.ID == s.unit })
	if i < 0 {
		s.sheet = repairSheet
		s.drawRepair(b)
		return
	}
	u := s.desk.Cat.Units[i]
	verb := repairVerb(b, u)
	r := b.Sheet(464, 236)
	b.Group("repair")
	title := b.T(choose(u.Mend, "repair.ask.mend", "repair.ask.renew"))
	b.Page.Title = title
	l := b.Front
	in := r.Pad(20, 14)
	l.TextIn(title, paint.Title, paint.Rect{X: in.X, Y: in.Y, W: in.W, H: 26}, paint.Left, paint.PageInk)
	l.Para(u.Name, paint.Heading, paint.Rect{X: in.X, Y: in.Y + 32, W: in.W, H: 42}, paint.PageInk)
	y := in.Y + 76
	for _, row := range [][2]string{
		{b.T("repair.sure.price"), price(b, u)},
		{b.T("repair.sure.time"), b.T("repair.minutes", "n", num(u.Minutes))},
		{b.T("repair.sure.bill"), b.Msg.Decimal(phrase.Money(s.desk.View.Bill + u.Price))},
	} {
		l.TextIn(row[0], paint.Body, paint.Rect{X: in.X, Y: y, W: in.W - 120, H: 24}, paint.Left, paint.PageDim)
		l.TextIn(row[1], paint.Digits, paint.Rect{X: in.Right() - 116, Y: y, W: 116, H: 24}, paint.Right, paint.PageInk)
		l.Box(paint.Rect{X: in.X, Y: y + 24, W: in.W, H: 1}, 0, paint.PageRul)
		y += 25
	}
	name := b.N("repair.name", u.Minutes, "verb", verb, "unit", u.Name, "price", price(b, u))
	b.Tell(title + " " + b.T("repair.sure.told", "what", name, "bill", b.Msg.Decimal(phrase.Money(s.desk.View.Bill+u.Price))))
	two := paint.Rect{X: in.X, Y: in.Bottom() - 38, W: in.W, H: 38}.Columns(2, 8)
	b.Control(ui.Control{ID: "sure.do", Name: b.T("repair.sure.do.name", "what", name), Role: ui.Push, Rect: two[0],
		Do: func() { s.repair(bench.Action{Verb: bench.Repair, On: u.ID}) }},
		b.T(choose(u.Mend, "repair.do.mend", "repair.do.renew")), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
	b.Control(ui.Control{ID: "sure.back", Name: b.T("repair.sure.back"), Role: ui.Push, Rect: two[1],
		Do: func() { s.back(b.Page) }}, b.T("repair.sure.back"), ui.Look{Paper: true, Align: paint.Centre})
	b.Escape(func() { s.back(b.Page) })
}

// back leaves the question for the list.
func (s *Scene) back(p *ui.Page) {
	s.sheet = repairSheet
	p.Focus("repair." + s.unit)
	s.desk.Touch()
}

func (s *Scene) repair(a bench.Action) {
	s.sheet = ""
	s.desk.Act(a)
}
