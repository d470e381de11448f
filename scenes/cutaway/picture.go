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
			penOf(&l.Mesh, it).still(it.Kind)
		}
	}
	l.Shift, l.Zoom = paint.Pt{}, 0
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
	s := digits(b, c, v)
	if c.Unit == "" || v != v {
		return s
	}
	return s + " " + UnitWords(b, c.Unit)
}

// UnitWords is a unit of the data in the words of the language.
func UnitWords(b *ui.Build, unit string) string {
	return b.Msg.Or("unit."+unit, "phrase.id", "id", unit)
}

// digits are a channel's value without its unit.
func digits(b *ui.Build, c inside.Channel, v float64) string {
	if v != v {
		return b.T("cutaway.none")
	}
	s := strconv.FormatFloat(v, 'f', c.Digits, 64)
	if isZero(s) {
		s = s[1:]
	}
	return b.Msg.Decimal(s)
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
	shift := p.lay.pictures[i].Y - p.lay.pictures[0].Y
	across := p.lay.pictures[i].X - p.lay.pictures[0].X
	move := func(q paint.Pt) paint.Pt { return paint.Pt{X: q.X + across, Y: q.Y + shift} }
	for _, x := range p.marked.labels {
		if x.from != x.to {
			l.Line([]paint.Pt{move(x.from), move(x.to)}, 1, edge)
		}
		box := paint.Rect{X: x.box.X + 3 + across, Y: x.box.Y + 1 + shift, W: x.box.W - 6, H: labelHigh}
		if x.inLine {
			// The name begins where it and the widest reading together are set, so that it does not move with the reading.
			name := l.Fonts.Width(x.name, paint.LabelB)
			l.TextIn(x.name, paint.LabelB, box, paint.Left, paint.Mist)
			box.X, box.W, x.align = box.X+name+inLineGap, box.W-name-inLineGap, paint.Left
		} else if x.name != "" {
			l.TextIn(x.name, paint.LabelB, box, x.align, paint.Mist)
			box.Y += labelHigh
		}
		for _, c := range x.chans {
			words := b.T("cutaway.none")
			if f != nil {
				words = Value(b, c, f.Channel(c, p.at))
			}
			l.TextIn(p.words(b, c, x.named, words), paint.Label, box, x.align, paint.Chalk)
			box.Y += labelHigh
		}
	}
	for n, x := range p.marked.keyed {
		number(l, move(x.at), n+1)
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
