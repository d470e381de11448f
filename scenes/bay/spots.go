package bay

import (
	"slices"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// addSpots offers what the tool in hand can be used on in this view, with its mark beside it.
func (s *Scene) addSpots(b *ui.Build) {
	b.Group("picture")
	before := len(b.Page.Controls)
	defer func() {
		if len(b.Page.Controls) == before {
			b.Tell(b.T("bay.nothing"))
		}
	}()
	v, h := s.pic.view, &s.hold
	s.addPlaces(b)
	for _, sp := range v.Parts {
		if h.takes(aPart, &s.desk.View, sp.ID) {
			s.addBox(b, aPart, sp, isOn(s.desk.View.Parts, sp.ID))
		}
	}
	for _, sp := range v.Connectors {
		if h.takes(aConnector, &s.desk.View, sp.ID) {
			s.addBox(b, aConnector, sp, isOn(s.desk.View.Connectors, sp.ID))
		}
	}
	for _, sp := range v.Terminals {
		if h.takes(aTerminal, &s.desk.View, sp.ID) && reachable(&s.desk.View, s.when(sp.ID)) {
			s.addPoint(b, aTerminal, sp, s.desk.Phrase.Terminal(sp.ID))
		}
	}
	for _, sp := range v.Clamps {
		if h.takes(aClamp, &s.desk.View, sp.ID) {
			s.addPoint(b, aClamp, sp, s.desk.Phrase.Thing(sp.ID))
		}
	}
	for _, sp := range s.ports() {
		if h.takes(aPort, &s.desk.View, sp.ID) {
			s.addPoint(b, aPort, sp, s.desk.Phrase.Opening(sp.ID))
		}
	}
	if v.ID == "front" && len(v.Ports) == 0 {
		return
	}
	for _, hose := range v.Hoses {
		a, z := s.ends(hose)
		for _, e := range []end{a, z} {
			if !e.here || !h.takes(anEnd, &s.desk.View, e.id) || v.ID == "front" && !s.homeHere(e.id) {
				continue
			}
			at := e.at.Add(e.dir.Mul(hose.Width*0.7 + 10))
			s.addPoint(b, anEnd, drawing.Spot{ID: e.id, At: drawing.Point{at.X, at.Y}}, s.endName(b, e.id))
		}
	}
}

// homeHere tells whether a hose end belongs on a port of this view: from the overview only those are handled, the others close up.
func (s *Scene) homeHere(end string) bool {
	for _, x := range s.desk.Cat.Hoses {
		home := ""
		switch end {
		case x.ID + ".a":
			home = x.PortA
		case x.ID + ".b":
			home = x.PortB
		default:
			continue
		}
		for _, p := range s.ports() {
			if p.ID == home {
				return true
			}
		}
	}
	return false
}

// endName says what the hands do with a hose end: pull it off, or take hold of it when it is free.
func (s *Scene) endName(b *ui.Build, id string) string {
	name := s.desk.Phrase.Opening(id)
	if s.hold.tool != toolHands || s.hold.plug {
		return name
	}
	return b.T("bay.handle.end."+choose(endFree(&s.desk.View, id), "back", "off"), "thing", name)
}

func (s *Scene) when(terminal string) string {
	for _, t := range s.desk.Cat.Terminals {
		if t.ID == terminal {
			return t.When
		}
	}
	return ""
}

// addPlaces offers the places seen from here: to go closer, or to look, listen and feel there.
func (s *Scene) addPlaces(b *ui.Build) {
	v, senses := s.pic.view, s.hold.takes(aPlace, &s.desk.View, "")
	if senses {
		b.Add(ui.Control{ID: "place." + v.ID, Name: s.sensing(b, v.ID), Role: ui.Spot, Rect: s.pic.box, Under: true,
			Do: func() { s.do(aPlace, v.ID) }})
	}
	for _, g := range v.Regions {
		r := s.pic.rect(g.Box)
		b.Front.Frame(r, 8, 1.5, paint.Fade(paint.Sky, 0.55))
		label := g.Label
		if s.desk.Draw.Plain {
			label = b.Msg.Or("place."+g.ID, "phrase.id", "id", label)
		}
		s.mark(b, label, g.Side, r.Mid(), r.H/2-14)
		c := ui.Control{ID: "place." + g.ID, Role: ui.Spot, Rect: r}
		if senses {
			c.Name, c.Do = s.sensing(b, g.ID), func() { s.do(aPlace, g.ID) }
		} else {
			c.Name = b.T("bay.closer", "place", s.desk.Phrase.Place(g.ID))
			c.Do = func() { s.place = g.ID; s.desk.Touch() }
		}
		b.Add(c)
	}
}

func (s *Scene) sensing(b *ui.Build, place string) string {
	return b.T("bay.sense."+string(s.hold.tool), "place", s.desk.Phrase.Place(place))
}

// addBox offers a part or connector by its outline, with a sign that says what a click does.
func (s *Scene) addBox(b *ui.Build, k kind, sp drawing.Spot, off bool) {
	r := s.whereIs(sp, off)
	name := s.desk.Phrase.Thing(sp.ID)
	if s.hold.tool == toolHands {
		name = b.T("bay.handle."+string(k)+choose(off, ".back", ".off"), "thing", name)
	} else {
		name = b.T("bay.sense.hand", "place", name)
	}
	b.Front.Frame(r, 6, 2, paint.Sky)
	b.Add(ui.Control{ID: string(k) + "." + sp.ID, Name: name, Role: ui.Spot, Rect: r, On: off, Do: func() { s.do(k, sp.ID) }})
}

// ports are the nipples of this view where they are now: those of a valve that is off lie with it.
func (s *Scene) ports() []drawing.Spot {
	all := s.pic.view.Ports
	if !s.lies() {
		return all
	}
	all = slices.Clone(all)
	for i := range all {
		if all[i].Away != (drawing.Point{}) {
			all[i].At = all[i].Away
		}
	}
	return all
}

// lies tells whether a valve with a stem lies beside the car in this view.
func (s *Scene) lies() bool {
	return slices.ContainsFunc(s.pic.view.Props, func(p drawing.Prop) bool {
		return p.Part != "" && p.Away != (drawing.Box{}) && art.HasStem(p.Kind) && isOn(s.desk.View.Parts, p.Part)
	})
}

// lying is where a part that is off lies in this view.
func (s *Scene) lying(part string) drawing.Box {
	for _, p := range s.pic.view.Props {
		if p.Part == part {
			return p.Away
		}
	}
	return drawing.Box{}
}

// addPoint offers a terminal, nipple, hose end or clamp point.
func (s *Scene) addPoint(b *ui.Build, k kind, sp drawing.Spot, name string) {
	c := s.pic.at(sp.At)
	chosen := sp.ID == s.hold.red || sp.ID == s.hold.end
	l := b.Front
	l.Disc(c, 8.5, paint.Black)
	l.Disc(c, 7, choose(chosen, paint.Vermil, paint.White))
	switch k {
	case aTerminal:
		l.Disc(c, 4.5, choose(chosen, paint.White, art.Brass))
	case aPort:
		l.Disc(c, 4.5, paint.Black)
	case anEnd:
		l.Disc(c, 5, art.Vacuum)
		l.Disc(c, 2.5, paint.Black)
	case aClamp:
		l.Ring(c, 4, 2, paint.Black)
	}
	s.mark(b, sp.Label, sp.Side, c, 10)
	b.Add(ui.Control{ID: string(k) + "." + sp.ID, Name: name, Role: ui.Spot, Round: true, On: chosen,
		Rect: paint.Rect{X: c.X - 12, Y: c.Y - 12, W: 24, H: 24}, Do: func() { s.do(k, sp.ID) }})
}

// mark sets a short word beside a point, kept inside the picture.
func (s *Scene) mark(b *ui.Build, words, side string, c paint.Pt, away float64) {
	if words == "" {
		return
	}
	w := b.Front.Fonts.Width(words, paint.LabelB) + 8
	r := paint.Rect{X: c.X - w/2, Y: c.Y + away, W: w, H: 16}
	switch side {
	case "n":
		r.Y = c.Y - away - 16
	case "e":
		r.X, r.Y = c.X+away, c.Y-8
	case "w":
		r.X, r.Y = c.X-away-w, c.Y-8
	}
	in := s.pic.box.Inset(4)
	r.X = min(max(r.X, in.X), in.Right()-r.W)
	r.Y = min(max(r.Y, in.Y), in.Bottom()-r.H)
	b.Front.Box(r, 4, paint.Fade(paint.Black, 0.78))
	b.Front.TextIn(words, paint.LabelB, r.Pad(4, 0), paint.Centre, paint.Chalk)
}
