package cutaway

import (
	"math"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// Scene is the cutaway by itself: any fault of the catalogue, any view, any run.
type Scene struct {
	// Panel is nil until the scene was first shown.
	Panel *Panel

	desk   *stage.Desk
	open   func() (*inside.Schematic, error)
	choose bool // the list of faults is open
	page   int
	fail   error
}

// New makes the cutaway of a desk; open gives the schematic when it is first needed.
func New(desk *stage.Desk, open func() (*inside.Schematic, error)) *Scene {
	return &Scene{desk: desk, open: open}
}

// Enter opens the schematic at the first time; later the scene goes on where it was.
func (s *Scene) Enter() {
	s.choose = false
	if s.Panel != nil || s.fail != nil {
		return
	}
	sheet, err := s.open()
	if err != nil {
		s.fail = err
		return
	}
	s.Panel = NewPanel(sheet, s.desk.Touch)
	s.Panel.Show(lessons.Show{Run: inside.ColdStart, View: "all", Channels: sheet.Views[0].Channels, At: 0, Until: inside.ColdStart.Seconds(), Speed: 1})
}

// Live runs the film.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.Panel == nil || s.choose {
		return
	}
	s.Panel.Live(m, seconds)
	if err := s.Panel.Failed(); err != nil {
		s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
	}
}

// Build shows what can be chosen, and the panel below it.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Cutaway)
	b.Page.Title = b.T("cutaway.title")
	room := stage.Below(b.W, b.H)
	if s.Panel == nil {
		words := b.T("cutaway.missing")
		if s.fail != nil {
			words = b.T("work.error", "what", s.fail.Error())
		}
		b.Front.Para(words, paint.Body, room.Pad(20, 20), paint.Chalk)
		return
	}
	head, body := room.CutTop(64, 6)
	s.chosen(b, head)
	s.Panel.Build(b, body)
	b.Escape(func() { s.desk.Go(stage.Lessons) })
	if s.choose {
		s.list(b)
	}
}

// chosen is two rows of choices: what is shown, and of which car.
func (s *Scene) chosen(b *ui.Build, r paint.Rect) {
	p := s.Panel
	b.Group(b.T("cutaway.group.show"))
	top, low := r.CutTop(30, 4)
	low.H = 30
	back, top := top.CutRight(104, 12)
	b.Button("cutaway.lessons", b.T("way.lessons"), back, ui.Look{}, func() { s.desk.Go(stage.Lessons) })
	row := func(r paint.Rect, what, key, id string, ids []string, on string, set func(string)) {
		name, rest := r.CutLeft(math.Min(74, r.W*0.2), 4)
		b.Front.TextIn(what, paint.Small, name, paint.Left, paint.Mist)
		for i, box := range rest.Columns(len(ids), 4) {
			v := ids[i]
			words := b.T(key + v)
			b.Control(ui.Control{ID: id + v, Name: b.T("cutaway.chosen", "what", what, "value", words), Role: ui.Toggle, On: v == on, Rect: box, Do: func() { set(v) }},
				words, ui.Look{Style: paint.Small, Align: paint.Centre})
		}
	}
	views := top
	views.W = top.W * 0.56
	row(views, b.T("cutaway.view"), "cutaway.view.", "view.", p.Sheet.ViewIDs(), p.show.View, p.View)
	runs := paint.Rect{X: views.Right() + 16, Y: top.Y, W: top.Right() - views.Right() - 16, H: top.H}
	row(runs, b.T("cutaway.run"), "cutaway.run.", "run.", inside.Runs(), string(p.show.Run), func(v string) { p.Run(inside.Run(v)) })
	fault := low
	fault.W = low.W * 0.56
	name, button := fault.CutLeft(math.Min(74, fault.W*0.2), 4)
	b.Front.TextIn(b.T("cutaway.fault"), paint.Small, name, paint.Left, paint.Mist)
	words := b.T("cutaway.fault.none")
	if p.show.Fault != "" {
		words = lessons.FaultName(p.Sheet.CarOf(), p.show.Fault)
	}
	b.Control(ui.Control{ID: "cutaway.fault", Name: b.T("cutaway.chosen", "what", b.T("cutaway.fault"), "value", words), Role: ui.Push, Rect: button,
		Do: func() { s.choose = true; s.desk.Touch() }}, words, ui.Look{Align: paint.Centre})
	beside := paint.Rect{X: fault.Right() + 16, Y: low.Y, W: low.Right() - fault.Right() - 16, H: low.H}
	on := string(p.show.Beside)
	if on == "" {
		on = "nothing"
	}
	row(beside, b.T("cutaway.beside"), "cutaway.beside.", "beside.", []string{"nothing", string(lessons.Healthy), string(lessons.WithoutAir)}, on, func(v string) {
		if v == "nothing" {
			v = ""
		}
		p.Beside(lessons.Other(v))
	})
}

// list is the catalogue of faults, on a sheet above everything.
func (s *Scene) list(b *ui.Build) {
	p := s.Panel
	type line struct{ id, name string }
	lines := []line{{"", b.T("cutaway.fault.none")}}
	for _, f := range p.Sheet.CarOf().Faults {
		lines = append(lines, line{f.ID, f.Name})
	}
	for _, f := range p.Sheet.CarOf().Sets {
		lines = append(lines, line{f.ID, f.Name})
	}
	r := b.Sheet(900, b.H-60)
	shut := func() { s.choose = false; s.desk.Touch() }
	b.Escape(shut)
	in := r.Pad(24, 16)
	head, body := in.CutTop(36, 6)
	b.Group(b.T("cutaway.group.fault"))
	b.Front.TextIn(b.T("cutaway.fault.title"), paint.Heading, head, paint.Left, paint.PageInk)
	b.Button("fault.close", b.T("sheet.close"), paint.Rect{X: head.Right() - 110, Y: head.Y, W: 110, H: 30}, ui.Look{Paper: true, Align: paint.Centre}, shut)
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
			id := x.id
			if id == "" {
				id = "none"
			}
			b.Control(ui.Control{ID: "fault." + id, Name: x.name, Role: ui.Toggle, On: p.show.Fault == x.id, Rect: paint.Rect{X: col.X, Y: col.Y + float64(i)*high, W: col.W, H: high - 4},
				Do: func() { s.choose = false; p.Fault(x.id) }}, x.name, ui.Look{Paper: true, Style: paint.Small})
		}
	}
	b.Pager("fault.page", paint.Pt{X: foot.Right() - 150, Y: foot.Y}, s.page, pages, true, r, func(d int) { s.page += d; s.desk.Touch() })
}
