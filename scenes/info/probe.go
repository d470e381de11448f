package info

import (
	"coldbay/scenarios/drawing"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// Prober is who holds the leads. The bay does; the diagram uses the same ones, so that a lead can be begun here and ended there.
type Prober interface {
	Probes(b *ui.Build, boxes []paint.Rect) bool
	ProbeHint(b *ui.Build) string
	ProbeReach(terminal string) bool
	ProbeInk(terminal string) (paint.Ink, bool)
	ProbeReading(b *ui.Build) string
	Probe(terminal string)
}

// leads is the row above the wiring diagram: the tools that go on terminals, and what they show.
func (s *Scene) leads(b *ui.Build, r paint.Rect) bool {
	b.Group(b.T("info.leads"))
	row, rest := r.CutLeft(min(r.W*0.66, 318), 12)
	held := s.probe.Probes(b, row.Columns(3, 6))
	if words := s.probe.ProbeReading(b); words != "" {
		b.Front.TextIn(words, paint.Digits, rest, paint.Left, paint.PageInk)
		b.Read(b.T("info.reading", "value", words))
	}
	return held
}

// terminals paints the dots of a diagram and, with a lead in hand, offers those that a probe reaches.
func (s *Scene) terminals(b *ui.Build, list []drawing.Spot, at func(drawing.Point) paint.Pt, held bool) {
	b.Group(b.T("info.terminals"))
	l := b.Front
	for _, t := range list {
		c := at(t.At)
		ink, on := s.probe.ProbeInk(t.ID)
		reach := s.probe.ProbeReach(t.ID)
		l.Disc(c, 7, paint.PageInk)
		l.Disc(c, 5.5, paint.White)
		if reach || on {
			l.Disc(c, 4, ink)
		}
		if on {
			l.Rope([]paint.Pt{c, {X: c.X + 7, Y: c.Y + 15}}, 9, paint.White)
			l.Rope([]paint.Pt{c, {X: c.X + 7, Y: c.Y + 15}}, 7, ink)
		}
		if t.Label != "" {
			w := l.Fonts.Width(t.Label, paint.Label)
			p := paint.Pt{X: c.X - w/2, Y: c.Y + 8}
			switch t.Side {
			case "n":
				p.Y = c.Y - 24
			case "e":
				p = paint.Pt{X: c.X + 11, Y: c.Y - 8}
			case "w":
				p = paint.Pt{X: c.X - 11 - w, Y: c.Y - 8}
			}
			l.Text(t.Label, paint.Label, p.X, p.Y, paint.PageInk)
		}
		name := s.desk.Phrase.Terminal(t.ID)
		if !held {
			b.Read(name)
			continue
		}
		k := ui.Control{ID: "terminal." + t.ID, Name: name, Role: ui.Spot, Round: true, On: on,
			Rect: paint.Rect{X: c.X - 11, Y: c.Y - 11, W: 22, H: 22}, Do: func() { s.probe.Probe(t.ID) }}
		if !reach {
			k.Off, k.Name = true, b.T("info.shut", "thing", name)
		}
		b.Add(k)
	}
}
