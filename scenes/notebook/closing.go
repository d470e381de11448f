package notebook

import (
	"cmp"
	"slices"
	"strings"

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
			rows = append(rows, choice{id: c.ID, words: c.Name, on: slices.Contains(s.form.causes, c.ID), last: slices.Contains(s.desk.View.Struck, c.ID),
				pick: func() { s.cause(c.ID) }})
		}
	case "unit":
		for _, u := range s.desk.Cat.Units {
			rows = append(rows, choice{id: u.ID, words: u.Name, on: s.form.unit == u.ID, last: !s.renewed(u.ID), pick: func() { s.form.unit = u.ID }})
		}
	default:
		for _, f := range s.desk.Ledger {
			if len(f.Percepts) > 0 {
				rows = append(rows, choice{id: stage.Num(f.Seq), mark: stage.Num(f.Seq), words: s.desk.Phrase.Line(f), on: s.form.line == f.Seq,
					pick: func() { s.form.line = f.Seq }})
			}
		}
		if len(rows) == 0 {
			l.Para(b.T("close.noproof"), paint.Body, list, paint.PageDim)
		}
	}
	// What is likeliest to be chosen comes first: a cause that still stands on the board, a unit that was renewed.
	slices.SortStableFunc(rows, func(a, b choice) int { return cmp.Compare(rank(a), rank(b)) })
	s.choices(b, list, rows)
	s.summary(b, foot)
}

type choice struct {
	id, mark, words string
	on              bool
	last            bool // stands behind those that are not
	pick            func()
}

func rank(c choice) int {
	if c.last {
		return 1
	}
	return 0
}

// renewed tells whether a unit was replaced or mended.
func (s *Scene) renewed(unit string) bool {
	return slices.ContainsFunc(s.desk.Ledger, func(f bench.Finding) bool { return f.Action.Verb == bench.Repair && f.Action.On == unit })
}

func (s *Scene) choices(b *ui.Build, r paint.Rect, rows []choice) {
	l := b.Front
	h := 27.0
	if s.form.step == "proof" {
		h = 39 // what a reading showed stands at the end of its line, and is what one chooses by
	}
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
		text := paint.Rect{X: row.X + 30, Y: row.Y, W: row.W - 36, H: row.H}
		name := c.words
		if c.mark != "" {
			l.TextIn(c.mark, paint.Style{Face: paint.Mono, Size: 12}, paint.Rect{X: text.X, Y: text.Y, W: 26, H: text.H}, paint.Left, ink)
			text.X, text.W, name = text.X+30, text.W-30, c.mark+"  "+c.words
			s.twoLines(l, c.words, text, ink)
		} else {
			l.TextIn(clip(l, c.words, row.W-40), paint.Small, text, paint.Left, choose(c.last && !c.on, paint.PageDim, ink))
		}
		b.Add(ui.Control{ID: list + "." + c.id, Name: name, Role: ui.Toggle, Rect: row, On: c.on, Do: func() { c.pick(); s.desk.Touch() }})
	}
	b.Pager(list+".page", paint.Pt{X: r.X, Y: r.Bottom() - 28}, page, pages, true, r, s.turn(list))
}

// twoLines sets the words of a reading in two lines. Where there are more, the end is kept, which says what was seen: the beginning says only
// what was done.
func (s *Scene) twoLines(l *paint.List, words string, r paint.Rect, ink paint.Ink) {
	st := paint.Small
	lines := l.Fonts.Wrap(words, st, r.W-14)
	if len(lines) > 2 {
		lines = []string{lines[0] + " …", lines[len(lines)-1]}
		if len(lines[1]) < 24 {
			all := l.Fonts.Wrap(words, st, r.W-14)
			lines[1] = "… " + tail(l, all[len(all)-2]+" "+all[len(all)-1], st, r.W-30)
		}
	}
	y := r.Y + (r.H-float64(len(lines))*st.LineHeight())/2
	for i, line := range lines {
		l.TextIn(line, st, paint.Rect{X: r.X, Y: y + float64(i)*st.LineHeight(), W: r.W, H: st.LineHeight()}, paint.Left, ink)
	}
}

// tail drops words from the beginning until the rest fits.
func tail(l *paint.List, words string, st paint.Style, w float64) string {
	for l.Fonts.Width(words, st) > w {
		_, rest, ok := strings.Cut(words, " ")
		if !ok {
			break
		}
		words = rest
	}
	return words
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
