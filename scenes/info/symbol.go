package info

import (
	"math"

	"coldbay/scenes/paint"
)

// reach is half the size of a symbol, in field units.
func reach(kind string) float64 {
	switch kind {
	case "ecm", "ecm_one":
		return 66
	case "relay", "diaphragm", "pushed":
		return 42
	case "plus":
		return 14
	case "ground":
		return 16
	case "tee":
		return 8
	case "silencer":
		return 18
	case "ports":
		return 58
	case "fuse", "coil":
		return 22
	}
	return 36
}

// reachAcross is reach to the left and right, where a symbol is wider than high.
func reachAcross(kind string) float64 {
	if kind == "silencer" {
		return 32
	}
	return reach(kind)
}

// reachDown is reach up and down, where a symbol is far wider than high.
func reachDown(kind string) float64 {
	if kind == "ports" {
		return 18
	}
	return reach(kind)
}

// symbol paints a diagram's sign around the origin.
func symbol(l *paint.List, kind string) {
	ink, fill := paint.PageInk, paint.White
	p := func(x, y float64) paint.Pt { return paint.Pt{X: x, Y: y} }
	frame := func(w, h float64) {
		r := paint.Rect{X: -w / 2, Y: -h / 2, W: w, H: h}
		l.Box(r, 4, ink)
		l.Box(r.Inset(2), 3, fill)
	}
	line := func(pts ...paint.Pt) { l.Line(pts, 2.2, ink) }
	circle := func(r float64) { l.Disc(p(0, 0), r, ink); l.Disc(p(0, 0), r-2, fill) }
	switch kind {
	case "manifold":
		frame(80, 44)
		for i := range 4 {
			l.Box(paint.Rect{X: -32 + 18*float64(i), Y: 4, W: 10, H: 16}, 2, paint.PageLo)
		}
		line(p(-32, -8), p(32, -8))
	case "check", "reed":
		frame(48, 40)
		line(p(-14, -12), p(-14, 12), p(8, 0), p(-14, -12))
		line(p(10, -13), p(10, 13))
	case "tank":
		l.Box(paint.Rect{X: -36, Y: -26, W: 72, H: 52}, 26, ink)
		l.Box(paint.Rect{X: -34, Y: -24, W: 68, H: 48}, 24, fill)
	case "threeway":
		frame(68, 48)
		line(p(-30, 0), p(-8, 0))
		line(p(30, 0), p(8, 0))
		line(p(8, 0), p(0, -20))
		l.Disc(p(-8, 0), 3.5, ink)
		l.Disc(p(8, 0), 3.5, ink)
		l.Disc(p(0, -20), 3.5, ink)
		line(p(-20, 24), p(-20, 34), p(20, 34), p(20, 24))
	case "diaphragm":
		l.Box(paint.Rect{X: -38, Y: -40, W: 76, H: 42}, 18, ink)
		l.Box(paint.Rect{X: -36, Y: -38, W: 72, H: 38}, 16, fill)
		line(paint.Curve([]paint.Pt{p(-36, -18), p(-16, -10), p(0, -16), p(16, -10), p(36, -18)})...)
		line(p(0, -16), p(0, 34))
		l.Box(paint.Rect{X: -36, Y: 2, W: 72, H: 74}, 4, ink)
		l.Box(paint.Rect{X: -34, Y: 4, W: 68, H: 70}, 3, fill)
		line(p(0, 2), p(0, 52))
		l.Fill([]paint.Pt{p(-14, 58), p(14, 58), p(0, 46)}, ink)
		line(p(-34, 62), p(-16, 62))
		line(p(16, 62), p(34, 62))
	case "pushed":
		// A valve that its own inlet pushes open against a spring.
		l.Box(paint.Rect{X: -38, Y: -40, W: 76, H: 80}, 6, ink)
		l.Box(paint.Rect{X: -36, Y: -38, W: 72, H: 76}, 5, fill)
		line(p(-36, 14), p(-14, 14))
		line(p(14, 14), p(36, 14))
		l.Fill([]paint.Pt{p(-16, 14), p(16, 14), p(0, 26)}, ink)
		line(p(0, 14), p(0, 6))
		line(p(-10, 6), p(10, 2), p(-10, -4), p(10, -10), p(-10, -16), p(10, -22), p(0, -26))
		line(p(-12, -26), p(12, -26))
	case "diverter":
		frame(76, 56)
		line(p(-36, 0), p(-10, 0))
		line(p(10, -14), p(36, -14))
		line(p(10, 14), p(36, 14))
		line(p(-10, 0), p(10, 14))
		for _, q := range []paint.Pt{p(-10, 0), p(10, -14), p(10, 14)} {
			l.Disc(q, 3.5, ink)
		}
	case "silencer":
		l.Box(paint.Rect{X: -32, Y: -16, W: 64, H: 32}, 12, ink)
		l.Box(paint.Rect{X: -30, Y: -14, W: 60, H: 28}, 10, fill)
		for i := range 4 {
			l.Disc(p(-18+12*float64(i), 0), 2.6, ink)
		}
	case "tee":
		l.Disc(p(0, 0), 7, ink)
	case "filter":
		frame(84, 44)
		for i := range 6 {
			x := -30 + 12*float64(i)
			line(p(x, -12), p(x+6, 12), p(x+12, -12))
		}
	case "blower":
		circle(34)
		for i := range 6 {
			a := float64(i) * math.Pi / 3
			line(p(9*math.Cos(a), 9*math.Sin(a)), p(26*math.Cos(a+0.4), 26*math.Sin(a+0.4)))
		}
		l.Disc(p(0, 0), 6, ink)
	case "ports":
		for i := range 4 {
			x := -42 + 28*float64(i)
			l.Ring(p(x, 0), 10, 2.2, ink)
			l.Ring(p(x, 0), 4, 1.5, ink)
		}
		line(p(-52, -16), p(52, -16))
	case "battery":
		for i, w := range []float64{44, 22, 44, 22} {
			y := -24 + 16*float64(i)
			l.Line([]paint.Pt{p(-w/2, y), p(w/2, y)}, 4, ink)
		}
		line(p(0, -34), p(0, -24))
		line(p(0, 24), p(0, 34))
	case "fuse":
		frame(60, 22)
		line(p(-30, 0), p(30, 0))
	case "relay":
		frame(84, 84)
		line(p(-40, -30), p(-14, -30))
		line(p(40, -30), p(14, -30))
		line(p(-14, -30), p(12, -40))
		l.Disc(p(-14, -30), 3.5, ink)
		l.Disc(p(14, -30), 3.5, ink)
		l.Box(paint.Rect{X: -18, Y: 16, W: 36, H: 28}, 2, ink)
		l.Box(paint.Rect{X: -16, Y: 18, W: 32, H: 24}, 1, fill)
		line(p(-16, 42), p(16, 18))
		line(p(-40, 30), p(-18, 30))
		line(p(40, 30), p(18, 30))
		for y := -24.0; y < 14; y += 10 {
			l.Line([]paint.Pt{p(0, y), p(0, y+5)}, 1.5, ink)
		}
	case "mainrelay", "fuelrelay":
		frame(60, 40)
		line(p(-30, 6), p(-10, 6))
		line(p(30, 6), p(10, 6))
		line(p(-10, 6), p(10, -8))
		l.Disc(p(-10, 6), 3, ink)
		l.Disc(p(10, 6), 3, ink)
	case "motor":
		circle(32)
		line(p(-12, 13), p(-12, -12), p(0, 4), p(12, -12), p(12, 13))
	case "coil":
		frame(64, 34)
		line(p(-20, 14), p(20, -14))
	case "ecm", "ecm_one":
		frame(120, 130)
		l.Box(paint.Rect{X: -50, Y: -54, W: 100, H: 14}, 2, paint.PageLo)
		outputs := []float64{-20, 50}
		if kind == "ecm_one" {
			outputs = outputs[:1]
		}
		for _, y := range outputs {
			line(p(-60, y), p(-30, y))
			line(p(-30, y-8), p(-30, y+8))
			line(p(-24, y-10), p(-24, y+10))
			line(p(-24, y), p(-2, y), p(-2, y+14))
			line(p(-9, y+14), p(5, y+14))
		}
	case "plus":
		circle(12)
		line(p(-6, 0), p(6, 0))
		line(p(0, -6), p(0, 6))
	case "output":
		frame(60, 40)
		line(p(-30, 0), p(-12, 0))
		line(p(-12, -9), p(-12, 9))
		line(p(-6, -11), p(-6, 11))
		line(p(-6, -8), p(14, -8), p(14, -14))
		line(p(-6, 8), p(14, 8), p(14, 14))
	case "ground":
		line(p(0, -12), p(0, -2))
		line(p(-14, -2), p(14, -2))
		line(p(-9, 4), p(9, 4))
		line(p(-4, 10), p(4, 10))
	default:
		frame(60, 40)
	}
}
