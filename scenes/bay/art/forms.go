package art

import (
	"math"

	"coldbay/scenes/paint"
)

// metal is a material in three lights.
type metal struct{ hi, mid, lo paint.Ink }

var (
	bright  = metal{alloyHi, alloy, alloyLo}
	dull    = metal{paint.RGB(0x9aa5a4), paint.RGB(0x748083), paint.RGB(0x465256)}
	moulded = metal{paint.RGB(0x56636a), plasHi, plasLo}
	rusty   = metal{paint.RGB(0xa87652), rust, rustLo}
	cast    = metal{paint.RGB(0x7a7d78), paint.RGB(0x5c605d), paint.RGB(0x33383a)}
	zinc    = metal{paint.RGB(0xd8c178), paint.RGB(0xb39a52), paint.RGB(0x6a5728)} // passivated yellow
)

// drop is a soft shadow below a thing that stands d above its ground.
func drop(l *paint.List, r paint.Rect, round, d float64) {
	for i := range 4 {
		g := d * (0.25 + 0.25*float64(i))
		l.Box(paint.Rect{X: r.X - g*0.35, Y: r.Y + g*0.25, W: r.W + g*1.1, H: r.H + g*0.9}, round+g*0.5, paint.Fade(paint.Black, 0.17))
	}
}

// rodH is a cylinder that lies level, or any block rounded over its upper and lower edge.
func rodH(l *paint.List, r paint.Rect, round float64, m metal) {
	l.Box(r, round, paint.Blend(m.lo, paint.Black, 0.45))
	in := paint.Rect{X: r.X + 1.5, Y: r.Y + 1.5, W: r.W - 3, H: r.H - 3}
	l.BoxGrad(in, round-1, m.hi, m.lo)
	l.BoxGrad(paint.Rect{X: in.X + round*0.4, Y: in.Y + in.H*0.10, W: in.W - round*0.8, H: in.H * 0.36}, round*0.5, m.mid, paint.Fade(m.hi, 0.9))
	l.BoxGrad(paint.Rect{X: in.X + round*0.4, Y: in.Y + in.H*0.46, W: in.W - round*0.8, H: in.H * 0.30}, round*0.3, paint.Fade(m.hi, 0.9), paint.Fade(m.mid, 0.6))
}

// rodV is a cylinder that stands upright: strips from its dark edges to the light at a third of its width.
func rodV(l *paint.List, r paint.Rect, round float64, m metal) {
	l.Box(r, round, paint.Blend(m.lo, paint.Black, 0.45))
	const n = 9
	in := paint.Rect{X: r.X + 1.5, Y: r.Y + 1.5, W: r.W - 3, H: r.H - 3}
	for i := range n {
		t := (float64(i) + 0.5) / n
		ink := paint.Blend(m.hi, m.mid, math.Min(1, math.Abs(t-0.34)/0.3))
		if d := math.Abs(t - 0.40); d > 0.3 {
			ink = paint.Blend(m.mid, m.lo, math.Min(1, (d-0.3)/0.28))
		}
		cut := 0.0
		if i == 0 || i == n-1 {
			cut = math.Min(round*0.6, in.H*0.3)
		}
		l.Box(paint.Rect{X: in.X + in.W*float64(i)/n - 0.3, Y: in.Y + cut, W: in.W/n + 0.6, H: in.H - 2*cut}, 0, ink)
	}
}

// pipe is a rigid pipe along a bent line.
func pipe(l *paint.List, pts []paint.Pt, width float64, m metal) {
	line := paint.Curve(pts)
	l.Rope(line, width+3, paint.Blend(m.lo, paint.Black, 0.55))
	l.Rope(line, width, m.lo)
	shifted := func(k float64) []paint.Pt {
		out := make([]paint.Pt, len(line))
		for i, p := range line {
			out[i] = paint.Pt{X: p.X - width*k*0.6, Y: p.Y - width*k}
		}
		return out
	}
	l.Line(shifted(0.06), width*0.70, m.mid)
	l.Line(shifted(0.16), width*0.34, m.hi)
	l.Line(shifted(0.20), width*0.10, paint.Fade(paint.White, 0.35))
}

// dome is a round thing seen from the front, lit from above.
func dome(l *paint.List, c paint.Pt, rad float64, m metal) {
	l.Disc(paint.Pt{X: c.X, Y: c.Y + rad*0.05}, rad, paint.Blend(m.lo, paint.Black, 0.5))
	l.Oval(c, rad*0.97, rad*0.97, m.hi, m.lo)
	l.Oval(paint.Pt{X: c.X, Y: c.Y + rad*0.03}, rad*0.84, rad*0.84, m.mid, paint.Blend(m.mid, m.lo, 0.5))
}

// gill is a row of n dark slots across a box.
func gill(l *paint.List, r paint.Rect, n int, share float64, ink paint.Ink) {
	step := r.W / float64(n)
	for i := range n {
		w := step * share
		l.Box(paint.Rect{X: r.X + step*float64(i) + (step-w)/2, Y: r.Y, W: w, H: r.H}, w*0.4, ink)
	}
}

// gloss is a soft line of light along a top edge.
func gloss(l *paint.List, r paint.Rect) {
	l.Box(r, r.H/2, paint.Fade(paint.White, 0.26))
}

// tag is a type plate or sticker with lines of print.
func tag(l *paint.List, r paint.Rect, lines int) {
	l.Box(paint.Rect{X: r.X + 1, Y: r.Y + 2, W: r.W, H: r.H}, 3, paint.Fade(paint.Black, 0.4))
	l.BoxGrad(r, 3, labelled, paint.RGB(0xb9b096))
	for i := range lines {
		h := r.H / (float64(lines)*2 + 1)
		l.Box(paint.Rect{X: r.X + r.W*0.1, Y: r.Y + h*(1+2*float64(i)), W: r.W * (0.8 - 0.17*float64(i%3)), H: h * 0.8}, 1, paint.Fade(paint.RGB(0x3a5a66), 0.6))
	}
}

// spigot is the end of a pipe that a hose goes over, with its bead; toward is the way it looks: -1 left, 1 right.
func spigot(l *paint.List, r paint.Rect, toward float64, m metal) {
	rodH(l, r, r.H*0.12, m)
	x := r.X
	if toward > 0 {
		x = r.Right() - r.W*0.16
	}
	rodH(l, paint.Rect{X: x, Y: r.Y - r.H*0.06, W: r.W * 0.16, H: r.H * 1.12}, r.H*0.1, m)
}

// wheel is a belt pulley seen from the front: rim, groove, web with holes, bolt.
func wheel(l *paint.List, c paint.Pt, rad float64, m metal) {
	l.Disc(paint.Pt{X: c.X + rad*0.05, Y: c.Y + rad*0.10}, rad*1.02, paint.Fade(paint.Black, 0.45))
	l.Disc(c, rad, paint.Blend(m.lo, paint.Black, 0.5))
	l.Oval(c, rad*0.96, rad*0.96, m.hi, m.lo)
	l.Disc(c, rad*0.82, paint.Blend(m.lo, paint.Black, 0.35))
	l.Oval(c, rad*0.78, rad*0.78, m.mid, m.lo)
	l.Oval(c, rad*0.30, rad*0.30, m.hi, m.mid)
}

// Spokes are the openings in a pulley's web, turned by an angle in radians: what is seen to move.
func Spokes(m *paint.Mesh, c paint.Pt, rad float64, holes int, angle float64) {
	for i := range holes {
		a := angle + 2*math.Pi*float64(i)/float64(holes)
		p := paint.Pt{X: c.X + rad*0.54*math.Cos(a), Y: c.Y + rad*0.54*math.Sin(a)}
		m.Disc(p, rad*0.15, paint.RGB(0x14181a))
	}
	u := paint.Pt{X: math.Cos(angle), Y: math.Sin(angle)}
	m.Line([]paint.Pt{c.Sub(u.Mul(rad * 0.16)), c.Add(u.Mul(rad * 0.16))}, rad*0.07, alloyLo)
}

// turned is a point at a distance and an angle in radians from c.
func turned(c paint.Pt, d, angle float64) paint.Pt {
	return paint.Pt{X: c.X + d*math.Cos(angle), Y: c.Y + d*math.Sin(angle)}
}
