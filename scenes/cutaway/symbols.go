package cutaway

import (
	"math"

	"coldbay/scenes/paint"
	inside "coldbay/sim/cutaway"
)

// pen draws in an item's own units: the origin is its middle, half its size to each side.
type pen struct {
	m      *paint.Mesh
	w, h   float64 // half sizes
	flip   bool    // upside down
	states int     // how many quantities it follows
}

func penOf(m *paint.Mesh, it *inside.Item) pen {
	return pen{m: m, w: it.Size[0] / 2, h: it.Size[1] / 2, flip: it.Flip, states: len(it.States)}
}

// up is a place upside down where the item is.
func (p pen) up(x, y float64) paint.Pt {
	if p.flip {
		y = -y
	}
	return paint.Pt{X: x, Y: y}
}

// slab is a box that turns over with its item.
func (p pen) slab(x, y, w, h, round float64, ink paint.Ink) {
	if p.flip {
		y = -y - h
	}
	p.m.Box(paint.Rect{X: x, Y: y, W: w, H: h}, round, ink)
}

// shell is a body that turns over with its item.
func (p pen) shell(x, y, w, h, round float64, inside paint.Ink) {
	if p.flip {
		y = -y - h
	}
	p.body(x, y, w, h, round, inside)
}

func at(x, y float64) paint.Pt { return paint.Pt{X: x, Y: y} }

func (p pen) line(width float64, ink paint.Ink, pts ...paint.Pt) { p.m.Line(pts, width, ink) }

// body is the outline that most parts have.
func (p pen) body(x, y, w, h, round float64, inside paint.Ink) {
	r := paint.Rect{X: x, Y: y, W: w, H: h}
	p.m.Box(r, round, edge)
	p.m.Box(r.Inset(2), math.Max(0, round-1.5), inside)
}

// still draws what does not move of a part.
func (p pen) still(kind string) {
	w, h := p.w, p.h
	switch kind {
	case "manifold", "filter", "passages", "ports", "controller", "cylinder":
		p.box(kind)
	case "reservoir":
		p.body(-w, -h, 2*w, 2*h, h, casing)
	case "check":
		p.body(-w, -h, 2*w, 2*h, 4, casing)
		p.line(2, edge, at(-w+7, -h+6), at(-w+7, h-6), at(w-12, 0), at(-w+7, -h+6))
	case "solenoid":
		p.body(-w, -h, 2*w, 2*h, 5, casing)
		p.body(-w+5, -h+7, 26, 2*h-14, 2, metal)
		p.line(2, edge, at(-w+7, h-9), at(-w+29, -h+9))
		p.line(4, edge, at(18, h), at(18, h+6), at(44, h+6), at(44, h)) // the vent's cap
	case "valve", "push_valve", "diverter":
		p.stillValve(kind)
	case "belt_pump":
		p.stillBeltPump()
	case "gauge":
		p.body(-3, -2, 6, h+2, 0, metal)
		p.m.Disc(at(0, -4), w, edge)
		p.m.Disc(at(0, -4), w-2, casing)
	case "lamp":
		p.m.Disc(at(0, 0), w, edge)
		p.m.Disc(at(0, 0), w-2, casing)
	case "silencer":
		p.body(-w, -h, 2*w, 2*h, 5, casing)
		for i := range 4 {
			p.m.Box(paint.Rect{X: -w + 8 + 9*float64(i), Y: -h + 8, W: 4, H: 2*h - 16}, 1, soot)
		}
	case "pump":
		p.m.Disc(at(0, 0), w, edge)
		p.m.Disc(at(0, 0), w-2.5, casing)
	case "motor":
		p.m.Disc(at(0, 0), w, edge)
		p.m.Disc(at(0, 0), w-2.5, metal)
		p.line(3, paint.Chalk, at(-9, 9), at(-9, -9), at(0, 3), at(9, -9), at(9, 9))
	case "relay":
		p.body(-w, -h, 2*w, 2*h, 4, casing)
		p.line(3, edge, at(0, h), at(12, h-12), at(12, 8))
		p.line(3, edge, at(w, -25), at(22, -25), at(22, -18))
		p.body(-31, -14, 22, 32, 2, metal)
		p.line(2.5, edge, at(0, -h), at(-20, -h+10), at(-20, -14))
		p.line(2.5, edge, at(-20, 18), at(-20, 26))
	case "fuse":
		p.body(-w, -h, 2*w, 2*h, 4, casing)
	case "battery":
		p.m.Box(paint.Rect{X: -w + 12, Y: -h - 2, W: 14, H: 8}, 2, edge)
		p.m.Box(paint.Rect{X: w - 26, Y: -h - 2, W: 14, H: 8}, 2, edge)
		p.body(-w, -h+5, 2*w, 2*h-5, 5, casing)
		p.line(2.5, paint.Chalk, at(-w+13, 2), at(-w+25, 2))
		p.line(2.5, paint.Chalk, at(w-25, 2), at(w-13, 2))
		p.line(2.5, paint.Chalk, at(w-19, -4), at(w-19, 8))
	case "ground":
		p.line(3, edge, at(-w, -h), at(w, -h))
		p.line(3, edge, at(-w*0.6, -h+7), at(w*0.6, -h+7))
		p.line(3, edge, at(-w*0.25, -h+14), at(w*0.25, -h+14))
	case "sensor":
		p.m.Box(paint.Rect{X: -w, Y: -13, W: 2 * w, H: 26}, 0, exhausts)
		p.line(1.5, edge, at(-w, -14), at(w, -14))
		p.line(1.5, edge, at(-w, 14), at(w, 14))
		p.m.Box(paint.Rect{X: -6, Y: -h, W: 12, H: h - 4}, 3, edge)
		p.m.Box(paint.Rect{X: -10, Y: -h + 6, W: 20, H: 8}, 2, metal)
	case "catalyst":
		p.m.Fill([]paint.Pt{at(-w, -13), at(-w+16, -h), at(w-16, -h), at(w, -13), at(w, 13), at(w-16, h), at(-w+16, h), at(-w, 13)}, edge)
	case "tailpipe":
		p.m.Box(paint.Rect{X: -w, Y: -15, W: 2 * w, H: 30}, 0, edge)
		p.m.Box(paint.Rect{X: -w + 3, Y: -13, W: 2*w - 3, H: 26}, 0, exhausts)
		p.m.Oval(at(-w+4, 0), 5, 14, soot, soot)
	}
}

// box draws the still parts of those that are boxes.
func (p pen) box(kind string) {
	w, h := p.w, p.h
	switch kind {
	case "manifold":
		p.body(-w, -h, 2*w, 2*h, 10, casing)
		for i := range 4 {
			p.m.Box(paint.Rect{X: -w + 10 + 19*float64(i), Y: h - 12, W: 11, H: 10}, 2, hollow)
		}
	case "filter":
		p.body(-w, -h, 2*w, 2*h, 6, casing)
		for i := range 5 {
			x := -w + 9 + 10*float64(i)
			p.line(2, edge, at(x, -h+9), at(x+5, h-9), at(x+10, -h+9))
		}
	case "passages":
		p.body(-w, -h, 2*w, 2*h, 3, metal)
	case "ports":
		p.body(-w, -h, 2*w, 2*h, 4, metal)
		for i := range 4 {
			p.m.Disc(at(-w+13+17*float64(i), 0), 7.5, soot)
		}
	case "controller":
		p.body(-w, -h, 2*w, 2*h, 6, casing)
		for i := range 9 {
			p.m.Box(paint.Rect{X: -w + 12 + 10*float64(i), Y: h - 10, W: 5, H: 6}, 1, edge)
		}
	case "cylinder":
		p.body(-w, -h, 2*w, 2*h, 5, metal)
		p.m.Box(paint.Rect{X: -w + 12, Y: -h + 4, W: 2*w - 24, H: 2*h - 8}, 3, soot)
	}
}

// moving draws what moves of a part, from what its states say.
func (p pen) moving(kind string, state func(int) float64, spin, crank float64) {
	w, h := p.w, p.h
	switch kind {
	case "manifold", "reservoir":
		r := paint.Rect{X: -w + 12, Y: -h + 10, W: 2*w - 24, H: 2*h - 24}
		p.m.Box(r, math.Min(10, r.H/2), vacuumInk(state(0)))
	case "check":
		x := w - 11.0
		if state(0) > hairFlow {
			x = w - 6
		}
		p.line(3, paint.Yellow, at(x, -h+7), at(x, h-7))
	case "solenoid":
		on := state(0) > 0.5
		ink := paint.Fade(paint.Orange, 0)
		if on {
			ink = paint.Orange
		}
		p.m.Box(paint.Rect{X: -w + 8, Y: -h + 10, W: 20, H: 2*h - 20}, 2, paint.Fade(ink, 0.55))
		to := at(w-4, -6)
		if !on {
			to = at(32, h-4)
		}
		p.line(4, paint.Yellow, at(11, h-4), at(14, 4), to)
	case "valve", "push_valve", "diverter":
		p.movingValve(kind, share(state(0)), state(1))
	case "belt_pump":
		p.movingBeltPump(state, spin, crank)
	case "gauge":
		// A needle from left to right over the scale of a pipe.
		a := math.Pi * (1.15 + 0.7*share(state(0)/fullPipe))
		p.line(2.5, paint.Yellow, at(0, -4), at((w-4)*math.Cos(a), -4+(w-4)*math.Sin(a)))
	case "lamp":
		ink := hollow
		if state(0) > 0.5 {
			ink = paint.Orange
		}
		p.m.Disc(at(0, 0), w-5, ink)
		p.line(2, edge, at(-w*0.4, -w*0.4), at(w*0.4, w*0.4))
		p.line(2, edge, at(-w*0.4, w*0.4), at(w*0.4, -w*0.4))
	case "pump":
		p.impeller(at(0, 0), w, spin)
	case "motor":
		c, s := math.Cos(spin), math.Sin(spin)
		for _, k := range []float64{1, -1} {
			p.m.Box(paint.Rect{X: k*(w-7)*c - 2.5, Y: k*(w-7)*s - 2.5, W: 5, H: 5}, 2.5, paint.Yellow)
		}
	case "relay":
		on := state(0) > 0.5
		tip := at(4, -18)
		if on {
			tip = at(22, -17)
			p.m.Box(paint.Rect{X: -29, Y: -12, W: 18, H: 28}, 2, paint.Fade(paint.Orange, 0.6))
		}
		p.line(4, paint.Yellow, at(12, 9), tip)
		p.line(1.5, paint.Chalk, at(-9, 2), at((12+tip.X)/2, (9+tip.Y)/2))
	case "fuse":
		if state(0) > 0.5 {
			p.line(2.5, paint.Vermil, at(-4, -h+4), at(-2, -6))
			p.line(2.5, paint.Vermil, at(4, h-4), at(1, 7))
			return
		}
		p.line(2.5, paint.Yellow, at(0, -h+4), at(-4, -6), at(4, 6), at(0, h-4))
	case "controller":
		for i := range p.states {
			x := -w + 22 + float64(i)*(2*w-44)
			ink := hollow
			if state(i) > 0.5 {
				ink = paint.Yellow
			}
			p.m.Box(paint.Rect{X: x - 9, Y: -h + 12, W: 18, H: 18}, 9, edge)
			p.m.Box(paint.Rect{X: x - 7, Y: -h + 14, W: 14, H: 14}, 7, ink)
		}
	case "passages":
		open := 9 * math.Sqrt(1-share(state(0)))
		p.m.Box(paint.Rect{X: -w + 2, Y: -10, W: 2*w - 4, H: 20}, 0, soot)
		if open > 0.3 {
			p.m.Box(paint.Rect{X: -w + 2, Y: -open, W: 2*w - 4, H: 2 * open}, 0, paint.RGB(0x1c4a4a))
		}
	case "cylinder":
		y := 0.28 * h * math.Sin(spin)
		p.slab(-w+14, -0.12*h+y, 2*w-28, 0.44*h, 3, edge)
		p.line(4, edge, p.up(0, 0.28*h+y), p.up(8*math.Cos(spin), h-12))
	case "catalyst":
		n := 10
		cell := (2*w - 36) / float64(n)
		for i := range n {
			// Exhaust comes from the right, so the front is there.
			x := w - 18 - cell*float64(i+1)
			p.m.Box(paint.Rect{X: x + 0.6, Y: -h + 5, W: cell - 1.2, H: 2*h - 10}, 0, heatInk(state(i)))
		}
	}
}
