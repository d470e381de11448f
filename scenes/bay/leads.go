package bay

import (
	"math"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
)

// drawTools paints what the trainee has put on the car: meter and lamp leads, jumper leads, the clamp, the hand pump.
func (s *Scene) drawTools(m *paint.Mesh) {
	v := &s.desk.View
	edge := func(n float64) paint.Pt { return paint.Pt{X: drawing.Width + 20, Y: 560 + 44*n} }
	s.lead(m, v.Meter.Red, edge(0), paint.RGB(0xc0392b))
	s.lead(m, v.Meter.Black, edge(1), paint.RGB(0x111517))
	s.lead(m, v.Lamp21.Red, edge(2), paint.RGB(0xd8c23a))
	s.lead(m, v.Lamp21.Black, edge(3), paint.RGB(0x3a3f42))
	for i, j := range v.Jumpers {
		ink := paint.RGB(0x3f8f5f)
		switch j.State {
		case "hot":
			ink = paint.Orange
		case "glowing":
			ink = paint.Vermil
		}
		width := map[int]float64{18: 7, 14: 10, 12: 12, 10: 15}[j.AWG]
		a, okA := s.terminal(j.From)
		b, okB := s.terminal(j.To)
		switch {
		case okA && okB:
			mid := a.Add(b).Mul(0.5)
			d := b.Sub(a)
			mid = mid.Add(paint.Pt{X: 0, Y: 60 + 0.18*d.Len()})
			art.Tube(m, paint.Curve([]paint.Pt{a, mid, b}), max(width, 7), ink)
			s.fuseHolder(m, mid, j.Fuse)
		case okA:
			art.Tube(m, paint.Curve([]paint.Pt{a, {X: a.X - 60, Y: a.Y + 90}, {X: -20, Y: 600 + 30*float64(i)}}), max(width, 7), ink)
		case okB:
			art.Tube(m, paint.Curve([]paint.Pt{b, {X: b.X - 60, Y: b.Y + 90}, {X: -20, Y: 600 + 30*float64(i)}}), max(width, 7), ink)
		}
		for _, end := range []struct {
			p  paint.Pt
			ok bool
		}{{a, okA}, {b, okB}} {
			if end.ok {
				clip(m, end.p, ink)
			}
		}
	}
	if c, ok := s.point(v.Clamp.Red, s.pic.view.Clamps); ok {
		m.Ring(c, 44, 18, paint.RGB(0x111517))
		m.Ring(c, 44, 9, paint.Orange)
		m.Rope([]paint.Pt{{X: c.X - 20, Y: c.Y + 48}, {X: c.X - 44, Y: c.Y + 120}}, 20, paint.RGB(0x111517))
		m.Rope([]paint.Pt{{X: c.X + 20, Y: c.Y + 48}, {X: c.X + 44, Y: c.Y + 120}}, 20, paint.RGB(0x111517))
	}
	if c, ok := s.opening(v.HandPump.On); ok {
		s.handPump(m, c)
	}
}

func (s *Scene) fuseHolder(m *paint.Mesh, c paint.Pt, amps int) {
	if amps == 0 {
		return
	}
	m.Box(paint.Rect{X: c.X - 26, Y: c.Y - 14, W: 52, H: 28}, 8, paint.Black)
	m.Box(paint.Rect{X: c.X - 20, Y: c.Y - 9, W: 40, H: 18}, 5, paint.Orange)
}

func (s *Scene) lead(m *paint.Mesh, id string, from paint.Pt, ink paint.Ink) {
	c, ok := s.terminal(id)
	if !ok {
		return
	}
	art.Tube(m, paint.Curve([]paint.Pt{from, {X: from.X - 0.3*math.Abs(from.X-c.X), Y: math.Max(from.Y, c.Y) + 50}, {X: c.X + 30, Y: c.Y + 60}, c}), 11, ink)
	clip(m, c, ink)
}

// clip is a probe or clip at a terminal.
func clip(m *paint.Mesh, c paint.Pt, ink paint.Ink) {
	m.Rope([]paint.Pt{{X: c.X, Y: c.Y}, {X: c.X + 14, Y: c.Y + 30}}, 20, paint.Fade(paint.White, 0.75))
	m.Rope([]paint.Pt{{X: c.X, Y: c.Y}, {X: c.X + 14, Y: c.Y + 30}}, 16, ink)
}

func (s *Scene) terminal(id string) (paint.Pt, bool) { return s.point(id, s.pic.view.Terminals) }

func (s *Scene) point(id string, list []drawing.Spot) (paint.Pt, bool) {
	for _, t := range list {
		if id != "" && t.ID == id {
			return paint.Pt{X: t.At[0], Y: t.At[1]}, true
		}
	}
	return paint.Pt{}, false
}

// opening is where a port or hose end is in this view.
func (s *Scene) opening(id string) (paint.Pt, bool) {
	if p, ok := s.point(id, s.ports()); ok {
		return p, true
	}
	for _, h := range s.pic.view.Hoses {
		a, b := s.ends(h)
		for _, e := range []end{a, b} {
			if id != "" && e.id == id && e.here {
				return e.at, true
			}
		}
	}
	return paint.Pt{}, false
}

// low is from where on down a nipple may be on a valve that lies beside the car, in view units.
const low = 350

// handPump is the vacuum pump on its hose, gauge towards the trainee.
func (s *Scene) handPump(m *paint.Mesh, c paint.Pt) {
	aside := 150.0
	if c.Y > low && s.lies() {
		aside = 230 // clear of the valve with its nipple
	}
	at := paint.Pt{X: math.Min(math.Max(c.X-aside, 120), 1000), Y: math.Min(c.Y+150, 610)}
	art.Tube(m, paint.Curve([]paint.Pt{c, {X: c.X - 30, Y: c.Y + 60}, {X: at.X + 90, Y: at.Y - 30}, {X: at.X + 62, Y: at.Y}}), 16, paint.RGB(0xb7c6c9))
	m.Box(paint.Rect{X: at.X - 50, Y: at.Y - 22, W: 116, H: 44}, 14, paint.Black)
	m.BoxGrad(paint.Rect{X: at.X - 46, Y: at.Y - 19, W: 108, H: 38}, 12, paint.RGB(0xb2463a), paint.RGB(0x7a2a21))
	m.Rope([]paint.Pt{{X: at.X - 20, Y: at.Y + 20}, {X: at.X - 6, Y: at.Y + 96}}, 20, paint.Black)
	m.Rope([]paint.Pt{{X: at.X - 50, Y: at.Y}, {X: at.X - 84, Y: at.Y + 20}, {X: at.X - 70, Y: at.Y + 94}}, 14, art.Iron)
	vacuumDial(m, paint.Pt{X: at.X + 10, Y: at.Y - 52}, 42, s.desk.View.HandPump.KPa)
}

// vacuumDial is the gauge of the hand pump: 0 to 100 kPa below the air outside.
func vacuumDial(m *paint.Mesh, c paint.Pt, rad, kpa float64) {
	m.Disc(c, rad, paint.Black)
	m.Disc(c, rad*0.92, paint.RGB(0xf4f1e6))
	for i := range 11 {
		a := (135 + 27*float64(i)) * math.Pi / 180
		u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
		in := choose(i%5 == 0, 0.62, 0.74)
		m.Line([]paint.Pt{c.Add(u.Mul(rad * in)), c.Add(u.Mul(rad * 0.86))}, rad*0.05, paint.Black)
	}
	a := (135 + 270*math.Min(math.Max(kpa, 0), 100)/100) * math.Pi / 180
	u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
	n := paint.Pt{X: -u.Y, Y: u.X}
	m.Fill([]paint.Pt{c.Add(n.Mul(rad * 0.06)), c.Add(u.Mul(rad * 0.78)), c.Sub(n.Mul(rad * 0.06)), c.Sub(u.Mul(rad * 0.2))}, paint.Vermil)
	m.Disc(c, rad*0.1, paint.Black)
}
