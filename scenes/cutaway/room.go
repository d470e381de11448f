package cutaway

import (
	"math"
	"slices"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// taken is what of the first picture nothing may be written on.
type taken struct {
	frame paint.Rect
	boxes []paint.Rect
}

// taken begins with parts, ways and leaks.
func (p *Panel) taken() *taken {
	y := &p.lay
	t := &taken{frame: y.pictures[0].Inset(3)}
	for n := range p.Sheet.Items {
		if it := &p.Sheet.Items[n]; y.shows(it) {
			t.boxes = append(t.boxes, y.itemRect(0, it))
		}
	}
	for n, pieces := range p.pieces {
		half := bore(p.Sheet.Ways[n].Medium)*y.k/2 + 1
		for _, piece := range pieces {
			for j := 1; j < len(piece); j++ {
				t.boxes = append(t.boxes, between(y.spot(0, inside.Point{piece[j-1].X, piece[j-1].Y}), y.spot(0, inside.Point{piece[j].X, piece[j].Y})).Inset(-half))
			}
		}
	}
	for n := range p.Sheet.Leaks {
		l := &p.Sheet.Leaks[n]
		if c := y.spot(0, l.At); y.has(l.At) {
			t.boxes = append(t.boxes, paint.Rect{X: c.X - 8 + 8*l.Way[0], Y: c.Y - 14 + 14*l.Way[1], W: 16, H: 28})
		}
	}
	return t
}

// between is the box that two points span.
func between(a, b paint.Pt) paint.Rect {
	return paint.Rect{X: min(a.X, b.X), Y: min(a.Y, b.Y), W: max(a.X, b.X) - min(a.X, b.X), H: max(a.Y, b.Y) - min(a.Y, b.Y)}
}

func (t *taken) free(r paint.Rect) bool {
	if !t.frame.Holds(r, 0) {
		return false
	}
	return !slices.ContainsFunc(t.boxes, func(q paint.Rect) bool { o := r.Overlap(q); return o.W > 0.5 && o.H > 0.5 })
}

// crossed tells whether a straight line runs over what is taken, but for the box at which it ends.
func (t *taken) crossed(a, b paint.Pt, own paint.Rect) bool {
	return slices.ContainsFunc(t.boxes, func(q paint.Rect) bool {
		if q == own {
			return false
		}
		_, _, hit := cut(a, b, q.Inset(-1))
		return hit
	})
}

// first gives the first label for which there is room, and takes the room.
func (t *taken) first(tries []label) (label, bool) {
	for _, x := range tries {
		if t.free(x.box) && (x.from == x.to || !t.crossed(x.from, x.to, x.own)) {
			t.boxes = append(t.boxes, x.box)
			if x.from != x.to {
				t.boxes = append(t.boxes, between(x.from, x.to).Inset(-1))
			}
			return x, true
		}
	}
	return label{}, false
}

// release gives the room of a label back.
func (t *taken) release(x label) {
	t.boxes = slices.DeleteFunc(t.boxes, func(q paint.Rect) bool { return q == x.box })
}

// corner is where a part's number does the least harm: on one of its corners. Its place is taken.
func (t *taken) corner(own paint.Rect) paint.Pt {
	best, least := paint.Pt{}, math.Inf(1)
	for _, c := range []paint.Pt{{X: own.X, Y: own.Y}, {X: own.Right(), Y: own.Y}, {X: own.X, Y: own.Bottom()}, {X: own.Right(), Y: own.Bottom()}} {
		r := paint.Rect{X: c.X - badge, Y: c.Y - badge, W: 2 * badge, H: 2 * badge}
		harm := 0.0
		if !t.frame.Holds(r, 0) {
			harm = 1e6
		}
		for _, q := range t.boxes {
			if q != own {
				o := r.Overlap(q)
				harm += max(0, o.W) * max(0, o.H)
			}
		}
		if harm < least {
			best, least = c, harm
		}
	}
	t.boxes = append(t.boxes, paint.Rect{X: best.X - badge, Y: best.Y - badge, W: 2 * badge, H: 2 * badge})
	return best
}

// each goes through the parts in view, those that matter most first.
func (p *Panel) each(do func(*inside.Item)) {
	for _, minor := range []bool{false, true} {
		for n := range p.Sheet.Items {
			if it := &p.Sheet.Items[n]; it.Minor == minor && p.lay.shows(it) {
				do(it)
			}
		}
	}
}

// readable are the channels that may stand beside a part; clear tells whether their units alone say which is which.
func (p *Panel) readable(it *inside.Item) (chans []inside.Channel, clear bool) {
	for _, id := range it.Shows {
		if c, ok := p.Sheet.Channel(id); ok {
			chans = append(chans, c)
		}
	}
	clear = len(chans) > 0
	for n := range chans {
		clear = clear && (n == 0 || chans[n].Unit != chans[0].Unit)
	}
	most := 1
	if p.lay.k > 0.8 {
		most = 2
	}
	return chans[:min(most, len(chans))], clear
}

// fullest are the ways to label a part, the fullest first. A bare number stands only where its unit tells what it is.
func (p *Panel) fullest(b *ui.Build, it *inside.Item) []label {
	chans, clear := p.readable(it)
	name := b.T("cutaway.part." + it.ID)
	var out []label
	for n := len(chans); n > 0; n-- {
		out = append(out, p.sides(b, it, name, chans[:n], !clear)...)
	}
	out = append(out, p.sides(b, it, name, nil, false)...)
	if clear {
		out = append(out, p.sides(b, it, "", chans[:1], false)...)
	}
	return out
}

// addReadings adds readings to the names that stand, where there is room for them.
func (p *Panel) addReadings(b *ui.Build, t *taken) {
	more := p.marked.labels[:len(p.marked.labels):len(p.marked.labels)]
	bare := func(it *inside.Item) {
		if chans, clear := p.readable(it); clear {
			if x, ok := t.first(p.sides(b, it, "", chans[:1], false)); ok {
				more = append(more, x)
			}
		}
	}
	for n, x := range p.marked.labels {
		chans, clear := p.readable(x.item)
		if len(chans) == 0 || x.from != x.to {
			continue
		}
		t.release(x)
		var tries []label
		for k := len(chans); k > 0; k-- {
			tries = append(tries, p.sides(b, x.item, x.name, chans[:k], !clear)...)
		}
		if full, ok := t.first(tries); ok {
			more[n] = full
			continue
		}
		t.boxes = append(t.boxes, x.box)
		bare(x.item)
	}
	for _, x := range p.marked.keyed {
		bare(x.item)
	}
	p.marked.labels = more
}

// sized is a label with its size.
func (p *Panel) sized(b *ui.Build, it *inside.Item, name string, chans []inside.Channel, named bool) label {
	f := b.Front.Fonts
	x := label{item: it, name: name, chans: chans, named: named, align: paint.Centre, own: p.lay.itemRect(0, it)}
	if name != "" {
		x.box.W, x.box.H = f.Width(name, paint.LabelB)+8, labelHigh
	}
	for _, c := range chans {
		x.box.W = max(x.box.W, f.Width(p.words(b, c, named, widest(b, c)), paint.Label)+8)
		x.box.H += labelHigh
	}
	x.box.H += 2
	return x
}

// sides are a label's places at its part: its own side first, on each side in the middle before the ends.
func (p *Panel) sides(b *ui.Build, it *inside.Item, name string, chans []inside.Channel, named bool) []label {
	x := p.sized(b, it, name, chans, named)
	var out []label
	for _, side := range []string{it.Side, "s", "n", "e", "w"} {
		out = append(out, p.beside(x, side, 0.5))
	}
	for _, side := range []string{it.Side, "s", "n", "e", "w"} {
		for _, share := range []float64{0, 1} {
			out = append(out, p.beside(x, side, share))
		}
	}
	return out
}

// beside sets a label at a side of its part: in the middle of it (0.5), or flush with its beginning (0) or end (1).
func (p *Panel) beside(x label, side string, share float64) label {
	r := x.own
	across, down := (r.W-x.box.W)*share, (r.H-x.box.H)*share
	x.align = paint.Centre
	switch side {
	case "n":
		x.box.X, x.box.Y = r.X+across, r.Y-x.box.H-2
	case "e":
		x.box.X, x.box.Y, x.align = r.Right()+3, r.Y+down, paint.Left
	case "w":
		x.box.X, x.box.Y, x.align = r.X-x.box.W-3, r.Y+down, paint.Right
	default:
		x.box.X, x.box.Y = r.X+across, r.Bottom()+3
	}
	// A label may be pushed along the frame's edge.
	if f := p.lay.pictures[0].Inset(4); side != "e" && side != "w" {
		x.box.X = min(max(x.box.X, f.X), f.Right()-x.box.W)
	}
	return x
}

// apart are places for a name at some distance from its part, with a line between.
func (p *Panel) apart(b *ui.Build, it *inside.Item) []label {
	x := p.sized(b, it, b.T("cutaway.part."+it.ID), nil, false)
	mid := x.own.Mid()
	var out []label
	for _, far := range []float64{14, 24, 36} {
		for _, d := range []paint.Pt{{Y: 1}, {Y: -1}, {X: 1}, {X: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}} {
			y := x
			y.from = paint.Pt{X: mid.X + d.X*x.own.W/2, Y: mid.Y + d.Y*x.own.H/2}
			y.to = y.from.Add(paint.Pt{X: d.X * far, Y: d.Y * far})
			y.box.X, y.box.Y = y.to.X-x.box.W/2*(1-d.X), y.to.Y-x.box.H/2*(1-d.Y)
			out = append(out, y)
		}
	}
	return out
}
