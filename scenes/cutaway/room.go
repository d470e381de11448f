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
			t.take(x)
			return x, true
		}
	}
	return label{}, false
}

// take takes the room of a label.
func (t *taken) take(x label) {
	t.boxes = append(t.boxes, x.box)
	if x.from != x.to {
		t.boxes = append(t.boxes, between(x.from, x.to).Inset(-1))
	}
}

// release gives the room of a label back.
func (t *taken) release(x label) {
	line := between(x.from, x.to).Inset(-1)
	t.boxes = slices.DeleteFunc(t.boxes, func(q paint.Rect) bool { return q == x.box || x.from != x.to && q == line })
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
	_, clear := p.readable(it)
	out := p.read(b, it, p.sides)
	out = append(out, p.sides(p.sized(b, it, true, nil))...)
	if clear {
		out = append(out, p.alone(b, it)...)
	}
	return out
}

// read are the ways to label a part with its name and readings at given places: the readings below the name, or one behind it.
func (p *Panel) read(b *ui.Build, it *inside.Item, at func(label) []label) (out []label) {
	chans, _ := p.readable(it)
	for n := len(chans); n > 0; n-- {
		out = append(out, at(p.sized(b, it, true, chans[:n]))...)
	}
	if len(chans) > 0 {
		out = append(out, at(p.inLine(b, p.sized(b, it, true, chans[:1])))...)
	}
	return out
}

// alone are the places for a part's reading without the part's name.
func (p *Panel) alone(b *ui.Build, it *inside.Item) []label {
	chans, _ := p.readable(it)
	if len(chans) == 0 {
		return nil
	}
	return p.sides(p.sized(b, it, false, chans[:1]))
}

// addReadings adds readings to the names that stand without one, where there is room for them: with the name at another place, or by itself on
// another side of the part.
func (p *Panel) addReadings(b *ui.Build, t *taken) {
	more := p.marked.labels[:len(p.marked.labels):len(p.marked.labels)]
	alone := func(it *inside.Item) {
		if x, ok := t.first(p.alone(b, it)); ok {
			more = append(more, x)
		}
	}
	for n, x := range p.marked.labels {
		if len(x.chans) > 0 {
			continue
		}
		t.release(x)
		tries := p.read(b, x.item, p.sides)
		if x.from != x.to {
			tries = append(tries, p.read(b, x.item, p.apart)...)
		}
		if full, ok := t.first(tries); ok {
			more[n] = full
			continue
		}
		t.take(x)
		alone(x.item)
	}
	for _, x := range p.marked.keyed {
		alone(x.item)
	}
	p.marked.labels = more
}

// sized is a label with its size, with the part's name or without.
func (p *Panel) sized(b *ui.Build, it *inside.Item, name bool, chans []inside.Channel) label {
	f := b.Front.Fonts
	_, clear := p.readable(it)
	x := label{item: it, chans: chans, named: !clear, align: paint.Centre, own: p.lay.itemRect(0, it)}
	if name {
		x.name = b.T("cutaway.part." + it.ID)
		x.box.W, x.box.H = f.Width(x.name, paint.LabelB)+8, labelHigh
	}
	for _, c := range chans {
		x.box.W = max(x.box.W, f.Width(p.words(b, c, x.named, widest(b, c)), paint.Label)+8)
		x.box.H += labelHigh
	}
	x.box.H += 2
	return x
}

// inLine sets the one reading of a label behind its name.
func (p *Panel) inLine(b *ui.Build, x label) label {
	f := b.Front.Fonts
	x.inLine = true
	x.box.W = f.Width(x.name, paint.LabelB) + inLineGap + f.Width(p.words(b, x.chans[0], x.named, widest(b, x.chans[0])), paint.Label) + 8
	x.box.H = labelHigh + 2
	return x
}

// sides are a label's places at its part: its own side first, on each side in the middle before the ends, and these before places that reach over an
// end.
func (p *Panel) sides(x label) []label {
	var out []label
	for _, side := range []string{x.item.Side, "s", "n", "e", "w"} {
		out = append(out, p.beside(x, side, 0.5))
	}
	for _, shares := range [][]float64{{0, 1}, {-0.5, 1.5}} {
		for _, side := range []string{x.item.Side, "s", "n", "e", "w"} {
			for _, share := range shares {
				out = append(out, p.beside(x, side, share))
			}
		}
	}
	return out
}

// beside sets a label at a side of its part: in the middle of it (0.5), flush with its beginning (0) or end (1), or over an end (beyond 0 and 1), where
// it still stands at a piece of the side.
func (p *Panel) beside(x label, side string, share float64) label {
	const hold = 8.0
	r := x.own
	along := func(at, size, label float64) float64 {
		return min(max(at+(size-label)*share, at+min(hold, size)-label), at+size-min(hold, size))
	}
	across, down := along(r.X, r.W, x.box.W), along(r.Y, r.H, x.box.H)
	x.align = paint.Centre
	switch side {
	case "n":
		x.box.X, x.box.Y = across, r.Y-x.box.H-2
	case "e":
		x.box.X, x.box.Y, x.align = r.Right()+3, down, paint.Left
	case "w":
		x.box.X, x.box.Y, x.align = r.X-x.box.W-3, down, paint.Right
	default:
		x.box.X, x.box.Y = across, r.Bottom()+3
	}
	// A label may be pushed along the frame's edge.
	if f := p.lay.pictures[0].Inset(4); side != "e" && side != "w" {
		x.box.X = min(max(x.box.X, f.X), f.Right()-x.box.W)
	}
	return x
}

// apart are places for a label at some distance from its part, with a line between.
func (p *Panel) apart(x label) []label {
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
