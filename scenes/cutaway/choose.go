package cutaway

import (
	"math"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// choice is one of several that stand in a row; only one holds.
type choice struct{ id, words string }

// row sets a row of choices behind what they are about.
func (s *Scene) row(b *ui.Build, r paint.Rect, what, id, on string, all []choice, set func(string)) {
	rest := s.about(b, r, what)
	for i, box := range rest.Columns(len(all), 4) {
		c := all[i]
		b.Control(ui.Control{ID: id + c.id, Name: b.T("cutaway.chosen", "what", what, "value", c.words), Role: ui.Toggle, On: c.id == on, Rect: box, Do: func() { set(c.id) }},
			c.words, ui.Look{Style: paint.Small, Align: paint.Centre})
	}
}

// about writes what a row is about and gives the rest of it.
func (s *Scene) about(b *ui.Build, r paint.Rect, what string) paint.Rect {
	name, rest := r.CutLeft(math.Min(b.Front.Fonts.Width(what, paint.Small)+8, r.W*0.4), 2)
	b.Front.TextIn(what, paint.Small, name, paint.Left, paint.Mist)
	return rest
}

// opener is a button that shows what is chosen and opens the sheet where it is chosen.
func (s *Scene) opener(b *ui.Build, r paint.Rect, what, words, id, sheet string) {
	b.Control(ui.Control{ID: id, Name: b.T("cutaway.chosen", "what", what, "value", words), Role: ui.Push, Rect: r,
		Do: func() { s.sheet, s.page = sheet, 0; s.desk.Touch() }}, words, ui.Look{Style: paint.Small, Align: paint.Centre})
}

// chosen is two rows of choices: which car and what of it is shown, and what is the matter with it.
func (s *Scene) chosen(b *ui.Build, r paint.Rect) {
	p := s.Panel
	b.Group(b.T("cutaway.group.show"))
	top, low := r.CutTop(30, 4)
	low.H = 30
	back, top := top.CutRight(104, 12)
	b.Button("cutaway.lessons", b.T("way.lessons"), back, ui.Look{}, func() { s.desk.Go(stage.Lessons) })
	words := func(key string, ids []string) []choice {
		out := make([]choice, len(ids))
		for i, id := range ids {
			out[i] = choice{id, b.T(key + id)}
		}
		return out
	}
	views, runs := top.CutLeft(math.Round(top.W*0.58), 14)
	s.row(b, views, b.T("cutaway.view"), "view.", p.show.View, words("cutaway.view.", p.Sheet.ViewIDs()), p.View)
	s.row(b, runs, b.T("cutaway.run"), "run.", string(p.show.Run), words("cutaway.run.", inside.RunsOf(p.Sheet.CarOf())), func(v string) { p.Run(inside.Run(v)) })
	car, low := low.CutLeft(math.Round(low.W*0.17), 14)
	c := p.Sheet.CarOf()
	s.opener(b, car, b.T("cutaway.car"), b.Msg.Name(c.ID, "car", c.ID, c.Name), "cutaway.car", carSheet)
	fault, beside := low.CutLeft(math.Round(low.W*0.54), 14)
	name := b.T("cutaway.fault.none")
	if p.show.Fault != "" {
		name = p.faultName(b, p.show.Fault)
	}
	s.opener(b, s.about(b, fault, b.T("cutaway.fault")), b.T("cutaway.fault"), name, "cutaway.fault", faultSheet)
	on := string(p.show.Beside)
	if on == "" {
		on = "nothing"
	}
	s.row(b, beside, b.T("cutaway.beside"), "beside.", on, words("cutaway.beside.", []string{"nothing", string(lessons.Healthy), string(lessons.WithoutAir)}), func(v string) {
		if v == "nothing" {
			v = ""
		}
		p.Beside(lessons.Other(v))
	})
}

// open lays out a sheet above everything, with its title and what closes it.
func (s *Scene) open(b *ui.Build, w, h float64, title string) (r, body paint.Rect) {
	r = b.Sheet(w, h)
	b.Escape(s.shut)
	in := r.Pad(24, 16)
	head, body := in.CutTop(36, 6)
	b.Front.TextIn(title, paint.Heading, head, paint.Left, paint.PageInk)
	b.Read(title)
	b.Button(s.sheet+".close", b.T("sheet.close"), paint.Rect{X: head.Right() - 110, Y: head.Y, W: 110, H: 30}, ui.Look{Paper: true, Align: paint.Centre}, s.shut)
	return r, body
}

func (s *Scene) shut() { s.sheet = ""; s.desk.Touch() }

// cars is the list of the cars that are laid open, each with what is its own.
func (s *Scene) cars(b *ui.Build) {
	const wide, pitch, head = 760.0, 8.0, 19.0
	ids := s.shelf.Cars()
	about := func(id, summary string) string {
		if key := "cutaway.about." + id; b.Msg.Has(key) {
			return b.T(key)
		}
		return summary
	}
	text := wide - 2*24 - 2*14
	highs, all := make([]float64, len(ids)), 82.0
	for i, id := range ids {
		sheet, _ := s.shelf.Sheet(id)
		highs[i] = 20 + head + b.Front.ParaHeight(about(id, sheet.CarOf().Summary), paint.Small, text)
		all += highs[i] + pitch
	}
	b.Group(b.T("cutaway.group.car"))
	_, body := s.open(b, wide, all, b.T("cutaway.car.title"))
	y := body.Y
	for i, id := range ids {
		sheet, _ := s.shelf.Sheet(id)
		c := sheet.CarOf()
		name, words := b.Msg.Name(id, "car", id, c.Name), about(id, c.Summary)
		box := paint.Rect{X: body.X, Y: y, W: body.W, H: highs[i]}
		y += highs[i] + pitch
		on := s.Panel.Sheet == sheet
		strong, dim := paint.PageInk, paint.PageDim
		if on {
			strong, dim = paint.Page, paint.PageLo
		}
		b.Control(ui.Control{ID: "car." + id, Name: b.T("cutaway.chosen", "what", name, "value", words), Role: ui.Toggle, On: on, Rect: box,
			Do: func() { s.sheet = ""; s.Car(id); s.desk.Touch() }}, "", ui.Look{Paper: true})
		in := box.Pad(14, 9)
		b.Front.TextIn(name, paint.SmallB, paint.Rect{X: in.X, Y: in.Y, W: in.W, H: 18}, paint.Left, strong)
		b.Front.Para(words, paint.Small, paint.Rect{X: in.X, Y: in.Y + head, W: in.W, H: highs[i]}, dim)
	}
}

// faults is the catalogue of the car's faults.
func (s *Scene) faults(b *ui.Build) {
	p := s.Panel
	lines := []choice{{"none", b.T("cutaway.fault.none")}}
	for _, f := range p.Sheet.CarOf().Faults {
		lines = append(lines, choice{f.ID, p.faultName(b, f.ID)})
	}
	for _, f := range p.Sheet.CarOf().Sets {
		lines = append(lines, choice{f.ID, p.faultName(b, f.ID)})
	}
	b.Group(b.T("cutaway.group.fault"))
	r, body := s.open(b, 900, b.H-60, b.T("cutaway.fault.title"))
	foot, body := body.CutBottom(30, 6)
	const high = 32.0
	rows := max(1, int((body.H+4)/high))
	pages := (len(lines) + 2*rows - 1) / (2 * rows)
	s.page = min(max(s.page, 0), pages-1)
	for c, col := range body.Columns(2, 12) {
		for i := range rows {
			n := s.page*2*rows + c*rows + i
			if n >= len(lines) {
				break
			}
			x := lines[n]
			fault := x.id
			if fault == "none" {
				fault = ""
			}
			b.Control(ui.Control{ID: "fault." + x.id, Name: x.words, Role: ui.Toggle, On: p.show.Fault == fault, Rect: paint.Rect{X: col.X, Y: col.Y + float64(i)*high, W: col.W, H: high - 4},
				Do: func() { s.sheet = ""; p.Fault(fault) }}, x.words, ui.Look{Paper: true, Style: paint.Small})
		}
	}
	b.Pager("fault.page", paint.Pt{X: foot.Right() - 150, Y: foot.Y}, s.page, pages, true, r, func(d int) { s.page += d; s.desk.Touch() })
}
