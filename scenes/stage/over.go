package stage

import (
	"math"
	"time"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// updateOver makes the layer above everything: the name of the thing on the drawing that is pointed at or focused, the
// toast, and that work is under way. It tells whether there is anything to show.
func (d *Director) updateOver(now time.Time) bool {
	k := overKey{toast: d.Desk.Toast, scene: d.shown, bad: d.Desk.ToastBad, w: d.view.W, h: d.view.H, scale: d.scale, caption: d.captionLine(), modal: d.Page.Modal(), contrast: d.theme != nil}
	if words, ok := d.Desk.Working(now); ok {
		k.working = words
	}
	if c, ok := d.tipped(); ok && k.working == "" {
		k.tip, k.at = c.Name, c.Rect
		k.at.X, k.at.Y = k.at.X-d.view.X, k.at.Y-d.view.Y
	}
	changed := k != d.overKey
	if changed {
		d.overKey = k
		d.buildOver(k)
	}
	if k.toast == "" && k.tip == "" && k.working == "" && k.caption == "" {
		return false
	}
	d.top.Update(d.over, d.pxW, d.pxH, changed)
	return true
}

// tipped is the spot whose name shows beside it.
func (d *Director) tipped() (ui.Control, bool) {
	if c, ok := d.Page.Hovered(); ok && c.Role == ui.Spot {
		return c, true
	}
	if c, ok := d.Page.Focused(); ok && d.Page.Ring && c.Role == ui.Spot {
		return c, true
	}
	return ui.Control{}, false
}

func (d *Director) buildOver(k overKey) {
	l := d.over
	l.Clear(k.scale)
	l.Theme = d.theme
	foot := k.h - 118
	if k.h < MinH-1 {
		foot = k.h - 22
	}
	if k.caption != "" {
		low := foot
		if d.shown == Bay && k.h >= MinH-1 {
			low = bayFloor(k.h)
		}
		if d.shown == ScanTool {
			low = k.h - 10
		}
		if k.modal {
			low = k.h - 1 // a sheet keeps the lower edge free
		}
		foot = min(foot, low-d.buildCaption(k, low)-8)
	}
	if k.toast != "" {
		lines := d.fonts.Wrap(k.toast, paint.Body, math.Min(k.w-120, 720))
		w := d.widest(lines, paint.Body)
		h := float64(len(lines))*paint.Body.LineHeight() + 18
		r := paint.Rect{X: (k.w - w - 64) / 2, Y: foot - h, W: w + 64, H: h}
		edge := paint.Sky
		if k.bad {
			edge = paint.Orange
		}
		l.Box(r.Inset(-2), 8, edge)
		l.Box(r, 7, paint.Black)
		mark := paint.Rect{X: r.X + 14, Y: r.Y + (r.H-22)/2, W: 24, H: 22}
		if k.bad {
			ui.Warn(l, mark, paint.Orange, paint.Black)
		} else {
			l.Disc(mark.Mid(), 10, paint.Sky)
			l.Box(paint.Rect{X: mark.Mid().X - 1.5, Y: mark.Mid().Y - 2, W: 3, H: 8}, 1, paint.Black)
			l.Disc(paint.Pt{X: mark.Mid().X, Y: mark.Mid().Y - 5}, 1.8, paint.Black)
		}
		for i, s := range lines {
			l.Text(s, paint.Body, r.X+50, r.Y+9+float64(i)*paint.Body.LineHeight(), paint.Chalk)
		}
	}
	if k.tip != "" {
		lines := d.fonts.Wrap(k.tip, paint.Small, k.w-48)
		w, h := d.widest(lines, paint.Small)+16, 8+18*float64(len(lines))
		x := math.Max(8, math.Min(math.Max(k.at.Mid().X-w/2, 8), k.w-w-24))
		y := k.at.Bottom() + 8
		if k.at.H > 120 {
			y = math.Max(k.at.Y, 0) + 8
		} else if y+h > d.floor(k) {
			y = k.at.Y - h - 8
		}
		y = math.Min(math.Max(y, 8), k.h-h-8)
		r := paint.Rect{X: x, Y: y, W: w, H: h}
		l.Box(r.Inset(-1), 5, paint.Black)
		l.Box(r, 4, paint.Page)
		for i, s := range lines {
			l.TextIn(s, paint.Small, paint.Rect{X: r.X + 8, Y: r.Y + 4 + 18*float64(i), W: w - 16, H: 18}, paint.Centre, paint.PageInk)
		}
	}
	if k.working != "" {
		lines := d.fonts.Wrap(k.working, paint.Body, k.w-100)
		w := d.widest(lines, paint.Body) + 40
		r := paint.Rect{X: (k.w - w) / 2, Y: math.Min(52, k.h/8), W: w, H: 14 + 20*float64(len(lines))}
		d.stop = paint.Rect{X: r.X + d.view.X, Y: r.Y + d.view.Y, W: r.W, H: r.H}
		l.Box(r.Inset(-2), 8, paint.Sky)
		l.Box(r, 7, paint.Black)
		for i, s := range lines {
			l.TextIn(s, paint.Body, paint.Rect{X: r.X, Y: r.Y + 7 + 20*float64(i), W: r.W, H: 20}, paint.Centre, paint.Chalk)
		}
	}
}

// bayFloor is the lower edge of the bay's picture.
func bayFloor(h float64) float64 {
	if h >= 680 {
		return h - 180
	}
	return h - 166
}

// floor is how far down the name of a thing may hang. In the bay what stands below the picture says what comes next.
func (d *Director) floor(k overKey) float64 {
	if d.shown == Bay && k.h >= MinH-1 {
		return bayFloor(k.h)
	}
	return k.h - 24
}

func (d *Director) widest(lines []string, st paint.Style) float64 {
	w := 0.0
	for _, s := range lines {
		w = math.Max(w, d.fonts.Width(s, st))
	}
	return w
}

// buildCaption paints the sounds in words above foot and returns its height: a small horn, then the words.
func (d *Director) buildCaption(k overKey, foot float64) float64 {
	l := d.over
	lines := d.fonts.Wrap(k.caption, paint.Small, math.Min(k.w-110, 640))
	w := d.widest(lines, paint.Small) + 56
	h := 8 + 18*float64(len(lines))
	r := paint.Rect{X: (k.w - w) / 2, Y: foot - h, W: w, H: h}
	l.Box(r.Inset(-1), 6, paint.Mist)
	l.Box(r, 5, paint.Black)
	m := paint.Pt{X: r.X + 20, Y: r.Mid().Y}
	l.Poly([]paint.Pt{{X: m.X - 8, Y: m.Y - 3}, {X: m.X - 4, Y: m.Y - 3}, {X: m.X + 1, Y: m.Y - 7}, {X: m.X + 1, Y: m.Y + 7}, {X: m.X - 4, Y: m.Y + 3}, {X: m.X - 8, Y: m.Y + 3}}, paint.Chalk)
	l.Arc(paint.Pt{X: m.X + 1, Y: m.Y}, 7, -45, 45, 1.6, paint.Chalk)
	for i, s := range lines {
		l.TextIn(s, paint.Small, paint.Rect{X: r.X + 38, Y: r.Y + 4 + 18*float64(i), W: w - 50, H: 18}, paint.Left, paint.Chalk)
	}
	return h
}

// Over is the layer above everything as it was built last, for tests.
func (d *Director) Over() *paint.List { return d.over }
