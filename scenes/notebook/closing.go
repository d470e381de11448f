package notebook

import (
	"slices"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// maxCauses is how many suspects can be named together: a root cause with its consequence, or two at once.
const maxCauses = 2

// closing is the form in three steps: cause, unit, and the ledger line that proves it.
func (s *Scene) closing(b *ui.Build, r paint.Rect) {
	l := b.Front
	if s.desk.View.Closed {
		l.Para(b.T("close.done"), paint.Body, r, paint.PageInk)
		b.Button("close.debrief", b.T("close.debrief"), paint.Rect{X: r.X, Y: r.Y + 40, W: 240, H: 36}, ui.Look{Paper: true, Primary: true, Align: paint.Centre},
			s.desk.LoadDebrief)
		return
	}
	steps, rest := r.CutTop(30, 8)
	for i, box := range steps.Columns(3, 6) {
		st := []string{"cause", "unit", "proof"}[i]
		b.Control(ui.Control{ID: "close." + st, Name: b.T("close." + st), Role: ui.Tab, Rect: box, On: s.form.step == st,
			Do: func() { s.form.step = st; s.desk.Touch() }}, b.T("close."+st), ui.Look{Paper: true, Style: paint.Small, Align: paint.Centre})
	}
	foot, list := rest.CutBottom(124, 8)
	var rows []choice
	switch s.form.step {
	case "cause":
		for _, c := range s.desk.Cat.Suspects {
			rows = append(rows, choice{c.ID, c.Name, slices.Contains(s.form.causes, c.ID), func() { s.cause(c.ID) }})
		}
	case "unit":
		for _, u := range s.desk.Cat.Units {
			rows = append(rows, choice{u.ID, u.Name, s.form.unit == u.ID, func() { s.form.unit = u.ID }})
		}
	default:
		for _, f := range s.desk.Ledger {
			if len(f.Percepts) > 0 {
				rows = append(rows, choice{stage.Num(f.Seq), stage.Num(f.Seq) + "  " + s.desk.Phrase.Line(f), s.form.line == f.Seq, func() { s.form.line = f.Seq }})
			}
		}
		if len(rows) == 0 {
			l.Para(b.T("close.noproof"), paint.Body, list, paint.PageDim)
		}
	}
	s.choices(b, list, rows)
	s.summary(b, foot)
}

type choice struct {
	id, words string
	on        bool
	pick      func()
}

func (s *Scene) choices(b *ui.Build, r paint.Rect, rows []choice) {
	l := b.Front
	const h = 27
	per := max(1, int((r.H-30)/h))
	pages := (len(rows) + per - 1) / per
	list := "close." + s.form.step
	page := s.at(list, pages)
	for i := range per {
		k := page*per + i
		if k >= len(rows) {
			break
		}
		c := rows[k]
		row := paint.Rect{X: r.X, Y: r.Y + float64(i)*h, W: r.W, H: h - 2}
		if c.on {
			l.Box(row, 4, paint.PageInk)
		}
		ink := choose(c.on, paint.Page, paint.PageInk)
		ring := paint.Pt{X: row.X + 14, Y: row.Mid().Y}
		l.Ring(ring, 7, 1.6, ink)
		if c.on {
			l.Disc(ring, 4, ink)
		}
		l.TextIn(clip(l, c.words, row.W-40), paint.Small, paint.Rect{X: row.X + 30, Y: row.Y, W: row.W - 36, H: row.H}, paint.Left, ink)
		b.Add(ui.Control{ID: list + "." + c.id, Name: c.words, Role: ui.Toggle, Rect: row, On: c.on, Do: func() { c.pick(); s.desk.Touch() }})
	}
	b.Pager(list+".page", paint.Pt{X: r.X, Y: r.Bottom() - 28}, page, pages, true, r, s.turn(list))
}

// clip shortens a ledger line to one line; its whole text is in the ledger and in the control's name.
func clip(l *paint.List, words string, w float64) string {
	lines := l.Fonts.Wrap(words, paint.Small, w-14)
	if len(lines) > 1 {
		return lines[0] + " …"
	}
	return words
}

func (s *Scene) cause(id string) {
	if i := slices.Index(s.form.causes, id); i >= 0 {
		s.form.causes = slices.Delete(s.form.causes, i, i+1)
		return
	}
	if len(s.form.causes) >= maxCauses {
		s.form.causes = s.form.causes[1:]
	}
	s.form.causes = append(s.form.causes, id)
}

func (s *Scene) summary(b *ui.Build, r paint.Rect) {
	l := b.Front
	l.Box(paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 1.5}, 0, paint.PageRul)
	names := ""
	for i, c := range s.form.causes {
		if i > 0 {
			names += "; "
		}
		names += s.desk.Phrase.Suspect(c)
	}
	unit, line := b.T("close.open"), b.T("close.open")
	if names == "" {
		names = b.T("close.open")
	}
	if s.form.unit != "" {
		unit = s.desk.Phrase.Unit(s.form.unit)
	}
	for _, f := range s.desk.Ledger {
		if f.Seq == s.form.line {
			line = stage.Num(f.Seq) + "  " + phrase.Sentence(s.desk.Phrase.Doing(f.Action))
		}
	}
	y := r.Y + 8
	for _, row := range [][2]string{{b.T("close.cause.word"), names}, {b.T("close.unit.word"), unit}, {b.T("close.proof.word"), line}} {
		l.Text(row[0], paint.SmallB, r.X, y, paint.PageDim)
		l.TextIn(clip(l, row[1], r.W-90), paint.Small, paint.Rect{X: r.X + 82, Y: y - 1, W: r.W - 82, H: 18}, paint.Left, paint.PageInk)
		b.Read(row[0] + ": " + row[1])
		y += 22
	}
	c := ui.Control{ID: "close.finish", Name: b.T("close.finish"), Role: ui.Push, Rect: paint.Rect{X: r.X, Y: r.Bottom() - 38, W: r.W, H: 36}}
	if len(s.form.causes) == 0 || s.form.line == 0 {
		c.Off, c.Name = true, b.T("close.finish.missing")
	}
	c.Do = func() {
		s.desk.Act(bench.Action{Verb: bench.Finish, On: s.form.unit, List: slices.Clone(s.form.causes), N: float64(s.form.line)},
			func(bench.Finding) { s.form = form{step: "cause"}; s.desk.LoadDebrief() })
	}
	b.Control(c, c.Name, ui.Look{Paper: true, Primary: true, Align: paint.Centre})
}
