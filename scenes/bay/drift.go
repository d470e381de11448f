package bay

import (
	"math"
	"strings"

	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/sim/bench"
)

// drift paints what the last action showed to move at an opening or along a hose, until the next action: smoke that comes out, air
// that a hand or a breath felt, an armature that was heard to click. It shows what was perceived and nothing else.
func (s *Scene) drift(m *paint.Mesh, seconds float64) {
	n := len(s.desk.Ledger)
	if n == 0 {
		return
	}
	for _, p := range s.desk.Ledger[n-1].Percepts {
		switch {
		case p.Key == "smoke":
			if at, ok := s.where(p.Of); ok {
				plume(m, at, seconds, choose(p.Word == "thick", 1.0, 0.5), paint.RGB(0xe6e8e2))
			}
		case p.Key == "flow" && p.Word != "none", p.Key == "breath_out":
			at, ok := s.where(p.Of)
			if !ok {
				continue
			}
			strong := map[string]float64{"faint": 0.35, "clear": 0.65, "strong": 1}[strings.Fields(p.Word + " ")[0]]
			gust(m, at, s.facing(p.Of), seconds, strong, strings.Contains(p.Word, "suction"))
		case p.Key == "click" && p.Word == "clicks":
			for _, q := range s.pic.view.Props {
				if q.Kind == "solenoid" {
					tick(m, box(q.Box), seconds)
				}
			}
		}
	}
}

// where is the place of a port, a hose end, a hose or the tailpipe in this view.
func (s *Scene) where(id string) (paint.Pt, bool) {
	if at, ok := s.opening(id); ok {
		return at, true
	}
	for _, h := range s.pic.view.Hoses {
		if h.ID == id && len(h.Via) > 0 {
			p := h.Via[len(h.Via)/2]
			return paint.Pt{X: p[0], Y: p[1]}, true
		}
	}
	if id == "tailpipe" {
		for _, p := range s.pic.view.Props {
			if e, ok := s.kit.PipeEnd(p.Kind, box(p.Box)); ok {
				return e, true
			}
		}
	}
	return paint.Pt{}, false
}

// facing is the way an opening looks: a nipple's own, downwards for a hose end.
func (s *Scene) facing(id string) paint.Pt {
	for _, p := range s.ports() {
		if p.ID == id {
			return paint.Pt{X: p.Dir[0], Y: p.Dir[1]}
		}
	}
	return paint.Pt{Y: 1}
}

// plume is smoke that rises, spreads and thins.
func plume(m *paint.Mesh, at paint.Pt, t, thick float64, ink paint.Ink) {
	const puffs = 9
	for i := range puffs {
		age := math.Mod(t*0.28+float64(i)/puffs, 1)
		sway := math.Sin(age*5+float64(i)*1.7) * 26 * age
		c := paint.Pt{X: at.X + sway + 30*age, Y: at.Y - 190*age}
		m.Disc(c, 10+46*age, paint.Fade(ink, thick*0.30*(1-age)*math.Min(1, age*6)))
	}
}

// gust is air that leaves an opening, or goes into it: strokes that move along the way it looks.
func gust(m *paint.Mesh, at, dir paint.Pt, t, strong float64, in bool) {
	side := paint.Pt{X: -dir.Y, Y: dir.X}
	for i := range 6 {
		age := math.Mod(t*(0.6+0.5*strong)+float64(i)*0.37, 1)
		if in {
			age = 1 - age
		}
		spread := (float64(i%3) - 1) * (10 + 26*age)
		a := at.Add(dir.Mul(16 + 120*age)).Add(side.Mul(spread))
		b := a.Add(dir.Mul(20 + 16*strong))
		m.Rope([]paint.Pt{a, b}, 4, paint.Fade(paint.Chalk, strong*0.75*math.Sin(age*math.Pi)))
	}
}

// tick is an armature that moves: a stroke beside the coil that jumps once in two seconds.
func tick(m *paint.Mesh, r paint.Rect, t float64) {
	d := 0.0
	if math.Mod(t, 2) < 0.25 {
		d = r.H * 0.05
	}
	for _, y := range []float64{0.30, 0.70} {
		p := paint.Pt{X: r.Right() + r.W*0.06 + d, Y: r.Y + r.H*y}
		m.Rope([]paint.Pt{p, {X: p.X + r.W*0.07, Y: p.Y + (y-0.5)*r.H*0.16}}, r.W*0.022, paint.Fade(paint.Chalk, 0.75))
	}
}

// turns is what goes round on a running engine, and stands as it came to rest on one that has run.
func (s *Scene) turns(m *paint.Mesh, running bool) {
	gone := s.beltGone()
	for _, p := range s.pic.view.Props {
		if p.Part != "" && isOn(s.desk.View.Parts, p.Part) || gone && (p.Kind == "pump_belt" || p.Kind == "belt_run") || !running && art.Blurs(p.Kind) {
			continue
		}
		r := box(p.Box)
		if p.Mirror {
			m.Mirror = 2 * r.Mid().X
		}
		s.kit.Turn(p.Kind, m, r, s.angle)
		m.Mirror = 0
	}
}

// slowed is how much slower wheels are seen to turn than they do: fast ones would flicker, and a picture can't show their blur.
const slowed = 0.08

// beltGone tells whether a look found that the belt of the air pump is gone, until the belt or the pump was renewed.
func (s *Scene) beltGone() bool {
	gone := false
	for _, f := range s.desk.Ledger {
		if f.Action.Verb == bench.Repair && (f.Action.On == "pump_belt" || f.Action.On == "air_pump") {
			gone = false
		}
		for _, p := range f.Percepts {
			if p.Sense == bench.Eye && p.Key == "sign" && strings.HasSuffix(p.Word, "belt is gone") {
				gone = true
			}
		}
	}
	return gone
}
