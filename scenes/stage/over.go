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
	k := overKey{toast: d.Desk.Toast, bad: d.Desk.ToastBad, w: d.w, h: d.h, scale: d.scale}
	if words, ok := d.Desk.Working(now); ok {
		k.working = words
	}
	if c, ok := d.tipped(); ok && k.working == "" {
		k.tip, k.at = c.Name, c.Rect
	}
	changed := k != d.overKey
	if changed {
		d.overKey = k
		d.buildOver(k)
	}
	if k.toast == "" && k.tip == "" && k.working == "" {
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
	if k.tip != "" {
		w := math.Min(d.fonts.Width(k.tip, paint.Small)+16, k.w-16)
		x := math.Min(math.Max(k.at.Mid().X-w/2, 8), k.w-w-8)
		y := k.at.Bottom() + 8
		if k.at.H > 120 {
			y = k.at.Y + 8
		} else if y+26 > k.h-8 {
			y = k.at.Y - 34
		}
		r := paint.Rect{X: x, Y: y, W: w, H: 26}
		l.Box(r.Inset(-1), 5, paint.Black)
		l.Box(r, 4, paint.Page)
		l.TextIn(k.tip, paint.Small, r.Pad(8, 0), paint.Centre, paint.PageInk)
	}
	if k.toast != "" {
		lines := d.fonts.Wrap(k.toast, paint.Body, math.Min(k.w-120, 720))
		w := 0.0
		for _, s := range lines {
			w = math.Max(w, d.fonts.Width(s, paint.Body))
		}
		h := float64(len(lines))*paint.Body.LineHeight() + 18
		r := paint.Rect{X: (k.w - w - 64) / 2, Y: k.h - h - 118, W: w + 64, H: h}
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
	if k.working != "" {
		w := d.fonts.Width(k.working, paint.Body) + 40
		r := paint.Rect{X: (k.w - w) / 2, Y: 52, W: w, H: 34}
		d.stop = r
		l.Box(r.Inset(-2), 8, paint.Sky)
		l.Box(r, 7, paint.Black)
		l.TextIn(k.working, paint.Body, r, paint.Centre, paint.Chalk)
	}
}
