package cutaway

import (
	"math"

	"coldbay/scenes/paint"
	inside "coldbay/sim/cutaway"
)

const (
	markEvery = 19.0 // between two marks on a way, on the screen
	markLong  = 8.0
	turning   = 2.2              // how fast a pump at full speed is seen to turn, turns a second
	fullSpin  = 1200             // rad/s
	idleSpin  = 120              // rad/s of the crankshaft
	whole     = 14 * 2 * math.Pi // where the angle of a shaft begins anew: a whole number of turns, and of the belt's ticks nearly
	crankOf   = " crank"
)

// advance moves marks and shafts on by dt seconds.
func (p *Panel) advance(i int, f *inside.Film, dt float64) {
	for n := range p.Sheet.Ways {
		w := &p.Sheet.Ways[n]
		p.phase[i][n] = math.Mod(p.phase[i][n]+speed(w.Medium, f.Flow(*w, p.at))*dt, markEvery)
	}
	for n := range p.Sheet.Leaks {
		k := len(p.Sheet.Ways) + n
		p.phase[i][k] = math.Mod(p.phase[i][k]+speed(inside.Vacuum, f.Leak(p.Sheet.Leaks[n], p.at))*dt*0.5, markEvery)
	}
	for n := range p.Sheet.Items {
		it := &p.Sheet.Items[n]
		full := 0.0
		switch it.Kind {
		case "pump", "motor":
			full = fullSpin
		case "cylinder", "belt_pump":
			full = idleSpin
		default:
			continue
		}
		turn := func(shaft string, state int) {
			p.spin[i][shaft] = math.Mod(p.spin[i][shaft]+f.State(*it, state, p.at)/full*turning*dt*2*math.Pi, whole)
		}
		turn(it.ID, 0)
		if it.Kind == "belt_pump" {
			turn(it.ID+crankOf, 1)
		}
	}
}

// animate draws what moves of a picture.
func (p *Panel) animate(m *paint.Mesh, i int, f *inside.Film) {
	y := &p.lay
	for n := range p.Sheet.Ways {
		w := &p.Sheet.Ways[n]
		for _, piece := range p.pieces[n] {
			m.Shift, m.Zoom = y.origin[i], y.k
			m.Line(piece, bore(w.Medium), fill(w, f, p.at))
		}
	}
	m.Shift, m.Zoom = paint.Pt{}, 0
	for n := range p.Sheet.Ways {
		w := &p.Sheet.Ways[n]
		flow := f.Flow(*w, p.at)
		if faint(w.Medium, flow) {
			continue
		}
		for _, piece := range p.pieces[n] {
			p.marks(m, i, piece, p.phase[i][n], flow > 0, w.Medium)
		}
	}
	for n := range p.Sheet.Items {
		it := &p.Sheet.Items[n]
		if !y.shows(it) {
			continue
		}
		m.Shift, m.Zoom = y.spot(i, it.At), y.k
		penOf(m, it).moving(it.Kind, func(k int) float64 { return f.State(*it, k, p.at) }, p.spin[i][it.ID], p.spin[i][it.ID+crankOf])
	}
	m.Shift, m.Zoom = paint.Pt{}, 0
	for n := range p.Sheet.Leaks {
		l := &p.Sheet.Leaks[n]
		if flow := f.Leak(*l, p.at); !faint(inside.Vacuum, flow) && y.has(l.At) {
			p.puff(m, i, l, flow, p.phase[i][len(p.Sheet.Ways)+n])
		}
	}
	if p.part != "" {
		for n := range p.Sheet.Items {
			if it := &p.Sheet.Items[n]; it.ID == p.part && y.shows(it) {
				m.Frame(y.itemRect(i, it).Inset(-4), 7, 2.5, paint.Yellow)
			}
		}
	}
}

// marks draws the arrows that travel along a piece of a way.
func (p *Panel) marks(m *paint.Mesh, i int, piece []paint.Pt, phase float64, on bool, medium inside.Medium) {
	y := &p.lay
	ink, half := marks(medium), math.Max(2.2, math.Min(5, bore(medium)*y.k*0.28))
	start := phase
	for start < 0 {
		start += markEvery
	}
	for j := 1; j < len(piece); j++ {
		a := paint.Pt{X: y.origin[i].X + piece[j-1].X*y.k, Y: y.origin[i].Y + piece[j-1].Y*y.k}
		b := paint.Pt{X: y.origin[i].X + piece[j].X*y.k, Y: y.origin[i].Y + piece[j].Y*y.k}
		long := b.Sub(a).Len()
		dir := b.Sub(a).Unit()
		at := start
		for ; at < long; at += markEvery {
			if at < markLong/2 || at > long-markLong/2 {
				continue
			}
			arrow(m, a.Add(dir.Mul(at)), dir, on, half, ink)
		}
		start = at - long
	}
}

// arrow is one mark that points the way it goes.
func arrow(m *paint.Mesh, c, dir paint.Pt, on bool, half float64, ink paint.Ink) {
	if !on {
		dir = dir.Mul(-1)
	}
	across := paint.Pt{X: -dir.Y * half, Y: dir.X * half}
	tip, tail := c.Add(dir.Mul(markLong/2)), c.Sub(dir.Mul(markLong/2))
	m.Fill([]paint.Pt{tip, tail.Add(across), tail.Sub(across)}, ink)
}

// puff draws air that escapes or is drawn in, and a ring round the place.
func (p *Panel) puff(m *paint.Mesh, i int, l *inside.Leak, flow, phase float64) {
	y := &p.lay
	c := y.spot(i, l.At)
	dir := paint.Pt{X: l.Way[0], Y: l.Way[1]}.Unit()
	m.Ring(c, 6, 2, paint.Vermil)
	for phase < 0 {
		phase += markEvery
	}
	for k := range 2 {
		at := 8 + math.Mod(phase+float64(k)*markEvery, 2*markEvery)
		for _, lean := range []float64{-0.35, 0.35} {
			d := paint.Pt{X: dir.X - dir.Y*lean, Y: dir.Y + dir.X*lean}.Unit()
			arrow(m, c.Add(d.Mul(at)), d, flow > 0, 2.6, paint.Fade(paint.Chalk, 1-at/60))
		}
	}
}
