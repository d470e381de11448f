package cutaway

import (
	"slices"
	"strconv"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// entry is an entry of the key below the pictures: what a number stands for, and the reading for which there is no room at its part.
type entry struct {
	item  *inside.Item
	n     int // 0: the part has its name on the picture
	chans []inside.Channel
	box   paint.Rect
}

// Distances in an entry: before its number, from one piece to the next, from a mark to its value, and behind the entry.
const (
	keyFront = 4.0
	keyGap   = 5.0
	keyMark  = 13.0
	keyAfter = 14.0
)

// unread are the parts in view whose reading stands nowhere on the picture.
func (p *Panel) unread() (out []*inside.Item) {
	p.each(func(it *inside.Item) {
		if len(it.Shows) > 0 && !slices.ContainsFunc(p.marked.labels, func(x label) bool { return x.item == it && len(x.chans) > 0 }) {
			out = append(out, it)
		}
	})
	return out
}

// setKey sets the entries of the key one behind the other and tells how many lines they need. Names of numbered parts are always there. Readings
// that found no room on the picture are added as far as the lines of the names, and some lines more, hold them.
func (p *Panel) setKey(b *ui.Build, lines int) (rows int) {
	unread := p.unread()
	names := make([]entry, len(p.marked.keyed))
	full := make([]entry, len(p.marked.keyed))
	for n, x := range p.marked.keyed {
		names[n] = entry{item: x.item, n: n + 1}
		full[n] = names[n]
		if slices.Contains(unread, x.item) {
			full[n].chans = p.firstRead(x.item)
		}
	}
	most := p.flow(b, names) + lines
	key := full
	if p.flow(b, key) > most {
		key = names
	}
	for _, it := range unread {
		if slices.ContainsFunc(p.marked.keyed, func(x keyed) bool { return x.item == it }) {
			continue
		}
		if more := append(slices.Clone(key), entry{item: it, chans: p.firstRead(it)}); p.flow(b, more) <= most {
			key = more
		}
	}
	rows = p.flow(b, key)
	p.marked.key = key
	return rows
}

// firstRead is the first reading of a part.
func (p *Panel) firstRead(it *inside.Item) []inside.Channel {
	chans, _ := p.readable(it)
	return chans[:min(1, len(chans))]
}

// flow sets entries one behind the other and tells how many lines they take.
func (p *Panel) flow(b *ui.Build, key []entry) (rows int) {
	r := p.lay.key
	x := r.X
	for n := range key {
		w := p.keyWidth(b, key[n])
		if rows == 0 || x+w-keyAfter > r.Right() && x > r.X {
			x, rows = r.X, rows+1
		}
		key[n].box = paint.Rect{X: x, Y: r.Y + float64(rows-1)*keyHigh, W: w, H: keyHigh}
		x += w
	}
	return rows
}

func (p *Panel) keyWidth(b *ui.Build, e entry) float64 {
	f := b.Front.Fonts
	w := keyFront + f.Width(b.T("cutaway.part."+e.item.ID), paint.Label) + keyAfter
	if e.n > 0 {
		w += 2*badge + keyGap
	}
	for _, c := range e.chans {
		if _, clear := p.readable(e.item); !clear {
			w += keyGap + f.Width(b.T("cutaway.channel."+c.ID), paint.Label)
		}
		each := keyGap + f.Width(widest(b, c), paint.Label)
		if p.pictures > 1 {
			each += keyMark
		}
		w += each * float64(p.pictures)
	}
	return w
}

// drawKey writes what the numbers stand for, and the readings that have no place on the picture.
func (p *Panel) drawKey(b *ui.Build) {
	l := b.Front
	for _, e := range p.marked.key {
		x := e.box.X + keyFront
		put := func(words string, ink paint.Ink) {
			w := l.Fonts.Width(words, paint.Label)
			l.TextIn(words, paint.Label, paint.Rect{X: x, Y: e.box.Y, W: w + 1, H: e.box.H}, paint.Left, ink)
			x += w + keyGap
		}
		name := b.T("cutaway.part." + e.item.ID)
		if e.n > 0 {
			number(l, paint.Pt{X: x + badge, Y: e.box.Mid().Y}, e.n)
			x += 2*badge + keyGap
			b.Read(b.T("cutaway.key", "n", strconv.Itoa(e.n), "name", name))
		}
		put(name, paint.Mist)
		for _, c := range e.chans {
			if _, clear := p.readable(e.item); !clear {
				put(b.T("cutaway.channel."+c.ID), paint.Chalk)
			}
			for i := range p.pictures {
				words, ink := b.T("cutaway.none"), paint.Chalk
				if f := p.films[i]; f != nil {
					words = Value(b, c, f.Channel(c, p.at))
				}
				at := x
				if p.pictures > 1 {
					mark(l, i, paint.Pt{X: x + 4, Y: e.box.Mid().Y})
					x, ink = x+keyMark, traceInks[i]
				}
				put(words, ink)
				x = at + keyGap + l.Fonts.Width(widest(b, c), paint.Label)
				if p.pictures > 1 {
					x += keyMark
				}
			}
		}
	}
}
