package art

import (
	"math"

	"coldbay/scenes/paint"
)

// enamel is what pressed covers of older engines are painted with.
var enamel = metal{paint.RGB(0x6d978c), paint.RGB(0x47695f), paint.RGB(0x223a34)}

// The belt drive of the upright engine, by shares of its box: middles and radii (of the height) of its wheels.
var (
	fanAt, fanSize     = paint.Pt{X: 0.50, Y: 0.545}, 0.085
	crankAt, crankSize = paint.Pt{X: 0.50, Y: 0.855}, 0.118
	dynamoAt           = paint.Pt{X: 0.835, Y: 0.64}
	dynamoSize         = 0.075
)

// uprightBelt is the belt round the wheels of an upright engine.
func uprightBelt(r paint.Rect) loop {
	return loop{[]paint.Pt{Pt(r, crankAt.X, crankAt.Y), Pt(r, fanAt.X, fanAt.Y), Pt(r, dynamoAt.X, dynamoAt.Y)},
		[]float64{r.H * crankSize * 0.86, r.H * fanSize * 0.92, r.H * dynamoSize * 0.92}}
}

// paintEngineUpright is an older inline four along the car, seen from its front end: belt drive towards the viewer, pressed cover,
// exhaust side at the left, intake side at the right. Its round air cleaner and its fan are painted apart.
func (k *Kit) paintEngineUpright(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.14, 0.10, 0.72, 0.86), 40, 26)
	// Head and block, receding to the bulkhead.
	l.PolyGrad([]paint.Pt{Pt(r, 0.26, 0.02), Pt(r, 0.74, 0.02), Pt(r, 0.86, 0.42), Pt(r, 0.86, 0.50), Pt(r, 0.14, 0.50), Pt(r, 0.14, 0.42)}, cast.mid, cast.lo)
	// Exhaust manifold at the left, intake at the right, four branches each.
	for i := range 4 {
		t := float64(i) / 3
		y := 0.06 + 0.30*t
		pipe(l, []paint.Pt{Pt(r, 0.25-0.09*t, y), Pt(r, 0.10-0.09*t, y+0.02), Pt(r, 0.03-0.10*t, y+0.10)}, r.W*(0.050+0.018*t), rusty)
		rodH(l, Sub(r, 0.72+0.09*t, y-0.025, 0.24, 0.05+0.015*t), 10, dull)
	}
	pipe(l, []paint.Pt{Pt(r, 0.03, 0.10), Pt(r, -0.03, 0.34), Pt(r, -0.06, 0.52), Pt(r, 0.02, 0.72)}, r.W*0.085, rusty)
	// Pressed cover with its knurled nuts.
	l.PolyGrad([]paint.Pt{Pt(r, 0.335, -0.02), Pt(r, 0.665, -0.02), Pt(r, 0.775, 0.37), Pt(r, 0.765, 0.425), Pt(r, 0.235, 0.425), Pt(r, 0.225, 0.37)}, paint.Blend(enamel.lo, paint.Black, 0.4), paint.Blend(enamel.lo, paint.Black, 0.4))
	l.PolyGrad([]paint.Pt{Pt(r, 0.34, -0.015), Pt(r, 0.66, -0.015), Pt(r, 0.765, 0.365), Pt(r, 0.235, 0.365)}, enamel.mid, enamel.hi)
	l.PolyGrad([]paint.Pt{Pt(r, 0.235, 0.365), Pt(r, 0.765, 0.365), Pt(r, 0.758, 0.418), Pt(r, 0.242, 0.418)}, enamel.mid, enamel.lo)
	l.Line([]paint.Pt{Pt(r, 0.238, 0.365), Pt(r, 0.762, 0.365)}, 4, paint.Fade(paint.White, 0.30))
	for _, x := range []float64{0.33, 0.67} {
		dome(l, Pt(r, x, 0.325), r.W*0.028, bright)
	}
	dome(l, Pt(r, 0.60, 0.30), r.W*0.052, moulded)
	// Ignition leads from the side.
	for i := range 4 {
		t := float64(i)
		l.Rope(paint.Curve([]paint.Pt{Pt(r, 0.775-0.02*t, 0.30-0.07*t), Pt(r, 0.86, 0.33-0.04*t), Pt(r, 0.93, 0.42), Pt(r, 0.95-0.012*t, 0.52)}), 7, paint.RGB(0x3a2a26))
	}
	rodV(l, Sub(r, 0.895, 0.50, 0.095, 0.10), 10, metal{paint.RGB(0x7a5a46), paint.RGB(0x573e30), paint.RGB(0x2e2019)})
	// Front of the block, timing cover, sump.
	block(l, Sub(r, 0.16, 0.425, 0.68, 0.50), 18, cast.hi, cast.mid, cast.lo)
	l.PolyGrad([]paint.Pt{Pt(r, 0.28, 0.44), Pt(r, 0.72, 0.44), Pt(r, 0.75, 0.80), Pt(r, 0.66, 0.95), Pt(r, 0.34, 0.95), Pt(r, 0.25, 0.80)}, enamel.hi, enamel.lo)
	l.Loop([]paint.Pt{Pt(r, 0.28, 0.44), Pt(r, 0.72, 0.44), Pt(r, 0.75, 0.80), Pt(r, 0.66, 0.95), Pt(r, 0.34, 0.95), Pt(r, 0.25, 0.80)}, 3, paint.Fade(paint.Black, 0.35))
	for _, p := range []paint.Pt{{X: 0.30, Y: 0.46}, {X: 0.70, Y: 0.46}, {X: 0.275, Y: 0.64}, {X: 0.725, Y: 0.64}, {X: 0.28, Y: 0.80}, {X: 0.72, Y: 0.80}} {
		bolt(l, r.X+r.W*p.X, r.Y+r.H*p.Y, 6.5)
	}
	l.BoxGrad(Sub(r, 0.22, 0.925, 0.56, 0.065), 12, plasHi, rubber)
	// Thermostat housing with the upper water hose.
	rodV(l, Sub(r, 0.40, 0.39, 0.10, 0.07), 8, dull)
	// Dynamo on its bracket.
	c := Pt(r, dynamoAt.X, dynamoAt.Y)
	l.Rope([]paint.Pt{Pt(r, 0.70, 0.73), c}, 14, cast.lo)
	dome(l, paint.Pt{X: c.X + 4, Y: c.Y - 4}, r.H*0.108, dull)
	for i := range 8 {
		a := float64(i) * math.Pi / 4
		l.Disc(paint.Pt{X: c.X + 4 + r.H*0.092*math.Cos(a), Y: c.Y - 4 + r.H*0.092*math.Sin(a)}, 4.5, paint.Black)
	}
	// Belts behind the wheels' rims, then the wheels.
	crank, fan := Pt(r, crankAt.X, crankAt.Y), Pt(r, fanAt.X, fanAt.Y)
	w := uprightBelt(r)
	belt(l, w.at, w.rad, r.H*0.024)
	wheel(l, crank, r.H*crankSize, dull)
	wheel(l, fan, r.H*fanSize, dull)
	wheel(l, c, r.H*dynamoSize, dull)
}

// belt is a belt round wheels that are named clockwise: straight runs on their outer tangents, painted before the wheels.
func belt(l *paint.List, at []paint.Pt, rad []float64, width float64) {
	for i := range at {
		j := (i + 1) % len(at)
		p, q := tangent(at[i], rad[i], at[j], rad[j])
		l.Rope([]paint.Pt{p, q}, width, rubber)
		l.Line([]paint.Pt{p, q}, width*0.28, paint.Fade(paint.White, 0.20))
	}
}

// tangent is the run from one wheel to the next on the left side of the way between them, for wheels named clockwise as seen: y
// points downwards, so that the outside is on the left.
func tangent(a paint.Pt, ra float64, b paint.Pt, rb float64) (p, q paint.Pt) {
	d := b.Sub(a)
	long := d.Len()
	along := d.Unit()
	left := paint.Pt{X: along.Y, Y: -along.X}
	sin := (ra - rb) / long
	cos := math.Sqrt(math.Max(0, 1-sin*sin))
	n := along.Mul(sin).Add(left.Mul(cos))
	return a.Add(n.Mul(ra)), b.Add(n.Mul(rb))
}

// paintBeltRun is a belt from a large wheel at the lower right of its box to a small one at the upper left.
func (k *Kit) paintBeltRun(l *paint.List, r paint.Rect) {
	w := pumpBelt(r)
	belt(l, w.at, w.rad, r.W*0.058)
}

// pumpBelt is the belt of the air pump in its box.
func pumpBelt(r paint.Rect) loop {
	small := r.W * 0.26
	return loop{[]paint.Pt{{X: r.Right(), Y: r.Bottom()}, {X: r.X, Y: r.Y}}, []float64{small * 1.22, small}}
}

// paintAirCleaner is the round air cleaner on an older engine, its spigot for the air pump at the left.
func (k *Kit) paintAirCleaner(l *paint.List, r paint.Rect) {
	c := Pt(r, 0.52, 0.46)
	l.Oval(paint.Pt{X: c.X + 8, Y: c.Y + r.H*0.17}, r.W*0.46, r.H*0.46, paint.Fade(paint.Black, 0.42), paint.Fade(paint.Black, 0.42))
	spigot(l, Sub(r, -0.06, 0.46, 0.20, 0.20), -1, metal{paint.RGB(0x59605d), paint.RGB(0x353b39), paint.RGB(0x1a1d1c)})
	// Snorkel at the right.
	l.PolyGrad([]paint.Pt{Pt(r, 0.84, 0.42), Pt(r, 1.10, 0.60), Pt(r, 1.06, 0.86), Pt(r, 0.80, 0.74)}, paint.RGB(0x59605d), paint.RGB(0x1a1d1c))
	l.Oval(Pt(r, 1.08, 0.73), r.W*0.020, r.H*0.13, paint.Black, paint.RGB(0x202423))
	pan := metal{paint.RGB(0x59605d), paint.RGB(0x353b39), paint.RGB(0x161918)}
	for i := range 5 {
		y := c.Y + r.H*(0.15-0.03*float64(i))
		l.Oval(paint.Pt{X: c.X, Y: y}, r.W*0.45, r.H*0.42, pan.lo, paint.Blend(pan.lo, paint.Black, 0.5))
	}
	l.Oval(c, r.W*0.455, r.H*0.425, pan.hi, pan.mid)
	l.Oval(paint.Pt{X: c.X, Y: c.Y + 3}, r.W*0.40, r.H*0.37, pan.mid, pan.hi)
	l.Oval(c, r.W*0.385, r.H*0.355, paint.RGB(0x636b68), paint.RGB(0x3d4442))
	l.Oval(paint.Pt{X: c.X, Y: c.Y + 2}, r.W*0.16, r.H*0.145, pan.mid, pan.hi)
	l.Oval(c, r.W*0.06, r.H*0.055, zinc.hi, zinc.lo)
	l.Rope([]paint.Pt{{X: c.X - r.W*0.055, Y: c.Y - 2}, {X: c.X + r.W*0.055, Y: c.Y + 1}}, r.H*0.05, zinc.hi)
	l.Fill([]paint.Pt{{X: c.X + r.W*0.19, Y: c.Y - r.H*0.16}, {X: c.X + r.W*0.30, Y: c.Y - r.H*0.10}, {X: c.X + r.W*0.28, Y: c.Y + r.H*0.02}, {X: c.X + r.W*0.18, Y: c.Y - r.H*0.05}}, labelled)
	for _, a := range []float64{200, 330, 90} {
		x, y := math.Cos(a*math.Pi/180), math.Sin(a*math.Pi/180)
		l.Box(paint.Rect{X: c.X + r.W*0.43*x - r.W*0.016, Y: c.Y + r.H*0.40*y - r.H*0.02, W: r.W * 0.032, H: r.H * 0.16}, 3, alloyHi)
	}
	l.Oval(paint.Pt{X: c.X - r.W*0.2, Y: c.Y - r.H*0.20}, r.W*0.13, r.H*0.07, paint.Fade(paint.White, 0.30), paint.Fade(paint.White, 0.02))
}

// paintPumpBelt is the belt-driven vane pump: a round body with cooling fins behind its wheel, inlet above, outlet at the left.
func (k *Kit) paintPumpBelt(l *paint.List, r paint.Rect) {
	c := r.Mid()
	rad := r.W * 0.44
	l.Disc(paint.Pt{X: c.X + rad*0.10, Y: c.Y + rad*0.16}, rad*1.02, paint.Fade(paint.Black, 0.42))
	// Stubs and bracket ears.
	rodV(l, Sub(r, 0.215, -0.07, 0.17, 0.24), 6, bright)
	rodV(l, Sub(r, 0.205, -0.08, 0.19, 0.045), 4, bright)
	spigot(l, Sub(r, -0.08, 0.55, 0.26, 0.17), -1, bright)
	for _, p := range []paint.Pt{{X: 0.90, Y: 0.16}, {X: 0.88, Y: 0.90}, {X: 0.16, Y: 0.92}} {
		e := Pt(r, p.X, p.Y)
		l.Rope([]paint.Pt{c, e}, r.W*0.12, alloyLo)
		l.Disc(e, r.W*0.075, alloy)
		bolt(l, e.X, e.Y, r.W*0.042)
	}
	dome(l, c, rad, bright)
	for i := range 28 {
		a := 2 * math.Pi * float64(i) / 28
		u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
		l.Line([]paint.Pt{c.Add(u.Mul(rad * 0.80)), c.Add(u.Mul(rad * 0.96))}, rad*0.05, paint.Fade(alloyLo, 0.8))
	}
	tagR := Sub(r, 0.66, 0.24, 0.15, 0.09)
	tag(l, tagR, 2)
	wheel(l, c, rad*0.62, dull)
}

// paintDiverter is the diverter valve: vacuum can above, inlet at the right, outlet at the left, silencer below.
func (k *Kit) paintDiverter(l *paint.List, r paint.Rect) {
	drop(l, Sub(r, 0.16, 0.08, 0.68, 0.86), 30, 16)
	spigot(l, Sub(r, 0.74, 0.50, 0.32, 0.135), 1, bright)
	spigot(l, Sub(r, -0.06, 0.44, 0.32, 0.135), -1, bright)
	// Silencer: a drum with holes.
	rodV(l, Sub(r, 0.30, 0.66, 0.40, 0.33), 16, zinc)
	for row := range 4 {
		for i := range 5 {
			l.Disc(Pt(r, 0.365+0.068*float64(i), 0.755+0.055*float64(row)), r.W*0.015, paint.Black)
		}
	}
	rodV(l, Sub(r, 0.27, 0.655, 0.46, 0.045), 5, zinc)
	rodV(l, Sub(r, 0.275, 0.955, 0.45, 0.04), 6, zinc)
	// Body.
	rodV(l, Sub(r, 0.22, 0.38, 0.56, 0.29), 14, bright)
	l.BoxGrad(Sub(r, 0.36, 0.42, 0.05, 0.20), 4, paint.Fade(alloyLo, 0.7), paint.Fade(alloyLo, 0.3))
	l.BoxGrad(Sub(r, 0.58, 0.42, 0.05, 0.20), 4, paint.Fade(alloyLo, 0.7), paint.Fade(alloyLo, 0.3))
	for _, x := range []float64{0.26, 0.74} {
		bolt(l, r.X+r.W*x, r.Y+r.H*0.645, r.W*0.030)
	}
	// Can: two pressed halves crimped together.
	rodV(l, Sub(r, 0.455, -0.055, 0.09, 0.13), 4, metal{paint.RGB(0xdcbd72), brass, paint.RGB(0x7d6330)})
	l.Box(Sub(r, 0.13, 0.055, 0.74, 0.335), r.W*0.15, paint.Blend(zinc.lo, paint.Black, 0.5))
	l.BoxGrad(Sub(r, 0.14, 0.060, 0.72, 0.165), r.W*0.14, zinc.hi, zinc.mid)
	l.BoxGrad(Sub(r, 0.14, 0.235, 0.72, 0.145), r.W*0.12, zinc.mid, zinc.lo)
	rodH(l, Sub(r, 0.09, 0.205, 0.82, 0.042), 6, zinc)
	gloss(l, Sub(r, 0.24, 0.085, 0.40, 0.014))
}

// paintCheckFlap is the check valve at the exhaust manifold: two brass shells bolted together, inlet at the left, foot below.
func (k *Kit) paintCheckFlap(l *paint.List, r paint.Rect) {
	m := metal{paint.RGB(0xc79a63), paint.RGB(0x8f6a40), paint.RGB(0x4d3823)}
	drop(l, Sub(r, 0.14, 0.08, 0.70, 0.82), 24, 14)
	spigot(l, Sub(r, -0.10, 0.24, 0.40, 0.22), -1, m)
	rodV(l, Sub(r, 0.38, 0.66, 0.24, 0.32), 6, rusty)
	for i := range 4 {
		l.Line([]paint.Pt{Pt(r, 0.38, 0.74+0.055*float64(i)), Pt(r, 0.62, 0.75+0.055*float64(i))}, 3, paint.Fade(paint.Black, 0.35))
	}
	l.Box(Sub(r, 0.14, 0.07, 0.72, 0.60), r.W*0.22, paint.Blend(m.lo, paint.Black, 0.5))
	l.BoxGrad(Sub(r, 0.15, 0.075, 0.70, 0.32), r.W*0.21, m.hi, m.mid)
	l.BoxGrad(Sub(r, 0.15, 0.385, 0.70, 0.28), r.W*0.18, m.mid, m.lo)
	rodH(l, Sub(r, 0.06, 0.345, 0.88, 0.085), 8, m)
	for i := range 4 {
		bolt(l, r.X+r.W*(0.13+0.247*float64(i)), r.Y+r.H*0.387, r.W*0.036)
	}
	l.BoxGrad(Sub(r, 0.18, 0.50, 0.64, 0.15), 14, paint.Fade(paint.RGB(0x5a4a8a), 0), paint.Fade(paint.RGB(0x4a3a6a), 0.45))
	gloss(l, Sub(r, 0.28, 0.11, 0.36, 0.022))
}
