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

// PipeEnd is the middle of the exhaust's end on a picture of a car's rear, if the kind of thing is one.
func (k *Kit) PipeEnd(kind string, r paint.Rect) (paint.Pt, bool) {
	e, ok := pipeEnds(kind)
	return Pt(r, e.X, e.Y), ok
}

// Shakes tells whether a kind of thing is an electric pump, which shakes while it runs.
func Shakes(kind string) bool { return kind == "pump" || kind == "pump_upright" || kind == "pump_long" }
