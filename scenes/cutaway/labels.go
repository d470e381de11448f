package cutaway

import (
	"slices"
	"strconv"

	"coldbay/assets/messages"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// labelHigh is the height of a line of a label, inLineGap what stands between a name and a reading behind it; badge the radius of a number; keyHigh the
// height of a line of the key to the numbers.
const (
	labelHigh = 15.0
	inLineGap = 5.0
	badge     = 7.5
	keyHigh   = 18.0
)

// label is a part's name with its readings and the box that they need, in the first picture.
type label struct {
	item     *inside.Item
	name     string // "" where only a reading stands
	chans    []inside.Channel
	named    bool // the readings have their names before them
	inLine   bool // the reading stands behind the part's name, not below
	box      paint.Rect
	align    paint.Align
	own      paint.Rect // of the part
	from, to paint.Pt   // the line that leads from a label that stands apart to its part
}

// keyed is a part for whose name there is no room: it carries a number, and the name stands in the key.
type keyed struct {
	item *inside.Item
	at   paint.Pt
}

// marking is all that is written on a picture. It depends on the arrangement and not on the readings, so that nothing jumps while the clock runs.
type marking struct {
	of     arranged
	labels []label
	keyed  []keyed
	key    []entry
}

// arranged is what a marking depends on.
type arranged struct {
	room     paint.Rect
	view     string
	charts   int
	pictures int
	fades    bool
	msg      *messages.Catalogue
}

// arrange lays the panel out: the largest picture on which every part has its name or a number, and room for the key to the numbers. A line more in the
// key holds readings that have no room on the picture, and makes the picture smaller: it is taken unless less is to be read with it.
func (p *Panel) arrange(b *ui.Build, r paint.Rect) {
	of := arranged{r, p.show.View, len(p.show.Channels), p.pictures, p.fades(), b.Msg}
	if p.marked.of == of {
		return
	}
	p.marked = marking{of: of}
	p.fit(b, r, 0)
	if without := p.legible(); len(p.unread()) > 0 {
		if p.fit(b, r, 1); p.legible() < without {
			p.fit(b, r, 0)
		}
	}
}

// fit lays the panel out with a key that has some lines more than its names need.
func (p *Panel) fit(b *ui.Build, r paint.Rect, more int) {
	rows := 0
	for range 4 {
		p.lay = p.place(r, float64(rows)*keyHigh)
		p.pieces = p.pieces[:0]
		for n := range p.Sheet.Ways {
			p.pieces = append(p.pieces, p.lay.clip(p.Sheet.Ways[n].Path))
		}
		p.mark(b)
		if need := p.setKey(b, more); need <= rows {
			break
		} else {
			rows = need
		}
	}
}

// legible counts the names on the picture and the readings there and in the key.
func (p *Panel) legible() (n int) {
	for _, x := range p.marked.labels {
		if x.name != "" {
			n++
		}
		n += min(1, len(x.chans))
	}
	for _, e := range p.marked.key {
		n += len(e.chans)
	}
	return n
}

// number is a number in a disc.
func number(l *paint.List, c paint.Pt, n int) {
	l.Disc(c, badge+1, ground)
	l.Disc(c, badge, paint.Mist)
	l.TextIn(strconv.Itoa(n), paint.LabelB, paint.Rect{X: c.X - 10, Y: c.Y - 8, W: 20, H: 16}, paint.Centre, ground)
}

// mark finds room for names and readings on the first picture, the second being arranged alike: first for those that matter, each at its own
// side, never on top of each other, of a part or of a way. Where names would be lost that way, all names come before readings, a name may
// stand apart with a line to its part, and what then has no room yet gets a number.
func (p *Panel) mark(b *ui.Build) {
	lost := func() []*inside.Item {
		var out []*inside.Item
		for n := range p.Sheet.Items {
			it := &p.Sheet.Items[n]
			if p.lay.shows(it) && !slices.ContainsFunc(p.marked.labels, func(x label) bool { return x.item == it && x.name != "" }) {
				out = append(out, it)
			}
		}
		return out
	}
	t := p.taken()
	p.marked.labels, p.marked.keyed = nil, nil
	p.each(func(it *inside.Item) {
		if x, ok := t.first(p.fullest(b, it)); ok {
			p.marked.labels = append(p.marked.labels, x)
		}
	})
	if len(lost()) == 0 {
		p.addReadings(b, t)
		return
	}
	t = p.taken()
	p.marked.labels = nil
	p.each(func(it *inside.Item) {
		if x, ok := t.first(p.sides(p.sized(b, it, true, nil))); ok {
			p.marked.labels = append(p.marked.labels, x)
		}
	})
	for _, it := range lost() {
		if x, ok := t.first(p.apart(p.sized(b, it, true, nil))); ok {
			p.marked.labels = append(p.marked.labels, x)
		}
	}
	for _, it := range lost() {
		p.marked.keyed = append(p.marked.keyed, keyed{it, t.corner(p.lay.itemRect(0, it))})
	}
	p.addReadings(b, t)
}
