package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldbay/assets/messages"
)

// The paper of a key sheet, in units of its drawing: 259 mm, which is Letter's width less two margins of 10 mm, are 979 units, so
// that a unit is a 96th of an inch; a sheet is as high as A4 leaves under its heading.
const (
	paperWidth  = 979
	paperHeight = 660
	coverHeight = 545 // of the first sheet, which the title and the legend stand above
	columns     = 3
	cardWidth   = 306
	columnGap   = (paperWidth - columns*cardWidth) / (columns - 1.0)
	rowGap      = 7
	treeGap     = 22
	cardPad     = 6
	keyText     = 10.5 // just under 8 points
	keyLine     = 13
)

// The most lines that a card gives to each of its parts; what is longer is in the words that follow the sheets.
const (
	seenLines = 14
	doLines   = 12
	leftLines = 6
)

// line is one line of text on a card.
type line struct {
	X, Y  float64 // baseline, left end
	Text  string
	Class string // head, seen, do, clock, left, on
	Right bool   // X is the right end
	Box   box
}

// drawn is a card on a sheet.
type drawn struct {
	*card
	Box   box
	Lines []line
	Rule  float64 // where the line between seen and do runs; 0 for none
	Way   string  // the path from the card before it
	kids  []*drawn
	on    bool // its kids are on another sheet
	from  bool // it was on another sheet already
	onTo  int
	whole float64 // height of the whole tree drawn under it
}

// sheet is one page of cards.
type sheet struct {
	N     int
	H     float64
	Cards []*drawn
	roots []*drawn
}

// First is the number of the sheet's first card.
func (s sheet) First() int { return s.Cards[0].N }

// Last is the highest number of its cards.
func (s sheet) Last() int {
	n := 0
	for _, c := range s.Cards {
		n = max(n, c.N)
	}
	return n
}

// lay spreads the cards over sheets. Each sheet shows as much of the plan as goes on it in the columns; where a card's
// continuation does not fit, it stands again on a later sheet as the beginning of it.
func lay(r *ruler, msg *messages.Catalogue, root *card) []*sheet {
	var sheets []*sheet
	queue := []*card{root}
	for len(queue) > 0 {
		room := float64(paperHeight)
		if len(sheets) == 0 {
			room = coverHeight
		}
		s := &sheet{N: len(sheets) + 1}
		var left []*card
		for _, c := range queue {
			gap := 0.0
			if len(s.roots) > 0 {
				gap = treeGap
			}
			t := grow(r, msg, c, room-gap, len(s.roots) == 0)
			if t == nil {
				left = append(left, c)
				continue
			}
			for i, part := range t {
				if i > 0 { // a fan that needs several sheets
					sheets, s, room, gap = append(sheets, s), &sheet{N: s.N + 1}, paperHeight, 0
				}
				part.from = c != root
				s.roots = append(s.roots, part)
				room -= gap + part.whole
			}
		}
		sheets = append(sheets, s)
		queue = nil
		for _, sh := range sheets {
			for _, t := range sh.roots {
				queue = t.waiting(queue)
			}
		}
		queue = append(left, slices.DeleteFunc(queue, func(c *card) bool { return slices.Contains(left, c) || begun(sheets, c) })...)
		slices.SortFunc(queue, func(a, b *card) int { return a.N - b.N })
	}
	for i, s := range sheets {
		s.N = i + 1
	}
	for _, s := range sheets {
		s.settle(r, msg, sheets)
	}
	return sheets
}

// begun says whether a card's continuation has a sheet already.
func begun(sheets []*sheet, c *card) bool { return sheetOf(sheets, c) != nil }

// sheetOf is the first sheet that begins with a card, nil when there is none.
func sheetOf(sheets []*sheet, c *card) *sheet {
	for _, s := range sheets {
		for _, t := range s.roots {
			if t.card == c {
				return s
			}
		}
	}
	return nil
}

// waiting appends the cards whose continuation is on another sheet.
func (t *drawn) waiting(list []*card) []*card {
	if t.on {
		list = append(list, t.card)
	}
	for _, k := range t.kids {
		list = k.waiting(list)
	}
	return list
}

// grow draws as much of c's tree as fits. On a sheet that has something already only a whole tree will do; nil says that it
// does not fit. A fan of branches that is too high even for an empty sheet comes in several parts, each under a copy of c.
func grow(r *ruler, msg *messages.Catalogue, c *card, room float64, empty bool) []*drawn {
	open := map[*card]bool{c: true}
	if t := sprout(r, msg, c, open, 0); t.whole > room {
		if !empty {
			return nil
		}
		return fan(r, msg, c, room)
	}
	refused := map[*card]bool{}
	for {
		next := candidate(c, open, refused, 0)
		if next == nil {
			break
		}
		open[next] = true
		if sprout(r, msg, c, open, 0).whole > room {
			delete(open, next)
			refused[next] = true
		}
	}
	t := sprout(r, msg, c, open, 0)
	if !empty && len(t.waiting(nil)) > 0 {
		return nil
	}
	return []*drawn{t}
}

// candidate is the card to open next: of those nearest to the left the one with the smallest tree.
func candidate(c *card, open, refused map[*card]bool, depth int) *card {
	level := []*card{c}
	for ; depth < columns-1; depth++ {
		var best *card
		var next []*card
		for _, at := range level {
			if !open[at] {
				if len(at.Kids) > 0 && !refused[at] && (best == nil || at.size < best.size) {
					best = at
				}
				continue
			}
			next = append(next, at.Kids...)
		}
		if best != nil {
			return best
		}
		level = next
	}
	return nil
}

func fan(r *ruler, msg *messages.Catalogue, c *card, room float64) []*drawn {
	var out []*drawn
	part := *c
	part.Kids = nil
	flush := func() {
		if len(part.Kids) > 0 {
			p := part
			t := sprout(r, msg, &p, map[*card]bool{&p: true}, 0)
			t.card = c
			out = append(out, t)
		}
		part.Kids = nil
	}
	for _, k := range c.Kids {
		try := part
		try.Kids = append(slices.Clone(part.Kids), k)
		if sprout(r, msg, &try, map[*card]bool{&try: true}, 0).whole > room {
			flush()
		}
		part.Kids = append(slices.Clone(part.Kids), k)
	}
	flush()
	return out
}

// sprout draws a card and those under it that are open.
func sprout(r *ruler, msg *messages.Catalogue, c *card, open map[*card]bool, depth int) *drawn {
	t := &drawn{card: c, on: len(c.Kids) > 0 && !open[c]}
	t.write(r, msg)
	sum := -float64(rowGap)
	if open[c] {
		for _, k := range c.Kids {
			kid := sprout(r, msg, k, open, depth+1)
			t.kids = append(t.kids, kid)
			sum += kid.whole + rowGap
		}
	}
	t.whole = max(t.Box.H, sum)
	return t
}

// settle puts a sheet's cards in their places.
func (s *sheet) settle(r *ruler, msg *messages.Catalogue, sheets []*sheet) {
	y := 1.0
	for _, t := range s.roots {
		t.put(r, msg, s, sheets, 0, y)
		y += t.whole + treeGap
	}
	s.H = y - treeGap + 1
}

func (t *drawn) put(r *ruler, msg *messages.Catalogue, s *sheet, sheets []*sheet, column int, y float64) {
	if t.on {
		t.onTo = sheetOf(sheets, t.card).N
		t.write(r, msg)
	}
	t.Box.X = float64(column) * (cardWidth + columnGap)
	t.Box.Y = y + (t.whole-t.Box.H)/2
	for i := range t.Lines {
		l := &t.Lines[i]
		l.X, l.Y = l.X+t.Box.X, l.Y+t.Box.Y
		l.Box.X, l.Box.Y = l.Box.X+t.Box.X, l.Box.Y+t.Box.Y
	}
	if t.Rule > 0 {
		t.Rule += t.Box.Y
	}
	s.Cards = append(s.Cards, t)
	sum := -float64(rowGap)
	for _, k := range t.kids {
		sum += k.whole + rowGap
	}
	at := y + (t.whole-sum)/2
	for _, k := range t.kids {
		k.put(r, msg, s, sheets, column+1, at)
		at += k.whole + rowGap
		x0, y0 := t.Box.X+t.Box.W, t.Box.Y+t.Box.H/2
		x1, y1 := k.Box.X, k.Box.Y+k.Box.H/2
		k.Way = fmt.Sprintf("M%s %s H%s V%s H%s", px(x0), px(y0), px((x0+x1)/2), px(y1), px(x1))
	}
}

// write sets a card's text, from its own top left corner.
func (t *drawn) write(r *ruler, msg *messages.Catalogue) {
	t.Lines, t.Rule = nil, 0
	room := float64(cardWidth - 2*cardPad - 4)
	y := float64(cardPad)
	add := func(class, text string, indent float64, bold bool) {
		w := r.width(text, keyText, bold)
		t.Lines = append(t.Lines, line{X: cardPad + 4 + indent, Y: y + 10, Text: text, Class: class, Box: box{cardPad + 4 + indent, y + 0.5, w, 12}})
		y += keyLine
	}
	const clock = 48 // room for minutes at the right
	right := float64(cardWidth - cardPad)
	beside := func(class, text string, bold bool) {
		w := r.width(text, keyText, bold)
		t.Lines = append(t.Lines, line{X: right, Y: y + 10, Text: text, Class: class, Right: true, Box: box{right - w, y + 0.5, w, 12}})
	}
	head := fmt.Sprintf("%d · %s", t.N, msg.N("report.key.suspects", len(t.Left)))
	if len(t.Left) == 1 {
		head = fmt.Sprintf("%d · %s", t.N, t.Left[0])
	}
	toGo := msg.T("report.key.min", "n", t.ToGo)
	beside("head", toGo, true)
	rest := room - r.width(toGo, keyText, true) - cardPad
	for _, s := range r.most(r.wrap(head, keyText, rest, true), leftLines, keyText, rest, true) {
		add("head", s, 0, true)
	}
	var seen []string
	for i, s := range t.Seen {
		lines := r.wrap(msg.T(choose(i == 0, "report.key.if", "report.key.or"), "what", s), keyText, room, false)
		seen = append(seen, r.most(lines, max(2, seenLines/len(t.Seen)), keyText, room, false)...)
	}
	for _, s := range r.most(seen, seenLines, keyText, room, false) {
		add("seen", s, 0, false)
	}
	if len(t.Seen) > 0 {
		y += 3
		t.Rule = y
		y += 3
	}
	given := 0
	for _, d := range t.Do {
		for i, s := range r.most(r.wrap(d.Says, keyText, room-clock, true), max(2, doLines/len(t.Do)), keyText, room-clock, true) {
			if given++; given > doLines {
				break
			}
			if i == 0 {
				beside("clock", d.Clock(), false)
			}
			add("do", s, 0, true)
		}
	}
	if n := len(t.Left); n > 1 && (t.Ends || n <= 3) {
		for _, s := range r.most(r.wrap(msg.T("report.key.left", "what", strings.Join(t.Left, "; ")), keyText, room, false), leftLines, keyText, room, false) {
			add("left", s, 0, false)
		}
	}
	if t.on {
		add("on", msg.T("report.key.on", "n", strconv.Itoa(t.onTo)), 0, true)
	}
	t.Box = box{W: cardWidth, H: y + cardPad - 1}
}

// RuleFrom is where the line between seen and do begins.
func (t *drawn) RuleFrom() float64 { return t.Box.X + cardPad + 4 }

// RuleTo is where it ends.
func (t *drawn) RuleTo() float64 { return t.Box.X + t.Box.W - cardPad }
