package art

import (
	"math"

	"coldbay/scenes/paint"
)

// veeWheel is a wheel of the belt drive in front of the engine with two banks.
type veeWheel struct {
	at   paint.Pt // by shares of the engine's box
	size float64  // radius by shares of its height
}

func veeWheels() []veeWheel {
	return []veeWheel{{paint.Pt{X: 0.50, Y: 0.905}, 0.075}, {paint.Pt{X: 0.29, Y: 0.835}, 0.055}, {paint.Pt{X: 0.71, Y: 0.835}, 0.055}, {paint.Pt{X: 0.50, Y: 0.755}, 0.045}}
}

// paintEngineVee is an engine with two banks along the car, seen from its front and above: a cover on either side, the plenum with its
// crossing runners between them, belt drive towards the viewer.
func (k *Kit) paintEngineVee(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.04, 0.08, 0.92, 0.88), 50, 26)
	// Exhaust manifolds outside the banks.
	for i := range 3 {
		y := 0.20 + 0.20*float64(i)
		pipe(l, []paint.Pt{Pt(r, 0.13, y), Pt(r, 0.02, y+0.03), Pt(r, -0.015, y+0.14)}, r.W*0.050, rusty)
		pipe(l, []paint.Pt{Pt(r, 0.87, y), Pt(r, 0.98, y+0.03), Pt(r, 1.015, y+0.14)}, r.W*0.050, rusty)
	}
	pipe(l, []paint.Pt{Pt(r, -0.015, 0.30), Pt(r, -0.02, 0.60), Pt(r, 0.02, 0.86)}, r.W*0.058, rusty)
	pipe(l, []paint.Pt{Pt(r, 1.015, 0.30), Pt(r, 1.02, 0.60), Pt(r, 0.98, 0.86)}, r.W*0.058, rusty)
	// Front of the block with its cover.
	l.PolyGrad([]paint.Pt{Pt(r, 0.10, 0.70), Pt(r, 0.90, 0.70), Pt(r, 0.80, 0.93), Pt(r, 0.66, 1), Pt(r, 0.34, 1), Pt(r, 0.20, 0.93)}, dull.mid, dull.lo)
	l.PolyGrad([]paint.Pt{Pt(r, 0.16, 0.72), Pt(r, 0.84, 0.72), Pt(r, 0.75, 0.92), Pt(r, 0.64, 0.98), Pt(r, 0.36, 0.98), Pt(r, 0.25, 0.92)}, alloyHi, alloyLo)
	l.PolyGrad([]paint.Pt{Pt(r, 0.10, 0.06), Pt(r, 0.90, 0.06), Pt(r, 0.90, 0.72), Pt(r, 0.10, 0.72)}, paint.RGB(0x2a3230), paint.RGB(0x191f1d))
	// Covers of the banks, leaning outwards.
	for _, side := range []float64{0, 1} {
		x := func(d float64) float64 {
			if side == 0 {
				return d
			}
			return 1 - d
		}
		edge := []paint.Pt{Pt(r, x(0.115), 0.05), Pt(r, x(0.285), 0.07), Pt(r, x(0.315), 0.71), Pt(r, x(0.085), 0.74)}
		l.Poly(edge, paint.Blend(dull.lo, paint.Black, 0.4))
		l.PolyGrad([]paint.Pt{Pt(r, x(0.122), 0.055), Pt(r, x(0.278), 0.075), Pt(r, x(0.307), 0.70), Pt(r, x(0.093), 0.73)}, dull.hi, dull.lo)
		l.PolyGrad([]paint.Pt{Pt(r, x(0.150), 0.075), Pt(r, x(0.250), 0.09), Pt(r, x(0.272), 0.685), Pt(r, x(0.128), 0.705)}, moulded.hi, plasLo)
		l.Line([]paint.Pt{Pt(r, x(0.150), 0.075), Pt(r, x(0.128), 0.705)}, 4, paint.Fade(paint.White, 0.25))
		for i := range 3 {
			y := 0.16 + 0.20*float64(i)
			l.Box(paint.Rect{X: r.X + r.W*x(0.198) - 24, Y: r.Y + r.H*y - 12, W: 48, H: 50}, 8, paint.Fade(paint.Black, 0.4))
			l.BoxGrad(paint.Rect{X: r.X + r.W*x(0.198) - 25, Y: r.Y + r.H*y - 16, W: 48, H: 48}, 8, paint.RGB(0x6a777d), plasHi)
			l.BoxGrad(paint.Rect{X: r.X + r.W*x(0.198) - 12, Y: r.Y + r.H*y - 8, W: 22, H: 22}, 6, plasHi, plasLo)
		}
		for i := range 5 {
			y := 0.085 + 0.148*float64(i)
			bolt(l, r.X+r.W*x(0.133-0.008*float64(i)), r.Y+r.H*y, 5.5)
			bolt(l, r.X+r.W*x(0.268+0.006*float64(i)), r.Y+r.H*y, 5.5)
		}
	}
	dome(l, Pt(r, 0.80, 0.645), 25, moulded)
	// Runners: each crosses from the plenum to the other side's head.
	for i := range 6 {
		y := 0.15 + 0.094*float64(i)
		a, b := 0.34, 0.62
		if i%2 == 1 {
			a, b = 0.66, 0.38
		}
		pipe(l, []paint.Pt{Pt(r, a-0.03*(0.5-a)/0.16, y+0.035), Pt(r, a, y+0.01), Pt(r, (a+b)/2, y-0.02), Pt(r, b, y)}, r.H*0.072, bright)
	}
	// Plenum above them, with the throttle towards the viewer.
	drop(l, Sub(r, 0.42, 0.07, 0.16, 0.60), 34, 12)
	rodV(l, Sub(r, 0.415, 0.055, 0.17, 0.60), 36, bright)
	for i := range 8 {
		l.Box(Sub(r, 0.440, 0.13+0.062*float64(i), 0.12, 0.010), 2, paint.Fade(alloyLo, 0.55))
	}
	rodV(l, Sub(r, 0.435, 0.635, 0.13, 0.075), 8, dull)
	// Belt drive.
	wheels := veeWheels()
	at := make([]paint.Pt, len(wheels))
	for i, w := range wheels {
		at[i] = Pt(r, w.at.X, w.at.Y)
	}
	rad := func(i int) float64 { return r.H * wheels[i].size }
	belt(l, []paint.Pt{at[0], at[1], at[2]}, []float64{rad(0) * 0.9, rad(1) * 0.9, rad(2) * 0.9}, r.H*0.022)
	for i := range wheels {
		wheel(l, at[i], rad(i), dull)
	}
}

// paintBodyWide is the compartment of a larger car from its front: a moulded cowl, wide wings, a brace between the strut towers.
func (k *Kit) paintBodyWide(l *paint.List, r paint.Rect) {
	l.Box(r, 0, k.deep)
	l.PolyGrad([]paint.Pt{Pt(r, 0.06, 0.10), Pt(r, 0.94, 0.10), Pt(r, 0.965, 0.5), Pt(r, 0.93, 0.92), Pt(r, 0.07, 0.92), Pt(r, 0.035, 0.5)}, k.floor, k.floorLo)
	for _, side := range []float64{0, 1} {
		x := func(d float64) float64 {
			if side == 0 {
				return d
			}
			return 1 - d
		}
		l.PolyGrad([]paint.Pt{Pt(r, x(0), 0), Pt(r, x(0.070), 0.01), Pt(r, x(0.048), 0.46), Pt(r, x(0.085), 0.94), Pt(r, x(0), 0.98)}, k.sheetHi, k.sheetLo)
		l.Line([]paint.Pt{Pt(r, x(0.070), 0.01), Pt(r, x(0.048), 0.46), Pt(r, x(0.085), 0.94)}, 6, paint.Fade(paint.White, 0.18))
		l.Line([]paint.Pt{Pt(r, x(0.030), 0.03), Pt(r, x(0.016), 0.50), Pt(r, x(0.034), 0.95)}, 4, paint.Fade(paint.Black, 0.25))
		for i := range 4 {
			l.BoxGrad(paint.Rect{X: r.X + r.W*x(0.040) - 8, Y: r.Y + r.H*(0.12+0.22*float64(i)), W: 16, H: 26}, 6, rubber, plasHi)
		}
		c := Pt(r, x(0.115), 0.205)
		l.Oval(paint.Pt{X: c.X, Y: c.Y + 7}, 84, 78, paint.Fade(paint.Black, 0.45), paint.Fade(paint.Black, 0.45))
		l.Oval(c, 80, 74, k.sheetHi, k.sheetLo)
		l.Oval(c, 58, 53, k.sheet, k.sheetLo)
		l.Oval(c, 34, 31, dull.hi, dull.lo)
		bolt(l, c.X, c.Y, 11)
		for i := range 3 {
			p := turned(c, 46, math.Pi/2+float64(i)*2*math.Pi/3)
			bolt(l, p.X, p.Y, 7)
		}
	}
	// Cowl in two moulded halves with gills.
	l.PolyGrad([]paint.Pt{Pt(r, 0.04, 0), Pt(r, 0.96, 0), Pt(r, 0.93, 0.085), Pt(r, 0.07, 0.085)}, moulded.hi, plasLo)
	gill(l, Sub(r, 0.13, 0.022, 0.30, 0.038), 18, 0.5, rubber)
	gill(l, Sub(r, 0.57, 0.022, 0.30, 0.038), 18, 0.5, rubber)
	l.Box(Sub(r, 0.496, 0, 0.008, 0.085), 0, paint.Fade(paint.Black, 0.5))
	l.Box(Sub(r, 0.07, 0.082, 0.86, 0.018), 6, rubber)
	l.Box(Sub(r, 0.07, 0.082, 0.86, 0.004), 2, paint.Fade(paint.White, 0.16))
	// Front: moulded cover over lock and radiator, with clips.
	l.PolyGrad([]paint.Pt{Pt(r, 0.05, 0.945), Pt(r, 0.16, 0.915), Pt(r, 0.84, 0.915), Pt(r, 0.95, 0.945), Pt(r, 0.95, 1), Pt(r, 0.05, 1)}, moulded.hi, plasLo)
	l.Line([]paint.Pt{Pt(r, 0.05, 0.948), Pt(r, 0.16, 0.918), Pt(r, 0.84, 0.918), Pt(r, 0.95, 0.948)}, 3, paint.Fade(paint.White, 0.25))
	for _, x := range []float64{0.20, 0.32, 0.68, 0.80} {
		l.Disc(Pt(r, x, 0.958), 9, rubber)
		l.Disc(Pt(r, x, 0.956), 6, plasHi)
	}
	l.Box(Sub(r, 0.45, 0.935, 0.10, 0.05), 8, rubber)
	rodH(l, Sub(r, 0.472, 0.948, 0.056, 0.022), 5, bright)
}

// paintBrace is the bar between the strut towers.
func (k *Kit) paintBrace(l *paint.List, r paint.Rect) {
	l.Box(Sub(r, 0.02, 0.45, 0.96, 0.60), r.H*0.3, paint.Fade(paint.Black, 0.4))
	rodH(l, Sub(r, 0.01, 0.20, 0.98, 0.52), r.H*0.24, metal{k.sheetHi, k.sheet, k.sheetLo})
	for _, x := range []float64{0, 0.955} {
		rodV(l, Sub(r, x, 0, 0.045, 1), 8, dull)
	}
}

// paintPumpLong is an electric air pump that lies: motor at the left, blower at the right, inlet and outlet above it.
func (k *Kit) paintPumpLong(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.02, 0.14, 0.95, 0.76), 46, 16)
	// Stubs stand on the blower.
	for _, x := range []float64{0.56, 0.80} {
		rodV(l, Sub(r, x, -0.02, 0.13, 0.28), 6, moulded)
		rodV(l, Sub(r, x-0.008, -0.035, 0.146, 0.05), 4, moulded)
	}
	// Motor with its end cap.
	rodH(l, Sub(r, 0.06, 0.26, 0.46, 0.48), 26, bright)
	rodH(l, Sub(r, 0.0, 0.31, 0.10, 0.38), 14, moulded)
	for i := range 7 {
		l.Box(Sub(r, 0.15+0.045*float64(i), 0.30, 0.014, 0.40), 3, paint.Fade(paint.Black, 0.20))
	}
	tag(l, Sub(r, 0.20, 0.42, 0.20, 0.18), 3)
	// Blower: two shells with a flange.
	l.Box(Sub(r, 0.48, 0.15, 0.52, 0.70), r.H*0.24, plasLo)
	l.BoxGrad(Sub(r, 0.483, 0.155, 0.514, 0.68), r.H*0.235, moulded.hi, plasLo)
	l.BoxGrad(Sub(r, 0.53, 0.20, 0.42, 0.26), r.H*0.12, paint.RGB(0x6a777d), plasHi)
	rodV(l, Sub(r, 0.715, 0.115, 0.045, 0.775), 5, metal{plasHi, plastic, rubber})
	for i := range 5 {
		bolt(l, r.X+r.W*0.7375, r.Y+r.H*(0.17+0.165*float64(i)), r.H*0.024)
	}
	gloss(l, Sub(r, 0.54, 0.215, 0.16, 0.02))
	// Straps of its rubber mounts.
	for _, x := range []float64{0.16, 0.42} {
		rodV(l, Sub(r, x, 0.24, 0.035, 0.60), 4, zinc)
		rodV(l, Sub(r, x-0.02, 0.80, 0.075, 0.12), 5, metal{plasHi, rubber, paint.Black})
	}
	l.Rope(paint.Curve([]paint.Pt{Pt(r, 0.03, 0.66), Pt(r, 0.0, 0.84), Pt(r, 0.06, 1.0), Pt(r, 0.14, 1.12)}), r.H*0.035, rubber)
}

// paintFork is where the air pipe splits to the two banks, with the pressure sensor on it: stem below, arms to both sides.
func (k *Kit) paintFork(l *paint.List, r paint.Rect) {
	m := moulded
	rodV(l, Sub(r, 0.36, 0.42, 0.28, 0.62), 6, m)
	rodV(l, Sub(r, 0.33, 0.95, 0.34, 0.10), 4, m)
	spigot(l, Sub(r, -0.05, 0.26, 0.45, 0.30), -1, m)
	spigot(l, Sub(r, 0.60, 0.26, 0.45, 0.30), 1, m)
	l.Box(Sub(r, 0.24, 0.18, 0.52, 0.46), r.H*0.14, plasLo)
	l.BoxGrad(Sub(r, 0.25, 0.19, 0.50, 0.43), r.H*0.13, m.hi, plasLo)
	// Sensor.
	rodV(l, Sub(r, 0.40, -0.06, 0.20, 0.30), 5, metal{paint.RGB(0x6d7fb0), paint.RGB(0x46557f), paint.RGB(0x242c47)})
}

// paintTee is a moulded tee in a vacuum line: stem at the left, arms up and down.
func (k *Kit) paintTee(l *paint.List, r paint.Rect) {
	rodV(l, Sub(r, 0.46, -0.06, 0.22, 1.12), 6, moulded)
	rodH(l, Sub(r, -0.08, 0.39, 0.62, 0.22), 6, moulded)
	l.Disc(Pt(r, 0.57, 0.50), r.W*0.24, plasLo)
	l.Oval(Pt(r, 0.57, 0.49), r.W*0.21, r.W*0.21, paint.RGB(0x66737a), plasHi)
	for _, y := range []float64{-0.07, 1.0} {
		rodV(l, Sub(r, 0.43, y, 0.28, 0.07), 3, moulded)
	}
	rodV(l, Sub(r, -0.10, 0.36, 0.07, 0.28), 3, moulded)
}
