package art

import (
	"math"

	"coldbay/scenes/paint"
)

// Turn paints what turns on a thing of a running engine; angle is the crankshaft's, in radians.
func (k *Kit) Turn(kind string, m *paint.Mesh, r paint.Rect, angle float64) {
	switch kind {
	case "engine":
		for i, y := range []float64{0.45, 0.62, 0.80} {
			c := Pt(r, 0.042, y)
			for n := range 3 {
				a := angle + float64(i) + float64(n)*2*math.Pi/3
				m.Line([]paint.Pt{turned(c, 6, a), turned(c, 14, a)}, 4, alloyHi)
			}
		}
	case "engine_upright":
		c := Pt(r, dynamoAt.X, dynamoAt.Y)
		Spokes(m, c, r.H*dynamoSize, 4, angle*1.9)
		travel(m, uprightBelt(r), r.H*0.024, angle)
	case "belt_run":
		travel(m, pumpBelt(r), r.W*0.058, angle)
	case "crank_wheel":
		Spokes(m, r.Mid(), r.W*0.5, 5, angle)
	case "pump_belt":
		Spokes(m, r.Mid(), r.W*0.44*0.62, 5, angle*1.25) // turns 1.25 times as fast as the engine
	case "engine_vee":
		for _, w := range veeWheels() {
			Spokes(m, Pt(r, w.at.X, w.at.Y), r.H*w.size, 4, angle*0.12/w.size)
		}
	case "fan_old":
		c := r.Mid()
		m.Disc(c, r.W*0.5, paint.Fade(paint.RGB(0x22302c), 0.80))
		for i := range 3 {
			Blades(m, c, r.W*0.5, angle*1.1-0.16*float64(i))
		}
	}
}

// loop is a belt: its wheels, named clockwise, with the crankshaft's first.
type loop struct {
	at  []paint.Pt
	rad []float64
}

// travel paints the marks of a belt's cloth, carried along by the crankshaft's wheel. They stand when the angle does.
func travel(m *paint.Mesh, l loop, width, angle float64) {
	every := width * 2.6
	run := math.Mod(angle*l.rad[0], every)
	if run < 0 {
		run += every
	}
	for i := range l.at {
		j := (i + 1) % len(l.at)
		p, q := tangent(l.at[i], l.rad[i], l.at[j], l.rad[j])
		along := q.Sub(p).Unit()
		across := paint.Pt{X: -along.Y, Y: along.X}.Mul(width * 0.36)
		for d := run; d < q.Sub(p).Len(); d += every {
			c := p.Add(along.Mul(d))
			m.Line([]paint.Pt{c.Sub(across), c.Add(across)}, width*0.16, paint.Fade(paint.White, 0.42))
		}
	}
}

// PipeEnd is the middle of the exhaust's end on a picture of a car's rear, if the kind of thing is one.
func (k *Kit) PipeEnd(kind string, r paint.Rect) (paint.Pt, bool) {
	e, ok := pipeEnds(kind)
	return Pt(r, e.X, e.Y), ok
}

// Shakes tells whether a kind of thing is an electric pump, which shakes while it runs.
func Shakes(kind string) bool { return kind == "pump" || kind == "pump_upright" || kind == "pump_long" }

// Blurs tells whether a kind of thing is painted standing, and running as a blur over that.
func Blurs(kind string) bool { return kind == "fan_old" }
