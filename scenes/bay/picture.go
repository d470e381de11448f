package bay

import (
	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// picture is where the view stands on the screen, and what of it moves.
type picture struct {
	box  paint.Rect
	k    float64 // logical units per view unit
	view *drawing.View
}

// at turns view units into logical units.
func (p *picture) at(q drawing.Point) paint.Pt {
	return paint.Pt{X: p.box.X + q[0]*p.k, Y: p.box.Y + q[1]*p.k}
}

func (p *picture) rect(b drawing.Box) paint.Rect {
	return paint.Rect{X: p.box.X + b[0]*p.k, Y: p.box.Y + b[1]*p.k, W: b[2] * p.k, H: b[3] * p.k}
}

// inView sets a mesh to view units; outOf sets it back.
func (p *picture) inView(m *paint.Mesh) { m.Shift, m.Zoom = paint.Pt{X: p.box.X, Y: p.box.Y}, p.k }
func outOf(m *paint.Mesh)               { m.Shift, m.Zoom = paint.Pt{}, 0 }

func box(b drawing.Box) paint.Rect { return paint.Rect{X: b[0], Y: b[1], W: b[2], H: b[3]} }

func points(in []drawing.Point) []paint.Pt {
	out := make([]paint.Pt, len(in))
	for i, p := range in {
		out[i] = paint.Pt{X: p[0], Y: p[1]}
	}
	return out
}

func (s *Scene) drawPicture(b *ui.Build, r paint.Rect) {
	v, ok := s.desk.Draw.View(s.place)
	if !ok {
		return
	}
	s.pic = picture{box: r, k: r.W / drawing.Width, view: v}
	l := b.Back
	s.pic.inView(&l.Mesh)
	s.drawProps(l)
	s.drawPlugs(&l.Mesh)
	for _, h := range v.Hoses {
		s.drawHose(&l.Mesh, h)
	}
	for _, p := range v.Props {
		w := &s.desk.View
		if w.Extract {
			art.Extraction(&l.Mesh, p.Kind, box(p.Box))
		}
		art.Gauges(&l.Mesh, p.Kind, box(p.Box), float64(w.Rpm), w.Coolant, w.Lamp, w.Key)
	}
	s.drawTools(&l.Mesh)
	outOf(&l.Mesh)
	s.mat(l, r, paint.Rect{W: b.W, H: b.H})
	for _, p := range v.Props {
		if p.Label != "" {
			s.caption(b, p.Label, s.pic.rect(p.Box))
		}
	}
	if !s.past {
		s.addSpots(b)
		s.nameThings(b)
	}
}

// caption sets words that belong to the picture at the left of a box.
func (s *Scene) caption(b *ui.Build, words string, r paint.Rect) {
	w := min(b.Front.Fonts.Width(words, paint.LabelB)+8, r.W)
	q := paint.Rect{X: r.X, Y: r.Mid().Y - 8, W: w, H: 16}
	b.Front.Box(q, 4, paint.Fade(paint.Black, 0.6))
	b.Front.TextIn(words, paint.LabelB, q.Pad(4, 0), paint.Left, paint.Chalk)
	b.Read(words)
}

// mat covers what the picture paints beyond its edge and frames it.
func (s *Scene) mat(l *paint.List, r, screen paint.Rect) {
	m := max(screen.W, screen.H)
	for _, q := range []paint.Rect{{X: r.X - m, Y: r.Y - m, W: r.W + 2*m, H: m}, {X: r.X - m, Y: r.Bottom(), W: r.W + 2*m, H: m},
		{X: r.X - m, Y: r.Y - m, W: m, H: r.H + 2*m}, {X: r.Right(), Y: r.Y - m, W: m, H: r.H + 2*m}} {
		l.Box(q.Overlap(screen), 0, paint.Petrol)
	}
	l.Frame(r.Inset(-2), 4, 3, paint.Edge)
}

// drawPlugs paints the harness halves of the connectors: pushed home, or drawn back when open.
func (s *Scene) drawPlugs(m *paint.Mesh) {
	for _, c := range s.pic.view.Connectors {
		r := box(c.Box)
		half := paint.Rect{X: r.X + r.W*0.46, Y: r.Y, W: r.W * 0.54, H: r.H}
		if isOn(s.desk.View.Connectors, c.ID) {
			half.X += 36
		}
		m.Box(half, 8, art.Rubber)
		m.BoxGrad(half.Inset(2), 7, paint.RGB(0x55636a), art.Casing)
		m.Box(paint.Rect{X: half.X - 10, Y: half.Mid().Y - 7, W: half.W * 0.6, H: 14}, 4, art.Tag)
		for _, y := range []float64{0.28, 0.72} {
			m.Box(paint.Rect{X: half.Right() - 4, Y: half.Y + half.H*y - 6, W: 12, H: 12}, 3, art.Rubber)
		}
	}
}

// ends gives where a hose's two ends are in this view, in view units, and which way they look. Hanging tells whether an end
// hangs free.
func (s *Scene) ends(h drawing.Hose) (a, b end) {
	info := bench.HoseInfo{}
	for _, x := range s.desk.Cat.Hoses {
		if x.ID == h.ID {
			info = x
		}
	}
	one := func(name, home string, exit, hang drawing.Point) end {
		e := end{id: h.ID + "." + name}
		at := home
		for _, x := range s.desk.View.HoseEnds {
			if x.ID == e.id {
				at, e.plugged = x.At, x.Plugged
				e.free = x.At == ""
			}
		}
		switch {
		case e.free && hang != (drawing.Point{}):
			e.at, e.here = paint.Pt{X: hang[0], Y: hang[1]}, true
			return e
		case e.free:
			// It hangs out of sight: the hose leaves the view as it always does.
			e.free, at = false, home
		}
		for _, p := range s.ports() {
			if p.ID == at {
				e.at, e.dir, e.here = paint.Pt{X: p.At[0], Y: p.At[1]}, paint.Pt{X: p.Dir[0], Y: p.Dir[1]}, true
				return e
			}
		}
		e.at = paint.Pt{X: exit[0], Y: exit[1]}
		if at != home && s.pic.view.ID == "front" {
			if p, ok := s.frontPort(at); ok {
				e.at = p
			}
		}
		return e
	}
	return one("a", info.PortA, h.ExitA, h.HangA), one("b", info.PortB, h.ExitB, h.HangB)
}

// frontPort is where the overview shows a port: where the hose that belongs there ends.
func (s *Scene) frontPort(port string) (paint.Pt, bool) {
	for _, info := range s.desk.Cat.Hoses {
		for _, h := range s.pic.view.Hoses {
			if h.ID != info.ID {
				continue
			}
			if info.PortA == port {
				return paint.Pt{X: h.ExitA[0], Y: h.ExitA[1]}, true
			}
			if info.PortB == port {
				return paint.Pt{X: h.ExitB[0], Y: h.ExitB[1]}, true
			}
		}
	}
	return paint.Pt{}, false
}

type end struct {
	id      string
	at, dir paint.Pt
	here    bool // can be touched in this view
	free    bool
	plugged bool
}

// run is the line along which a hose lies.
func (s *Scene) run(h drawing.Hose) []paint.Pt {
	a, b := s.ends(h)
	via := points(h.Via)
	pts := []paint.Pt{a.at}
	droop := paint.Pt{Y: -2.4 * h.Width} // an end that hangs points down
	if a.free {
		pts = append(pts, a.at.Add(droop))
	}
	if a.dir != (paint.Pt{}) {
		pts = append(pts, a.at.Add(a.dir.Mul(h.Width*0.9)))
	}
	// An end that hangs lets go of the run next to it.
	if a.free && len(via) > 1 {
		via = via[1:]
	}
	if b.free && len(via) > 1 {
		via = via[:len(via)-1]
	}
	pts = append(pts, via...)
	if b.dir != (paint.Pt{}) {
		pts = append(pts, b.at.Add(b.dir.Mul(h.Width*0.9)))
	}
	if b.free {
		pts = append(pts, b.at.Add(droop))
	}
	pts = append(pts, b.at)
	return paint.Curve(pts)
}

func (s *Scene) drawHose(m *paint.Mesh, h drawing.Hose) {
	a, b := s.ends(h)
	line := s.run(h)
	art.Tube(m, line, h.Width, art.Ink(h.Ink))
	if h.Ink == "air" {
		art.Ribs(m, line, h.Width)
	}
	if word := s.foundOn(h.ID); word != "" {
		wound(m, line, h.Width, word)
	}
	for _, e := range []end{a, b} {
		if e.free {
			m.Disc(e.at, h.Width*0.5, paint.Fade(paint.White, 0.25))
			m.Disc(e.at, h.Width*0.36, paint.Black)
		}
		if e.plugged {
			m.Disc(e.at, h.Width*0.5, paint.Vermil)
			m.Ring(e.at, h.Width*0.5, 3, paint.White)
		}
		if !e.free && e.dir != (paint.Pt{}) {
			// A clip where it sits on its nipple.
			c := e.at.Add(e.dir.Mul(h.Width * 0.7))
			n := paint.Pt{X: -e.dir.Y, Y: e.dir.X}.Mul(h.Width * 0.58)
			m.Line([]paint.Pt{c.Sub(n), c.Add(n)}, max(5, h.Width*0.16), art.Steel)
		}
	}
}
