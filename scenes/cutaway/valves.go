package cutaway

import (
	"math"

	"coldbay/scenes/paint"
)

// stillValve draws what stands of a valve that is lifted: by a chamber's vacuum, or by the air's own pressure against a spring.
func (p pen) stillValve(kind string) {
	w, h := p.w, p.h
	if kind == "push_valve" {
		p.shell(-w*0.62, -h+12, 1.24*w, h*2-84, 5, casing) // spring's housing
	} else {
		p.shell(-w, -h, 2*w, 54, 16, casing) // chamber
	}
	p.shell(-w, h-76, 2*w, 76, 5, casing) // body
	p.slab(-3, h-74, 6, 18, 0, edge)
	if kind == "diverter" {
		// The seat to the open air is below, that to the exhaust at the right.
		p.slab(-16, h-4, 32, 5, 0, soot)
		return
	}
	p.slab(-3, h-20, 6, 18, 0, edge)
	p.line(2.5, paint.Orange, p.up(w-14, h-62), p.up(w-8, h-18)) // the reed
}

// movingValve draws stem and plate, lifted by a share of their way, and what moves them: Pa of vacuum in the chamber, or of pressure below.
func (p pen) movingValve(kind string, lift, pa float64) {
	w, h := p.w, p.h
	up := lift * 24
	if kind == "push_valve" {
		p.spring(-h+18, h-62-up)
		p.line(4, paint.Chalk, p.up(0, h-64-up), p.up(0, h-54-up))
		p.slab(-5, h-56-up, 10, 37, 2, paint.Yellow)
		p.slab(-w+6, h-52, w-14, 30, 3, paint.Blend(hollow, paint.Green, share(pa/fullGauge)*0.9))
		return
	}
	p.slab(-w+6, -h+5, 2*w-12, 26-up*0.45, 10, vacuumInk(pa))
	p.line(3.5, paint.Chalk, p.up(-w+3, -h+42), p.up(-w*0.45, -h+40-up*0.8), p.up(w*0.45, -h+40-up*0.8), p.up(w-3, -h+42))
	if kind == "diverter" {
		// Down, the upper plate shuts the way to the exhaust at the right; up, the lower one shuts that to the open air below.
		low := h - 5 + (24-up)*0.4
		p.line(4, paint.Chalk, p.up(0, -h+40-up*0.8), p.up(0, low))
		p.slab(-5, h-56-up, 10, 44, 2, paint.Yellow)
		p.slab(-15, low, 30, 5, 2, paint.Yellow)
		return
	}
	p.line(4, paint.Chalk, p.up(0, -h+40-up*0.8), p.up(0, h-54-up))
	p.slab(-5, h-56-up, 10, 37, 2, paint.Yellow)
}

// spring draws a coil spring between two heights.
func (p pen) spring(top, foot float64) {
	const turns = 5
	pts := make([]paint.Pt, 0, 2*turns+2)
	step := (foot - top) / (2 * turns)
	pts = append(pts, p.up(0, top))
	for i := range 2*turns - 1 {
		x := 12.0
		if i%2 == 1 {
			x = -12
		}
		pts = append(pts, p.up(x, top+step*(float64(i)+1)))
	}
	pts = append(pts, p.up(0, foot))
	p.line(3, paint.Chalk, pts...)
}

// impeller draws the turning blades of a pump.
func (p pen) impeller(c paint.Pt, rad, spin float64) {
	for i := range 6 {
		a := spin + float64(i)*math.Pi/3
		p.line(3, edge, c.Add(at(8*math.Cos(a), 8*math.Sin(a))), c.Add(at((rad-8)*math.Cos(a+0.35), (rad-8)*math.Sin(a+0.35))))
	}
	p.m.Box(paint.Rect{X: c.X - 6, Y: c.Y - 6, W: 12, H: 12}, 6, paint.Chalk)
}

// Where a belt pump's two wheels are in its item: the pump's above, the crankshaft's below.
const (
	beltWheel  = 26.0 // radius on the pump's shaft
	crankWheel = 32.0
)

func (p pen) wheels() (pump, crank paint.Pt) {
	return at(0, -p.h+p.w+1), at(0, p.h-crankWheel-1)
}

func (p pen) stillBeltPump() {
	a, b := p.wheels()
	p.m.Disc(a, p.w, edge)
	p.m.Disc(a, p.w-2.5, casing)
	p.m.Disc(b, crankWheel, edge)
	p.m.Disc(b, crankWheel-2.5, metal)
}

// gone is the slip from which there is no belt any more.
const gone = 0.999

// movingBeltPump draws the pump's blades, the crankshaft's wheel and the belt, whose ticks go as fast as the crankshaft drives them. A belt that is
// gone is not drawn; one that slips hangs slack.
func (p pen) movingBeltPump(state func(int) float64, spin, crank float64) {
	a, b := p.wheels()
	p.impeller(a, p.w, spin)
	for _, k := range []float64{0, math.Pi / 2} {
		d := at((crankWheel-8)*math.Cos(crank+k), (crankWheel-8)*math.Sin(crank+k))
		p.line(3, edge, b.Add(d), b.Sub(d))
	}
	p.m.Disc(b, 5, paint.Chalk)
	slip := state(2)
	if slip > gone {
		return
	}
	slack := 9 * share(slip)
	sides := [2][]paint.Pt{}
	for i, k := range []float64{-1, 1} {
		top, foot := at(k*beltWheel, a.Y), at(k*crankWheel, b.Y)
		mid := top.Add(foot).Mul(0.5).Sub(at(k*slack, 0))
		sides[i] = []paint.Pt{top, mid, foot}
		p.line(4, paint.Chalk, top, mid, foot)
	}
	p.m.Arc(a, beltWheel, 180, 360, 4, paint.Chalk)
	p.m.Arc(b, crankWheel, 0, 180, 4, paint.Chalk)
	// Ticks run up on one side and down on the other.
	const every = 14.0
	run := math.Mod(crank*crankWheel, every)
	for i, pts := range sides {
		long := pts[2].Sub(pts[0]).Len()
		for d := 0.0; d < long; d += every {
			x := d + run
			if i == 0 {
				x = long - x
			}
			if x < 2 || x > long-2 {
				continue
			}
			c := along(pts, x/long)
			p.m.Box(paint.Rect{X: c.X - 4, Y: c.Y - 1.5, W: 8, H: 3}, 1, soot)
		}
	}
}

// along is a point of a bent piece, by its share.
func along(pts []paint.Pt, x float64) paint.Pt {
	x *= float64(len(pts) - 1)
	i := min(int(x), len(pts)-2)
	return pts[i].Add(pts[i+1].Sub(pts[i]).Mul(x - float64(i)))
}
