package cutaway

import (
	"math"

	"coldbay/scenes/paint"
	inside "coldbay/sim/cutaway"
)

// Heights of the panel's rows, in logical units.
const (
	headHigh   = 22.0
	lineHigh   = 22.0
	playHigh   = 32.0
	timeHigh   = 30.0
	sevHigh    = 30.0
	gap        = 8.0
	chartsHigh = 104.0 // the least that charts need
	chartsWide = 330.0
)

// layout is where the parts of a panel stand.
type layout struct {
	view     inside.View
	k        float64      // logical units per field unit
	heads    []paint.Rect // what each picture shows
	pictures []paint.Rect // frames
	origin   []paint.Pt   // where the field's own origin lies
	line     paint.Rect   // readings of the chosen part
	key      paint.Rect   // names of the parts that carry numbers
	charts   []paint.Rect
	severity paint.Rect // empty without one
	play     paint.Rect
	time     paint.Rect
}

// place finds the arrangement with the largest picture: charts below or at the side. The key to the numbers on the picture is key high.
func (p *Panel) place(r paint.Rect, key float64) layout {
	y := layout{}
	y.view, _ = p.Sheet.View(p.show.View)
	y.time, r = r.CutBottom(timeHigh, 2)
	y.play, r = r.CutBottom(playHigh, 4)
	if p.fades() {
		y.severity, r = r.CutBottom(sevHigh, 4)
	}
	y.line, r = r.CutBottom(lineHigh, gap)
	y.key, r = r.CutBottom(key, math.Min(key, 4))
	n := max(1, p.pictures)
	below, side := r, r
	below.H -= chartsHigh + gap
	side.W -= chartsWide + gap
	// Two cars stand side by side or one below the other, whichever shows them larger.
	scale := func(room paint.Rect, across, down float64) float64 {
		w, h := (room.W-gap*(across-1))/across, (room.H-gap*(down-1))/down-headHigh
		return math.Min(w/y.view.Box[2], h/y.view.Box[3])
	}
	fit := func(room paint.Rect) (k float64, stacked bool) {
		k = scale(room, float64(n), 1)
		if down := scale(room, 1, float64(n)); down > k {
			return down, true
		}
		return k, false
	}
	var room, charts paint.Rect
	k, stacked := fit(below)
	if atSide, down := fit(side); atSide > k {
		k, stacked = atSide, down
		charts, room = r.CutRight(chartsWide, gap)
	} else {
		// What the picture leaves of its height goes to the charts, up to a half of all.
		rows := 1.0
		if stacked {
			rows = float64(n)
		}
		used := rows*(headHigh+k*y.view.Box[3]) + gap*(rows-1)
		charts, room = r.CutBottom(math.Min(r.H/2, math.Max(chartsHigh, r.H-gap-used)), gap)
	}
	y.k = k
	boxes := room.Columns(n, gap)
	if stacked {
		h := (room.H - gap*float64(n-1)) / float64(n)
		for i := range boxes {
			boxes[i] = paint.Rect{X: room.X, Y: room.Y + float64(i)*(h+gap), W: room.W, H: h}
		}
	}
	for _, box := range boxes {
		head, frame := box.CutTop(headHigh, 0)
		y.heads, y.pictures = append(y.heads, head), append(y.pictures, frame)
		b := y.view.Box
		y.origin = append(y.origin, paint.Pt{X: frame.X + (frame.W-b[2]*k)/2 - b[0]*k, Y: frame.Y + (frame.H-b[3]*k)/2 - b[1]*k})
	}
	y.charts = chartBoxes(charts, len(p.show.Channels))
	return y
}

// chartBoxes lays charts out in one row where they are wide enough, otherwise below each other.
func chartBoxes(r paint.Rect, n int) []paint.Rect {
	if n == 0 {
		return nil
	}
	if r.W > r.H {
		if w := r.W / float64(n); w >= 120 || n == 1 {
			return r.Columns(n, gap)
		}
	}
	h := (r.H - gap*float64(n-1)) / float64(n)
	out := make([]paint.Rect, n)
	for i := range out {
		out[i] = paint.Rect{X: r.X, Y: r.Y + float64(i)*(h+gap), W: r.W, H: h}
	}
	return out
}

// fades tells whether there is a severity to set.
func (p *Panel) fades() bool { return p.show.Fault != "" }

// spot turns a place on the field into one on the screen.
func (y *layout) spot(i int, q inside.Point) paint.Pt {
	return paint.Pt{X: y.origin[i].X + q[0]*y.k, Y: y.origin[i].Y + q[1]*y.k}
}

// has tells whether a place on the field is in view.
func (y *layout) has(q inside.Point) bool {
	b := y.view.Box
	return q[0] >= b[0] && q[1] >= b[1] && q[0] <= b[0]+b[2] && q[1] <= b[1]+b[3]
}

// itemRect is where an item stands on the screen.
func (y *layout) itemRect(i int, it *inside.Item) paint.Rect {
	c := y.spot(i, it.At)
	w, h := it.Size[0]*y.k, it.Size[1]*y.k
	return paint.Rect{X: c.X - w/2, Y: c.Y - h/2, W: w, H: h}
}

// shows tells whether an item is in view with most of itself.
func (y *layout) shows(it *inside.Item) bool {
	b := y.view.Box
	box := paint.Rect{X: b[0], Y: b[1], W: b[2], H: b[3]}
	own := paint.Rect{X: it.At[0] - it.Size[0]/2, Y: it.At[1] - it.Size[1]/2, W: it.Size[0], H: it.Size[1]}
	return box.Holds(own, 6)
}

// clip cuts a path to the view; what remains comes as pieces in field units.
func (y *layout) clip(path []inside.Point) [][]paint.Pt {
	b := y.view.Box
	var out [][]paint.Pt
	var run []paint.Pt
	for i := 1; i < len(path); i++ {
		p, q, ok := cut(paint.Pt{X: path[i-1][0], Y: path[i-1][1]}, paint.Pt{X: path[i][0], Y: path[i][1]}, paint.Rect{X: b[0], Y: b[1], W: b[2], H: b[3]})
		if !ok {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = nil
			continue
		}
		if len(run) == 0 || run[len(run)-1] != p {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = []paint.Pt{p}
		}
		run = append(run, q)
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}

// cut is the part of a straight piece that lies in a box (Liang and Barsky 1984, from memory).
func cut(p, q paint.Pt, r paint.Rect) (a, b paint.Pt, ok bool) {
	d := q.Sub(p)
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{{-d.X, p.X - r.X}, {d.X, r.Right() - p.X}, {-d.Y, p.Y - r.Y}, {d.Y, r.Bottom() - p.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return a, b, false
		case e[0] < 0:
			t0 = math.Max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = math.Min(t1, e[1]/e[0])
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	return p.Add(d.Mul(t0)), p.Add(d.Mul(t1)), true
}
