package bay

import (
	"math"

	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
)

// Live paints what moves: the pump that turns, belt pulleys of a running engine, leads that glow.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.pic.view == nil || s.sheet != "" {
		return
	}
	v := &s.desk.View
	s.pic.inView(m)
	if v.PumpTurning {
		for _, p := range s.pic.view.Props {
			if p.Kind == "pump" {
				shake(m, box(p.Box), seconds, v.PumpRough)
			}
		}
	}
	if v.Engine == "running" && s.pic.view.ID == "front" {
		for _, p := range s.pic.view.Props {
			if p.Kind == "engine" {
				pulleys(m, box(p.Box), seconds, float64(v.Rpm))
			}
		}
	}
	for _, j := range v.Jumpers {
		if j.State != "glowing" {
			continue
		}
		a, okA := s.terminal(j.From)
		b, okB := s.terminal(j.To)
		if okA && okB {
			// Slow swelling, well below three a second.
			glow := 0.35 + 0.25*math.Sin(seconds*3)
			mid := a.Add(b).Mul(0.5).Add(paint.Pt{Y: 60 + 0.18*b.Sub(a).Len()})
			m.Rope(paint.Curve([]paint.Pt{a, mid, b}), 34, paint.Fade(paint.Vermil, glow))
		}
	}
}

// shake draws strokes beside the pump that tremble while it turns; a rough one trembles wider and unevenly.
func shake(m *paint.Mesh, r paint.Rect, t float64, rough bool) {
	wide := 0.02
	if rough {
		wide = 0.05
	}
	for i := range 3 {
		f := 17.0 + 3*float64(i)
		d := r.W * wide * (0.5 + 0.5*math.Sin(t*f+float64(i)))
		if rough {
			d *= 0.6 + 0.4*math.Sin(t*5.3+2*float64(i))
		}
		gap := r.W * (0.05 + 0.035*float64(i))
		ink := paint.Fade(paint.Chalk, 0.65-0.17*float64(i))
		c := r.Mid()
		m.Arc(c, r.W*0.5+gap+d, -28, 28, r.W*0.012, ink)
		m.Arc(c, r.W*0.5+gap+d, 152, 208, r.W*0.012, ink)
	}
}

func pulleys(m *paint.Mesh, r paint.Rect, t, rpm float64) {
	for i, y := range []float64{0.45, 0.62, 0.80} {
		c := art.Pt(r, 0.042, y)
		a := t*rpm/60*2*math.Pi*0.08 + float64(i)
		for k := range 3 {
			u := paint.Pt{X: math.Cos(a + float64(k)*2.094), Y: math.Sin(a + float64(k)*2.094)}
			m.Line([]paint.Pt{c.Add(u.Mul(6)), c.Add(u.Mul(14))}, 4, art.Steel)
		}
	}
}
