package art

import (
	"math"

	"coldbay/scenes/paint"
)

// paintCabin is the dash from the driver's seat: wheel, instruments, key, and the socket of the scan tool below.
func (k *Kit) paintCabin(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, paint.RGB(0x9fb4b8), paint.RGB(0x5f7a80))
	// Windscreen with the raised bonnet outside.
	l.PolyGrad([]paint.Pt{Pt(r, 0.10, 0), Pt(r, 0.90, 0), Pt(r, 0.97, 0.26), Pt(r, 0.03, 0.26)}, k.sheetHi, k.sheet)
	l.Box(Sub(r, 0.49, 0, 0.02, 0.26), 0, paint.Fade(paint.Black, 0.12))
	// Dash top.
	l.PolyGrad([]paint.Pt{Pt(r, 0, 0.24), Pt(r, 0.30, 0.20), Pt(r, 0.70, 0.20), Pt(r, 1, 0.24), Pt(r, 1, 1), Pt(r, 0, 1)}, paint.RGB(0x3b474c), paint.RGB(0x1a2125))
	// Instrument hood.
	l.Box(Sub(r, 0.20, 0.23, 0.46, 0.40), 60, rubber)
	l.BoxGrad(Sub(r, 0.215, 0.25, 0.43, 0.36), 50, paint.RGB(0x0c1316), paint.RGB(0x131c20))
	// Vents and the radio's blank.
	for _, x := range []float64{0.70, 0.84} {
		l.Box(Sub(r, x, 0.30, 0.12, 0.13), 8, rubber)
		for i := range 4 {
			l.Box(Sub(r, x+0.008, 0.315+0.028*float64(i), 0.104, 0.012), 2, plasHi)
		}
	}
	block(l, Sub(r, 0.72, 0.50, 0.24, 0.16), 8, plasHi, plastic, rubber)
	// Scan socket under the dash.
	l.PolyGrad([]paint.Pt{Pt(r, 0.05, 0.80), Pt(r, 0.17, 0.80), Pt(r, 0.158, 0.90), Pt(r, 0.062, 0.90)}, labelled, paint.RGB(0x9c9479))
	for row := range 2 {
		for i := range 8 {
			l.Box(Sub(r, 0.068+0.0115*float64(i), 0.818+0.034*float64(row), 0.006, 0.018), 1, plasLo)
		}
	}
	// Key switch.
	c := Pt(r, 0.72, 0.82)
	l.Disc(c, 46, rubber)
	l.Disc(c, 40, alloyLo)
	l.Disc(c, 34, alloyHi)
	// Steering wheel below the instruments.
	w := Pt(r, 0.43, 1.02)
	l.Arc(w, r.H*0.42, 180, 360, 34, rubber)
	l.Arc(w, r.H*0.42, 182, 358, 24, plasHi)
	l.Oval(w, 120, 95, plasHi, plastic)
}

// Dash says where a dash has its instruments, by shares of its picture.
type Dash struct {
	rev, heat         paint.Pt // middles of the two dials
	revSize, heatSize float64  // their radii, by shares of the height
	lamp              paint.Pt // upper left corner of the malfunction lamp
	key               paint.Pt
}

// dashes gives the instruments of each kind of dash.
func dashes(kind string) (Dash, bool) {
	switch kind {
	case "cabin":
		return Dash{paint.Pt{X: 0.335, Y: 0.44}, paint.Pt{X: 0.53, Y: 0.46}, 0.145, 0.109, paint.Pt{X: 0.412, Y: 0.535}, paint.Pt{X: 0.72, Y: 0.82}}, true
	case "cabin_pods":
		return Dash{paint.Pt{X: 0.29, Y: 0.43}, paint.Pt{X: 0.515, Y: 0.43}, 0.135, 0.135, paint.Pt{X: 0.378, Y: 0.50}, paint.Pt{X: 0.665, Y: 0.70}}, true
	case "cabin_wide":
		return Dash{paint.Pt{X: 0.43, Y: 0.42}, paint.Pt{X: 0.60, Y: 0.45}, 0.150, 0.090, paint.Pt{X: 0.235, Y: 0.44}, paint.Pt{X: 0.77, Y: 0.64}}, true
	case "cabin_old":
		return Dash{paint.Pt{X: 0.30, Y: 0.39}, paint.Pt{X: 0.56, Y: 0.39}, 0.120, 0.095, paint.Pt{X: 0.415, Y: 0.43}, paint.Pt{X: 0.70, Y: 0.52}}, true
	}
	return Dash{}, false
}

// IsDash tells whether a kind of thing is a dash, with instruments that move.
func IsDash(kind string) bool { _, ok := dashes(kind); return ok }

// Gauges paints the live instruments of a dash: speed of the engine, coolant, the malfunction lamp and the key.
func Gauges(m *paint.Mesh, kind string, r paint.Rect, rpm float64, coolant string, lamp bool, key string) {
	s, ok := dashes(kind)
	if !ok {
		return
	}
	c, rad := Pt(r, s.rev.X, s.rev.Y), r.H*s.revSize
	dial(m, c, rad, 9, 7)
	needle(m, c, rad*0.85, 135+270*math.Min(rpm/8000, 1))
	d, small := Pt(r, s.heat.X, s.heat.Y), r.H*s.heatSize
	dial(m, d, small, 5, 4)
	share := map[string]float64{"cold": 0.08, "warm": 0.5, "hot": 0.92}[coolant]
	if key == "off" {
		share = 0
	}
	needle(m, d, small*0.84, 135+270*share)
	// Engine outline as the malfunction lamp, lit or dark.
	ink := paint.RGB(0x33383a)
	if lamp {
		ink = paint.Orange
	}
	LampSign(m, Sub(r, s.lamp.X, s.lamp.Y, 0.05, 0.055), ink)
	// Key: level off, turned on.
	k := Pt(r, s.key.X, s.key.Y)
	a := 0.0
	if key != "off" {
		a = math.Pi / 2.6
	}
	u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
	m.Rope([]paint.Pt{k.Sub(u.Mul(26)), k.Add(u.Mul(26))}, 13, plasLo)
}

func dial(m *paint.Mesh, c paint.Pt, rad float64, ticks, red int) {
	m.Disc(c, rad, paint.RGB(0x0a1013))
	m.Ring(c, rad, rad*0.05, plasHi)
	for i := range ticks {
		a := (135 + 270*float64(i)/float64(ticks-1)) * math.Pi / 180
		u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
		ink := paint.Chalk
		if i >= red {
			ink = paint.Vermil
		}
		m.Line([]paint.Pt{c.Add(u.Mul(rad * 0.74)), c.Add(u.Mul(rad * 0.9))}, rad*0.05, ink)
	}
}

// needle points to an angle in degrees: 0 to the right, 90 downwards.
func needle(m *paint.Mesh, c paint.Pt, length, deg float64) {
	a := deg * math.Pi / 180
	u := paint.Pt{X: math.Cos(a), Y: math.Sin(a)}
	n := paint.Pt{X: -u.Y, Y: u.X}
	m.Fill([]paint.Pt{c.Add(n.Mul(length * 0.05)), c.Add(u.Mul(length)), c.Sub(n.Mul(length * 0.05)), c.Sub(u.Mul(length * 0.18))}, paint.Orange)
	m.Disc(c, length*0.1, plasHi)
}

// paintTail is the rear of the car with the end of the exhaust.
func (k *Kit) paintTail(l *paint.List, r paint.Rect) {
	l.BoxGrad(r, 0, paint.RGB(0x122127), paint.RGB(0x0a1519))
	l.BoxGrad(Sub(r, 0, 0.80, 1, 0.20), 0, paint.RGB(0x39464a), paint.RGB(0x222d31))
	// Shadow, wheels.
	l.Oval(Pt(r, 0.5, 0.86), r.W*0.44, 40, paint.Fade(paint.Black, 0.6), paint.Fade(paint.Black, 0.6))
	for _, x := range []float64{0.14, 0.77} {
		l.BoxGrad(Sub(r, x, 0.56, 0.10, 0.30), 26, rubber, paint.Black)
	}
	// Body, window, lamps, plate.
	l.PolyGrad([]paint.Pt{Pt(r, 0.22, 0.02), Pt(r, 0.78, 0.02), Pt(r, 0.88, 0.34), Pt(r, 0.90, 0.66), Pt(r, 0.10, 0.66), Pt(r, 0.12, 0.34)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(r, 0.26, 0.05), Pt(r, 0.74, 0.05), Pt(r, 0.81, 0.29), Pt(r, 0.19, 0.29)}, paint.RGB(0x20323a), paint.RGB(0x3c5963))
	for _, x := range []float64{0.125, 0.765} {
		l.BoxGrad(Sub(r, x, 0.36, 0.11, 0.11), 12, paint.RGB(0x9c3b32), paint.RGB(0x5f211c))
	}
	l.BoxGrad(Sub(r, 0.40, 0.42, 0.20, 0.09), 6, labelled, paint.RGB(0xb9b096))
	// Bumper with the cut-out.
	l.Box(Sub(r, 0.08, 0.56, 0.84, 0.15), 30, k.sheetLo)
	l.BoxGrad(Sub(r, 0.083, 0.563, 0.834, 0.14), 28, k.sheetHi, k.sheet)
	// Tailpipe.
	c := Pt(r, 0.64, 0.74)
	l.BoxGrad(paint.Rect{X: c.X - 62, Y: c.Y - 30, W: 124, H: 40}, 12, k.sheetLo, rubber)
	l.Oval(c, 56, 50, alloyHi, alloyLo)
	l.Oval(c, 44, 38, paint.RGB(0x1b1512), paint.Black)
	l.Arc(c, 50, 200, 320, 4, paint.Fade(paint.White, 0.6))
}

// pipeEnds are where the pictures of a car's rear have the end of the exhaust, by shares.
func pipeEnds(kind string) (paint.Pt, bool) {
	switch kind {
	case "tail":
		return paint.Pt{X: 0.64, Y: 0.74}, true
	case "tail_hatch":
		return paint.Pt{X: 0.36, Y: 0.765}, true
	case "tail_wide":
		return paint.Pt{X: 0.70, Y: 0.755}, true
	case "tail_old":
		return paint.Pt{X: 0.62, Y: 0.795}, true
	}
	return paint.Pt{}, false
}

// Extraction is the hose of the exhaust extraction, put on the pipe of a kind of rear.
func Extraction(m *paint.Mesh, kind string, r paint.Rect) {
	e, ok := pipeEnds(kind)
	if !ok {
		return
	}
	c := Pt(r, e.X, e.Y)
	pts := paint.Curve([]paint.Pt{{X: c.X, Y: c.Y}, {X: c.X + 60, Y: c.Y + 90}, {X: c.X + 240, Y: c.Y + 130}, {X: r.Right() + 20, Y: c.Y + 110}})
	Tube(m, pts, 92, paint.RGB(0x3f4a4e))
	Ribs(m, pts, 92)
	m.Disc(c, 60, paint.RGB(0x2b3438))
	m.Ring(c, 56, 8, paint.Orange)
}

func inset(l *paint.List, r paint.Rect) paint.Rect {
	l.Box(r.Inset(-4), 16, paint.RGB(0x0a1a20))
	l.Box(r, 13, paint.Edge)
	in := r.Inset(3)
	l.Box(in, 11, paint.RGB(0x16272d))
	return in
}

// paintInsetDash and paintInsetTail are small windows in the overview to the two places that are not in the compartment.
func (k *Kit) paintInsetDash(l *paint.List, r paint.Rect) {
	in := inset(l, r)
	l.BoxGrad(Sub(in, 0.02, 0.46, 0.96, 0.50), 9, paint.RGB(0x3b474c), paint.RGB(0x1a2125))
	l.Box(Sub(in, 0.20, 0.26, 0.44, 0.42), 16, rubber)
	for _, x := range []float64{0.33, 0.52} {
		l.Ring(Pt(in, x, 0.47), 15, 3, labelled)
		l.Line([]paint.Pt{Pt(in, x, 0.47), Pt(in, x+0.04, 0.37)}, 3, paint.Orange)
	}
	w := Pt(in, 0.42, 1.08)
	l.Arc(w, in.H*0.50, 200, 340, 9, rubber)
	l.Arc(w, in.H*0.50, 202, 338, 5, plasHi)
	l.Disc(Pt(in, 0.78, 0.72), 9, alloyHi)
	l.Line([]paint.Pt{Pt(in, 0.75, 0.72), Pt(in, 0.81, 0.72)}, 4, plasLo)
}

func (k *Kit) paintInsetTail(l *paint.List, r paint.Rect) {
	in := inset(l, r)
	l.BoxGrad(Sub(in, 0.02, 0.78, 0.96, 0.20), 8, paint.RGB(0x39464a), paint.RGB(0x222d31))
	l.BoxGrad(Sub(in, 0.12, 0.60, 0.12, 0.30), 6, rubber, paint.Black)
	l.BoxGrad(Sub(in, 0.76, 0.60, 0.12, 0.30), 6, rubber, paint.Black)
	l.PolyGrad([]paint.Pt{Pt(in, 0.24, 0.06), Pt(in, 0.76, 0.06), Pt(in, 0.88, 0.40), Pt(in, 0.90, 0.72), Pt(in, 0.10, 0.72), Pt(in, 0.12, 0.40)}, k.sheetHi, k.sheet)
	l.PolyGrad([]paint.Pt{Pt(in, 0.29, 0.11), Pt(in, 0.71, 0.11), Pt(in, 0.78, 0.34), Pt(in, 0.22, 0.34)}, paint.RGB(0x20323a), paint.RGB(0x3c5963))
	l.Oval(Pt(in, 0.64, 0.78), 13, 10, alloyHi, alloyLo)
	l.Oval(Pt(in, 0.64, 0.78), 9, 7, paint.Black, paint.Black)
}

// LampSign is the outline of an engine, the sign of the malfunction lamp.
func LampSign(m *paint.Mesh, e paint.Rect, ink paint.Ink) {
	m.Poly([]paint.Pt{Pt(e, 0.10, 0.35), Pt(e, 0.25, 0.35), Pt(e, 0.25, 0.12), Pt(e, 0.68, 0.12), Pt(e, 0.68, 0.35), Pt(e, 0.82, 0.35),
		Pt(e, 0.82, 0.5), Pt(e, 1, 0.5), Pt(e, 1, 0.9), Pt(e, 0.82, 0.9), Pt(e, 0.82, 1), Pt(e, 0.25, 1), Pt(e, 0.25, 0.75), Pt(e, 0.10, 0.75)}, ink)
}
