package cutaway

import (
	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// Scene is the cutaway by itself: any car that is laid open, any fault of its catalogue, any view, any run.
type Scene struct {
	// Panel is that of the car that shows; nil until the scene was first shown.
	Panel *Panel

	desk   *stage.Desk
	load   func() (*lessons.Shelf, error)
	shelf  *lessons.Shelf
	panels map[string]*Panel // of the cars that were shown, each where it was left
	sheet  string            // open modal sheet: "", "car", "fault"
	page   int
	fail   error
}

// The modal sheets.
const (
	carSheet   = "car"
	faultSheet = "fault"
)

// New makes the cutaway of a desk; load gives the cars that are laid open when they are first needed.
func New(desk *stage.Desk, load func() (*lessons.Shelf, error)) *Scene {
	return &Scene{desk: desk, load: load, panels: map[string]*Panel{}}
}

// Enter opens the first car at the first time; later the scene goes on where it was.
func (s *Scene) Enter() {
	s.sheet = ""
	if s.Panel != nil || s.fail != nil {
		return
	}
	if s.shelf, s.fail = s.load(); s.fail != nil {
		return
	}
	if cars := s.shelf.Cars(); len(cars) > 0 {
		s.Car(cars[0])
	}
}

// Car lays another car open, with the view, the run and what stands beside it as they were shown of the last one, where the car has them.
func (s *Scene) Car(id string) {
	sheet, ok := s.shelf.Sheet(id)
	if !ok || s.Panel != nil && s.Panel.Sheet == sheet {
		return
	}
	last := s.Panel
	p, ok := s.panels[id]
	if !ok {
		p = NewPanel(sheet, s.desk.Touch)
		s.panels[id] = p
	}
	show := lessons.Show{Run: inside.ColdStart, View: sheet.Views[0].ID, Until: inside.ColdStart.Seconds(), Speed: 1}
	if last != nil {
		p.Now = last.Now
		last.Leave()
		show = last.over(sheet)
	}
	if v, ok := sheet.View(show.View); ok {
		show.Channels = v.Channels
	}
	s.Panel = p
	p.Show(show)
}

// Live runs the film.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.Panel == nil || s.sheet != "" {
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
	switch s.sheet {
	case carSheet:
		s.cars(b)
	case faultSheet:
		s.faults(b)
	}
}
