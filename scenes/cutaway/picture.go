package cutaway

import (
	"strconv"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// drawStill paints what does not move of a picture: frame, hollow ways, parts.
func (p *Panel) drawStill(l *paint.List, i int) {
	y := &p.lay
	frame := y.pictures[i]
	l.Box(frame, 6, casing)
	l.Box(frame.Inset(1), 5, ground)
	for n := range p.Sheet.Ways {
		w := &p.Sheet.Ways[n]
		for _, piece := range y.clip(w.Path) {
			l.Shift, l.Zoom = y.origin[i], y.k
			if w.Medium != inside.Current && w.Medium != inside.Signal {
				l.Line(piece, bore(w.Medium)+4, edge)
			}
			l.Line(piece, bore(w.Medium), hollow)
		}
	}
	for n := range p.Sheet.Items {
		if it := &p.Sheet.Items[n]; y.shows(it) {
			l.Shift, l.Zoom = y.spot(i, it.At), y.k
			pen{&l.Mesh, it.Size[0] / 2, it.Size[1] / 2}.still(it.Kind)
		}
	}
	l.Shift, l.Zoom = paint.Pt{}, 0
}

// label is a part's name with its readings and the box that they need.
type label struct {
	item  *inside.Item
	name  string // "" where there is no room for it
	chans []inside.Channel
	named bool // the readings have their names before them
	box   paint.Rect
	align paint.Align
}

// labels finds room for the names and readings of a picture: first for those that matter, each at its own side, never on top of each
// other, of a part or of a way. It depends on the arrangement and not on the readings, so that nothing jumps while the clock runs.
func (p *Panel) labels(b *ui.Build, i int) []label {
	y := &p.lay
	var taken []paint.Rect
	for n := range p.Sheet.Items {
		if it := &p.Sheet.Items[n]; y.shows(it) {
			taken = append(taken, y.itemRect(i, it))
		}
	}
	for n, pieces := range p.pieces {
		for _, piece := range pieces {
			half := bore(p.Sheet.Ways[n].Medium)*y.k/2 + 1
			for j := 1; j < len(piece); j++ {
				a, q := y.spot(i, inside.Point{piece[j-1].X, piece[j-1].Y}), y.spot(i, inside.Point{piece[j].X, piece[j].Y})
				taken = append(taken, paint.Rect{X: min(a.X, q.X) - half, Y: min(a.Y, q.Y) - half, W: max(a.X, q.X) - min(a.X, q.X) + 2*half, H: max(a.Y, q.Y) - min(a.Y, q.Y) + 2*half})
			}
		}
	}
	for n := range p.Sheet.Leaks {
		l := &p.Sheet.Leaks[n]
		if c := y.spot(i, l.At); y.has(l.At) {
			taken = append(taken, paint.Rect{X: c.X - 8 + 8*l.Way[0], Y: c.Y - 14 + 14*l.Way[1], W: 16, H: 28})
		}
	}
	frame := y.pictures[i].Inset(3)
	free := func(r paint.Rect) bool {
		if !frame.Holds(r, 0) {
			return false
		}
		for _, t := range taken {
			if o := r.Overlap(t); o.W > 0.5 && o.H > 0.5 {
				return false
			}
		}
		return true
	}
	var out []label
	for _, minor := range []bool{false, true} {
		for n := range p.Sheet.Items {
			it := &p.Sheet.Items[n]
			if it.Minor != minor || !y.shows(it) {
				continue
			}
			for _, try := range p.tries(b, i, it) {
				if free(try.box) {
					out, taken = append(out, try), append(taken, try.box)
					break
				}
			}
		}
	}
	return out
}

// labelHigh is the height of a line of a label.
const labelHigh = 15.0

// tries are the ways to label a part, the fullest first. A bare number stands only where its unit tells what it is.
func (p *Panel) tries(b *ui.Build, i int, it *inside.Item) []label {
	var chans []inside.Channel
	for _, id := range it.Shows {
		if c, ok := p.Sheet.Channel(id); ok {
			chans = append(chans, c)
		}
	}
	most, clear := 1, len(chans) > 0
	for n := range chans {
		clear = clear && (n == 0 || chans[n].Unit != chans[0].Unit)
	}
	if p.lay.k > 0.8 {
		most = 2
	}
	chans = chans[:min(most, len(chans))]
	name := b.T("cutaway.part." + it.ID)
	var out []label
	add := func(name string, chans []inside.Channel, named bool) {
		for _, side := range []string{it.Side, "s", "n", "e", "w"} {
			out = append(out, p.labelAt(b, i, it, name, chans, named, side))
		}
	}
	for n := len(chans); n > 0; n-- {
		add(name, chans[:n], !clear)
	}
	add(name, nil, false)
	if clear {
		add("", chans[:1], false)
	}
	return out
}

// labelAt sets a label at a side of its part.
func (p *Panel) labelAt(b *ui.Build, i int, it *inside.Item, name string, chans []inside.Channel, named bool, side string) label {
	l := b.Front
	w, h := 0.0, 0.0
	if name != "" {
		w, h = l.Fonts.Width(name, paint.LabelB)+8, labelHigh
	}
	for _, c := range chans {
		w = max(w, l.Fonts.Width(p.words(b, c, named, widest(b, c)), paint.Label)+8)
		h += labelHigh
	}
	h += 2
	r := p.lay.itemRect(i, it)
	x := label{item: it, name: name, chans: chans, named: named, align: paint.Centre}
	switch side {
	case "n":
		x.box = paint.Rect{X: r.Mid().X - w/2, Y: r.Y - h - 2, W: w, H: h}
	case "e":
		x.box, x.align = paint.Rect{X: r.Right() + 3, Y: r.Mid().Y - h/2, W: w, H: h}, paint.Left
	case "w":
		x.box, x.align = paint.Rect{X: r.X - w - 3, Y: r.Mid().Y - h/2, W: w, H: h}, paint.Right
	default:
		x.box = paint.Rect{X: r.Mid().X - w/2, Y: r.Bottom() + 3, W: w, H: h}
	}
	// A label may be pushed along the frame's edge.
	f := p.lay.pictures[i].Inset(4)
	if side != "e" && side != "w" {
		x.box.X = min(max(x.box.X, f.X), f.Right()-x.box.W)
	}
	return x
}

// words are a reading with its name where that is wanted.
func (p *Panel) words(b *ui.Build, c inside.Channel, named bool, value string) string {
	if !named {
		return value
	}
	return b.T("cutaway.named", "name", b.T("cutaway.channel."+c.ID), "value", value)
}

// widest is the longest reading that a channel's label has room for.
func widest(b *ui.Build, c inside.Channel) string {
	long := Value(b, c, c.High*0.888)
	if low := Value(b, c, -c.High*0.888); len(low) > len(long) && c.Digits > 0 {
		long = low
	}
	return long
}

// Value writes a channel's value with its unit.
func Value(b *ui.Build, c inside.Channel, v float64) string {
	if v != v {
		return b.T("cutaway.none")
	}
	s := strconv.FormatFloat(v, 'f', c.Digits, 64)
	if isZero(s) {
		s = s[1:]
	}
	s = b.Msg.Decimal(s)
	if c.Unit == "" {
		return s
	}
	return s + " " + c.Unit
}

// isZero tells a number that rounds to a negative zero.
func isZero(s string) bool {
	if s == "" || s[0] != '-' {
		return false
	}
	for _, r := range s[1:] {
		if r != '0' && r != '.' {
			return false
		}
	}
	return true
}

// drawLabels paints names and readings, and adds a control for each part.
func (p *Panel) drawLabels(b *ui.Build, i int) {
	l, f := b.Front, p.films[i]
	b.Group(b.T("cutaway.group.picture"))
	for _, x := range p.labels(b, i) {
		y := x.box.Y + 1
		if x.name != "" {
			l.TextIn(x.name, paint.LabelB, paint.Rect{X: x.box.X + 3, Y: y, W: x.box.W - 6, H: labelHigh}, x.align, paint.Mist)
			y += labelHigh
		}
		for _, c := range x.chans {
			words := b.T("cutaway.none")
			if f != nil {
				words = Value(b, c, f.Channel(c, p.at))
			}
			l.TextIn(p.words(b, c, x.named, words), paint.Label, paint.Rect{X: x.box.X + 3, Y: y, W: x.box.W - 6, H: labelHigh}, x.align, paint.Chalk)
			y += labelHigh
		}
	}
	for n := range p.Sheet.Items {
		it := &p.Sheet.Items[n]
		if !p.lay.shows(it) {
			continue
		}
		r := p.lay.itemRect(i, it)
		if r.W < 14 {
			r = paint.Rect{X: r.Mid().X - 7, Y: r.Y, W: 14, H: r.H}
		}
		if r.H < 14 {
			r = paint.Rect{X: r.X, Y: r.Mid().Y - 7, W: r.W, H: 14}
		}
		name := p.reading(b, i, it)
		if p.pictures > 1 {
			name = b.T("cutaway.chosen", "what", p.who(b, i), "value", name)
		}
		b.Add(ui.Control{ID: "part." + strconv.Itoa(i) + "." + it.ID, Name: name, Role: ui.Spot, Rect: r, On: p.part == it.ID, Do: func() {
			if p.part == it.ID {
				p.part = ""
			} else {
				p.part = it.ID
			}
			p.Touch()
		}})
	}
}

// reading is a part's name with all of its readings in words.
func (p *Panel) reading(b *ui.Build, i int, it *inside.Item) string {
	words := b.T("cutaway.part." + it.ID)
	f := p.films[i]
	if f == nil {
		return words
	}
	for n, id := range it.Shows {
		c, _ := p.Sheet.Channel(id)
		sep := ", "
		if n == 0 {
			sep = ": "
		}
		words += sep + b.T("cutaway.channel."+id) + " " + Value(b, c, f.Channel(c, p.at))
	}
	return words
}
