package bay

import (
	"math"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
)

// Live paints what moves: the pump that shakes, the wheels of a running engine, smoke and air that drift, leads that glow.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.pic.view == nil || s.sheet != "" {
		return
	}
	v := &s.desk.View
	s.pic.inView(m)
	if v.PumpTurning {
		for _, p := range s.pic.view.Props {
			if art.Shakes(p.Kind) && !isOn(v.Parts, p.Part) {
				shake(m, box(p.Box), seconds, v.PumpRough)
			}
		}
	}
	step := s.frame(seconds)
	running := v.Engine == "running"
	if running {
		s.angle += step * float64(v.Rpm) / 60 * 2 * math.Pi * slowed
	}
	if running || s.angle != 0 {
		s.turns(m, running)
	}
	s.stems(m, step, seconds == 0)
	s.drift(m, seconds)
	if v.Engine == "running" && v.Coolant == "cold" && !v.Extract {
		// The breath of a cold engine at its tailpipe.
		if at, ok := s.where("tailpipe"); ok {
			plume(m, at, seconds, 0.35, paint.RGB(0xe6e8e2))
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

// frame is the time since the frame before, s; 0 where nothing is to move by itself.
func (s *Scene) frame(seconds float64) float64 {
	step := seconds - s.last
	s.last = seconds
	return min(max(step, 0), longestFrame)
}

// longestFrame bounds what a frame that came late moves on, s; stemSpeed is how much of its way a stem goes in a second as it is drawn.
const (
	longestFrame = 0.1
	stemSpeed    = 3.0
)

// stems paints the stems of valves that lie beside the car as they were seen to go. In its place a valve hides its stem.
func (s *Scene) stems(m *paint.Mesh, step float64, still bool) {
	for _, st := range s.desk.View.Stems {
		if s.lifts == nil {
			s.lifts = map[string]float64{}
		}
		now, known := s.lifts[st.ID]
		switch off := st.Share - now; {
		case still || !known || math.Abs(off) <= step*stemSpeed:
			now = st.Share
		default:
			now += math.Copysign(step*stemSpeed, off)
		}
		s.lifts[st.ID] = now
		for _, p := range s.pic.view.Props {
			if p.Part == st.ID && p.Away != (drawing.Box{}) {
				s.kit.Stem(p.Kind, m, box(p.Away), now)
			}
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
