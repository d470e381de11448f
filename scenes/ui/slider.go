package ui

import (
	"math"

	"coldbay/scenes/paint"
)

// knob is the half width of a slider's handle.
const knob = 9.0

// Slide adds a slider over r that has been painted by nobody yet: whole steps from 0 to most, now being where it stands, words that in
// words. It is moved by dragging or a click on its track, by the arrow keys, by page keys in tenths, by Home and End.
func (b *Build) Slide(id, name, words string, r paint.Rect, now, most int, set func(int)) {
	l := b.Front
	c := Control{ID: id, Name: name, Role: Slider, Rect: r, Value: words, Now: now, Max: most, Set: set,
		Track: paint.Rect{X: r.X + knob, Y: r.Y, W: r.W - 2*knob, H: r.H}}
	y := r.Mid().Y
	x := c.at(now)
	l.Box(paint.Rect{X: r.X, Y: y - 4, W: r.W, H: 8}, 4, paint.PageInk)
	l.Box(paint.Rect{X: r.X + 1.5, Y: y - 2.5, W: r.W - 3, H: 5}, 2.5, paint.Page)
	l.Box(paint.Rect{X: r.X + 1.5, Y: y - 2.5, W: x - r.X, H: 5}, 2.5, paint.Orange)
	l.Box(paint.Rect{X: x - knob, Y: r.Y + 1, W: 2 * knob, H: r.H - 2}, 5, paint.PageInk)
	l.Box(paint.Rect{X: x - knob + 2, Y: r.Y + 3, W: 2*knob - 4, H: r.H - 6}, 4, paint.Orange)
	for _, d := range []float64{-2.5, 2.5} {
		l.Box(paint.Rect{X: x + d - 0.75, Y: r.Y + 8, W: 1.5, H: r.H - 16}, 0, paint.PageInk)
	}
	b.Add(c)
}

// At is where a slider's handle stands at a step.
func (c Control) at(step int) float64 {
	if c.Max <= 0 {
		return c.Track.X
	}
	return c.Track.X + c.Track.W*float64(step)/float64(c.Max)
}

// slide puts a slider where a pointer is.
func (c Control) slide(x float64) bool {
	if c.Track.W <= 0 {
		return false
	}
	return c.put(int(math.Round((x - c.Track.X) / c.Track.W * float64(c.Max))))
}

// Put moves a slider to a step within its bounds and tells whether it moved.
func (c Control) put(step int) bool {
	step = min(max(step, 0), c.Max)
	if c.Off || c.Set == nil || step == c.Now {
		return false
	}
	c.Set(step)
	return true
}

// slideKey is what a key does to a slider that has the focus; ok is false for keys that it leaves alone.
func (c Control) slideKey(k Key) (moved, ok bool) {
	tenth := max(1, c.Max/10)
	switch k {
	case KeyLeft, KeyDown:
		return c.put(c.Now - 1), true
	case KeyRight, KeyUp:
		return c.put(c.Now + 1), true
	case KeyPageDown:
		return c.put(c.Now - tenth), true
	case KeyPageUp:
		return c.put(c.Now + tenth), true
	case KeyHome:
		return c.put(0), true
	case KeyEnd:
		return c.put(c.Max), true
	}
	return false, false
}

// Slide moves the slider of that id, as the page's mirror does it. It tells whether it moved.
func (p *Page) Slide(id string, step int) bool {
	c, ok := p.Find(id)
	return ok && c.Role == Slider && c.put(step)
}
