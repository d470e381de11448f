package bay

import (
	"slices"
	"strconv"
	"strings"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// Scene is the bay.
type Scene struct {
	desk  *stage.Desk
	hold  hold
	place string // the view that shows
	sheet string // open modal sheet: "", repairSheet, sureSheet
	page  int    // of the repair sheet
	unit  string // that the question is about
	turn  int    // the desk's, of the attempt that all this is about

	past   bool              // the picture of another time: nothing in it can be used
	wounds map[string]string // what is the matter with hoses, seen or not; only of another time

	kit   *art.Kit // what the open order's car is painted with
	coat  string
	still still
	pic   picture

	last  float64            // s, of the frame before
	angle float64            // rad, of the crankshaft as it is drawn
	lifts map[string]float64 // of stems, as they are drawn
}

// New makes the bay of a desk.
func New(desk *stage.Desk) *Scene {
	return &Scene{desk: desk, hold: newHold(), place: "front", turn: desk.Turn}
}

// areas are the parts of the screen.
type areas struct{ tray, tabs, picture, options, ledger, side paint.Rect }

func layout(w, h float64) areas {
	var a areas
	room := stage.Below(w, h)
	side := 214.0
	if w >= 1200 {
		side = 244
	}
	a.tray, room = room.CutLeft(150, 8)
	a.side, room = room.CutRight(side, 8)
	a.tabs, room = room.CutTop(30, 4)
	led := 78.0
	if h >= 680 {
		led = 92
	}
	a.ledger, room = room.CutBottom(led, 6)
	a.options, room = room.CutBottom(58, 6)
	a.picture = room.Fit(drawing.Width, drawing.Height)
	return a
}

// Build describes the bay as it is now.
func (s *Scene) Build(b *ui.Build) {
	if s.turn != s.desk.Turn {
		s.turn, s.hold, s.place, s.sheet, s.page = s.desk.Turn, newHold(), "front", "", 0
	}
	a := layout(b.W, b.H)
	stage.Bar(b, s.desk, stage.Bay)
	b.Page.Title = b.T("bay.title", "order", s.desk.Cat.Order.Title)
	s.drawTray(b, a.tray)
	s.drawTabs(b, a.tabs)
	s.drawPicture(b, a.picture)
	s.drawOptions(b, a.options)
	s.drawSide(b, a.side)
	s.drawLedger(b, a.ledger)
	b.Escape(s.escape)
	switch s.sheet {
	case repairSheet:
		s.drawRepair(b)
	case sureSheet:
		s.drawSure(b)
	}
}

// escape lets go of what is half done: first the sheet, then a chosen lead or hose end, then the tool.
func (s *Scene) escape() {
	switch {
	case s.sheet != "":
		s.sheet = ""
	case s.hold.red != "" || s.hold.end != "":
		s.hold.red, s.hold.end = "", ""
	case s.hold.tool != toolStep:
		s.hold.tool = toolStep
	default:
		s.place = "front"
	}
	s.desk.Touch()
}

func (s *Scene) drawTray(b *ui.Build, r paint.Rect) {
	b.Group("tray")
	all := s.offered()
	rows := (len(all) + 1) / 2
	h := (r.H - float64(rows-1)*5) / float64(rows)
	for i, t := range all {
		box := paint.Rect{X: r.X + float64(i%2)*(r.W/2+2.5), Y: r.Y + float64(i/2)*(h+5), W: r.W/2 - 2.5, H: h}
		words := b.T("tool." + string(t) + ".label")
		name := b.T("tool." + string(t) + ".name")
		c := ui.Control{ID: "tool." + string(t), Name: name, Role: ui.Toggle, Rect: box, On: s.hold.tool == t}
		if t.withheld() && !s.desk.Allowed(t.id()) {
			c.Off = true
			c.Name = b.T("tool.withheld", "tool", name)
		}
		c.Do = func() { s.take(t) }
		lit := t == toolExtract || t == toolHelper || t == toolScan // work on by themselves, whatever is in hand
		switch t {
		case toolExtract:
			c.On = s.desk.View.Extract
		case toolHelper:
			c.On = s.desk.View.Helper
		case toolScan:
			c.On = s.desk.View.Scan.Plugged
		}
		b.Control(c, words, ui.Look{Icon: icon(t), Above: true, Lit: lit, Style: paint.Label, Align: paint.Centre})
	}
}

// offered are the tools of the tray. Smoke and the gas analyser stand in few workshops: they are there when the order allows them.
func (s *Scene) offered() []tool {
	return slices.DeleteFunc(tray(), func(t tool) bool {
		return (t == toolSmoke || t == toolGas) && !s.desk.Allowed(t.id())
	})
}

// take picks a tool up, or does at once what needs no aim.
func (s *Scene) take(t tool) {
	s.hold.red, s.hold.end = "", ""
	switch t {
	case toolScan:
		s.desk.Go(stage.ScanTool)
	case toolGas:
		s.desk.Act(bench.Action{Verb: bench.Analyse})
	case toolExtract:
		s.desk.Act(bench.Action{Verb: bench.Extract, Mode: choose(s.desk.View.Extract, "off", "on")})
	case toolHelper:
		s.desk.Act(bench.Action{Verb: bench.Helper, Mode: choose(s.desk.View.Helper, "off", "on")})
	case toolRepair:
		s.sheet = repairSheet
	default:
		s.hold.tool = t
	}
	s.desk.Touch()
}

func (s *Scene) drawTabs(b *ui.Build, r paint.Rect) {
	b.Group("places")
	var places []bench.Named
	for _, p := range s.desk.Cat.Places {
		if _, ok := s.desk.Draw.View(p.ID); ok {
			places = append(places, p)
		}
	}
	boxes, words := s.tabs(b.Front.Fonts, r, places)
	for i, box := range boxes {
		p := places[i]
		name := b.T("bay.goto", "place", p.Name)
		if p.ID == s.desk.View.Place {
			name = b.T("bay.here", "place", p.Name)
		}
		b.Control(ui.Control{ID: "go." + p.ID, Name: name, Role: ui.Tab, Rect: box, On: s.place == p.ID,
			Do: func() { s.place = p.ID; s.desk.Touch() }}, words[i], ui.Look{Style: paint.Label, Align: paint.Centre})
		if p.ID == s.desk.View.Place {
			// A foot mark: here the trainee stands, and walking elsewhere takes time.
			b.Front.Fill([]paint.Pt{{X: box.X + 4, Y: box.Y + 4}, {X: box.X + 13, Y: box.Y + 4}, {X: box.X + 4, Y: box.Y + 13}}, paint.Orange)
		}
	}
}

// do uses the tool in hand on a thing.
func (s *Scene) do(k kind, id string) {
	a, more := s.hold.use(k, &s.desk.View, id)
	s.desk.Touch()
	if more || a.Verb == "" {
		return
	}
	s.desk.Act(a, func(bench.Finding) {
		if k == aPlace && id != "front" {
			s.place = id
		}
	})
}

// labelled finds a thing's short mark and the place where it is.
func (s *Scene) labelled(id string) (place, mark string) {
	for i := range s.desk.Draw.Views {
		v := &s.desk.Draw.Views[i]
		for _, list := range [][]drawing.Spot{v.Terminals, v.Ports, v.Clamps} {
			for _, t := range list {
				if t.ID == id {
					return s.placeWord(v.ID, v.ID), t.Label
				}
			}
		}
	}
	return "", strings.ReplaceAll(id, "_", " ")
}

// short is a thing's short mark with its place: "Air pump: plug 1".
func (s *Scene) short(id string) string { return s.called(id, "bay.short", "bay.shortend") }

// held is a thing in the middle of a sentence: "plug 1 (Air pump)".
func (s *Scene) held(id string) string { return s.called(id, "bay.held", "bay.heldend") }

// called puts a thing's mark and place into a message; a hose's end goes by the port that it belongs on, in the message for ends, ofEnd.
func (s *Scene) called(id, message, ofEnd string) string {
	for _, h := range s.desk.Cat.Hoses {
		switch id {
		case h.ID + ".a":
			return s.desk.Msg.T(ofEnd, "port", s.called(h.PortA, message, ofEnd))
		case h.ID + ".b":
			return s.desk.Msg.T(ofEnd, "port", s.called(h.PortB, message, ofEnd))
		}
	}
	place, mark := s.labelled(id)
	if place == "" {
		return mark
	}
	return s.desk.Msg.T(message, "place", place, "thing", mark)
}

// placeWord is a place's short name, as this car calls it.
func (s *Scene) placeWord(id, other string) string {
	if own := "place." + id + "." + s.desk.Draw.Car; s.desk.Msg.Has(own) {
		return s.desk.Msg.T(own)
	}
	return s.desk.Msg.Or("place."+id, "phrase.id", "id", other)
}

func num(n int) string { return strconv.Itoa(n) }
