package stage

import (
	"math"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// view is the part of the laid-out screen that the window shows, in logical units: all of it, or with larger text a part that is moved.
type view struct {
	X, Y, W, H float64
	drag       string // bar that is being drawn along: "", "x", "y"
}

// bar is how thick a bar is at the window's edge; wheelStep and keyStep are how far a notch and a key move the view.
const (
	bar       = 14.0
	wheelStep = 60.0
	keyStep   = 80.0
)

// needs tells which bars there are over a screen of w x h.
func (v *view) needs(w, h float64) (across, down bool) { return v.W < w-0.5, v.H < h-0.5 }

// limit is how far the view can be moved. Where there is a bar the screen can be moved out from under it.
func (v *view) limit(w, h float64) (x, y float64) {
	across, down := v.needs(w, h)
	if across {
		x = w - v.W
	}
	if down {
		y = h - v.H
	}
	if down && across {
		return x + bar, y + bar
	}
	if down {
		x = bar
	}
	if across {
		y = bar
	}
	return x, y
}

func (v *view) clamp(w, h float64) {
	x, y := v.limit(w, h)
	v.X, v.Y = math.Min(math.Max(v.X, 0), x), math.Min(math.Max(v.Y, 0), y)
}

func (v *view) move(d paint.Pt, w, h float64) {
	v.X, v.Y = v.X+d.X, v.Y+d.Y
	v.clamp(w, h)
}

// reveal moves the view as little as it takes to show r with some room around it. Of a thing larger than the view its beginning shows.
func (v *view) reveal(r paint.Rect, w, h float64) {
	const room = 24
	one := func(at, size, from, long float64) float64 {
		long += 2 * room
		from -= room
		switch {
		case from < at || long > size-bar:
			return from
		case from+long > at+size-bar:
			return from + long - size + bar
		}
		return at
	}
	v.X, v.Y = one(v.X, v.W, r.X, r.W), one(v.Y, v.H, r.Y, r.H)
	v.clamp(w, h)
}

// device is where the screen's corner lies in the window, in whole device pixels.
func (v *view) device(scale float64) paint.Pt {
	return paint.Pt{X: -math.Round(v.X * scale), Y: -math.Round(v.Y * scale)}
}

// tracks are the two bars and the thumbs on them, in the window's logical units. A bar that is not needed is empty.
func (v *view) tracks(w, h float64) (x, y, thumbX, thumbY paint.Rect) {
	across, down := v.needs(w, h)
	lx, ly := v.limit(w, h)
	if across {
		x = paint.Rect{Y: v.H - bar, W: v.W - bar, H: bar}
		long := math.Max(40, x.W*v.W/(v.W+lx))
		thumbX = paint.Rect{X: x.X + (x.W-long)*v.X/lx, Y: x.Y + 2, W: long, H: bar - 4}
	}
	if down {
		y = paint.Rect{X: v.W - bar, W: bar, H: v.H - bar}
		long := math.Max(40, y.H*v.H/(v.H+ly))
		thumbY = paint.Rect{X: y.X + 2, Y: y.Y + (y.H-long)*v.Y/ly, W: bar - 4, H: long}
	}
	return x, y, thumbX, thumbY
}

// bars paints the bars.
func (v *view) bars(m *paint.Mesh, w, h float64) {
	x, y, tx, ty := v.tracks(w, h)
	for _, q := range [][2]paint.Rect{{x, tx}, {y, ty}} {
		if q[0].W == 0 {
			continue
		}
		m.Box(q[0], 0, paint.Black)
		m.Box(q[1], 4, paint.Mist)
	}
	if x.W > 0 && y.W > 0 {
		m.Box(paint.Rect{X: v.W - bar, Y: v.H - bar, W: bar, H: bar}, 0, paint.Black)
	}
}

// through turns the window's input into that of the laid-out screen; what is done on a bar moves the view and goes no further.
func (d *Director) through(in ui.Input) ui.Input {
	v := &d.view
	x, y, tx, ty := v.tracks(d.w, d.h)
	if in.Clicked {
		switch {
		case x.Has(in.At):
			v.drag = "x"
		case y.Has(in.At):
			v.drag = "y"
		}
		in.Clicked = v.drag == ""
	}
	if v.drag != "" {
		lx, ly := v.limit(d.w, d.h)
		if v.drag == "x" {
			v.X = lx * (in.At.X - tx.W/2) / math.Max(1, x.W-tx.W)
		} else {
			v.Y = ly * (in.At.Y - ty.H/2) / math.Max(1, y.H-ty.H)
		}
		v.clamp(d.w, d.h)
		in.Moved = false
		if !in.Held {
			v.drag = ""
		}
	}
	in.At = in.At.Add(paint.Pt{X: v.X, Y: v.Y})
	return in
}

// Shown is the part of the screen that the window shows, less its bars; tests look at it.
func (d *Director) Shown() paint.Rect {
	r := paint.Rect{X: d.view.X, Y: d.view.Y, W: d.view.W, H: d.view.H}
	across, down := d.view.needs(d.w, d.h)
	if down {
		r.W -= bar
	}
	if across {
		r.H -= bar
	}
	return r
}
