package paint

import (
	"math"
	"strings"
	"unicode"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"
)

// List is a recorded picture: shapes and words in painting order.
type List struct {
	Mesh
	Fonts *Fonts
	Words []Word
	ops   []op
}

// op is a run of mesh indices followed by a run of words.
type op struct{ indices, words int }

// Word is one line of text and the box it fills, in logical units.
type Word struct {
	S     string
	Style Style
	X, Y  float64 // upper left corner
	Ink   Ink
	Box   Rect // what the letters cover
	Room  Rect // where they must stay; zero when it does not matter
	Cut   bool // shortened to fit
}

// NewList starts an empty picture.
func NewList(f *Fonts, scale float64) *List {
	return &List{Mesh: Mesh{Scale: scale}, Fonts: f}
}

// Clear empties the list and keeps its memory.
func (l *List) Clear(scale float64) {
	l.Reset()
	l.Words, l.ops = l.Words[:0], l.ops[:0]
	l.Scale, l.Shift, l.Zoom, l.Mirror = scale, Pt{}, 0, 0
}

// Align says where a line stands in its box.
type Align uint8

// Alignments.
const (
	Left Align = iota
	Centre
	Right
)

// Text puts a line with its upper left corner at x, y.
func (l *List) Text(s string, st Style, x, y float64, ink Ink) float64 {
	w := l.Fonts.Width(s, st)
	l.word(Word{S: s, Style: st, X: x, Y: y, Ink: ink, Box: Rect{x, y, w, st.BoxHeight()}})
	return w
}

func (l *List) word(w Word) {
	if w.S == "" {
		return
	}
	w.Ink = l.Theme.Word(w.Ink)
	l.mark()
	l.Words = append(l.Words, w)
	l.ops[len(l.ops)-1].words = len(l.Words)
}

// mark opens a new run when shapes were added after the last words.
func (l *List) mark() {
	if n := len(l.ops); n == 0 || l.ops[n-1].indices != len(l.I) {
		l.ops = append(l.ops, op{indices: len(l.I), words: len(l.Words)})
	}
}

// TextIn puts one line into a box, vertically centred. A line that is too wide is first set in a smaller size, at
// least 11 units, and then shortened; a shortened line is marked so that a test can find it.
func (l *List) TextIn(s string, st Style, r Rect, a Align, ink Ink) {
	cut := false
	w := l.Fonts.Width(s, st)
	for w > r.W && st.Size > 11 {
		st.Size--
		w = l.Fonts.Width(s, st)
	}
	for w > r.W && s != "" {
		rs := []rune(strings.TrimSuffix(s, "…"))
		if cut = true; len(rs) == 0 {
			break // the sign that words are missing stays
		}
		s = string(rs[:len(rs)-1]) + "…"
		w = l.Fonts.Width(s, st)
	}
	x := r.X
	switch a {
	case Centre:
		x += (r.W - w) / 2
	case Right:
		x += r.W - w
	}
	y := r.Y + (r.H-st.BoxHeight())/2
	l.word(Word{S: s, Style: st, X: x, Y: y, Ink: ink, Box: Rect{x, y, w, st.BoxHeight()}, Room: r, Cut: cut})
}

// breaks tells whether a line may end at a space: not at one that holds a number together.
func breaks(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' && r != '\u202f' }

// Wrap breaks s into lines no wider than w. A word wider than w stands alone.
func (f *Fonts) Wrap(s string, st Style, w float64) []string {
	var out []string
	for para := range strings.SplitSeq(s, "\n") {
		line := ""
		for word := range strings.FieldsFuncSeq(para, breaks) {
			try := word
			if line != "" {
				try = line + " " + word
			}
			if line != "" && f.Width(try, st) > w {
				out, line = append(out, line), word
				continue
			}
			line = try
		}
		out = append(out, line)
	}
	return out
}

// Para sets wrapped text into a box from its top and returns the height used. Lines that find no room are not set;
// the last one that does ends in an ellipsis and is marked as cut.
func (l *List) Para(s string, st Style, r Rect, ink Ink) float64 {
	lines := l.Fonts.Wrap(s, st, r.W)
	room := max(1, int((r.H+st.LineHeight()-st.BoxHeight())/st.LineHeight()))
	cut := len(lines) > room
	if cut {
		lines = lines[:room]
		lines[room-1] += " …"
	}
	for i, line := range lines {
		y := r.Y + float64(i)*st.LineHeight()
		l.word(Word{S: line, Style: st, X: r.X, Y: y, Ink: ink, Room: r, Cut: cut && i == room-1,
			Box: Rect{r.X, y, l.Fonts.Width(line, st), st.BoxHeight()}})
	}
	return float64(len(lines)) * st.LineHeight()
}

// ParaHeight is the height that Para would use with enough room.
func (l *List) ParaHeight(s string, st Style, w float64) float64 {
	return float64(len(l.Fonts.Wrap(s, st, w))) * st.LineHeight()
}

// Triangles is the number of triangles recorded.
func (l *List) Triangles() int { return len(l.I) / 3 }

// Sum identifies what the list would paint.
func (l *List) Sum() uint64 {
	h := mix(l.Mesh.Sum(), uint64(len(l.ops)))
	for _, o := range l.ops {
		h = mix(mix(h, uint64(o.indices)), uint64(o.words))
	}
	for _, w := range l.Words {
		h = mix(mix(mix(h, math.Float64bits(w.X)), math.Float64bits(w.Y)), math.Float64bits(w.Style.Size))
		h = mix(h, uint64(w.Style.Face)<<32|uint64(w.Ink.R)<<24|uint64(w.Ink.G)<<16|uint64(w.Ink.B)<<8|uint64(w.Ink.A))
		for _, c := range []byte(w.S) {
			h = mix(h, uint64(c))
		}
		h = mix(h, 256)
	}
	return h
}

// Draw paints the list onto dst and tells what that cost.
func (l *List) Draw(dst *ebiten.Image) Cost {
	from, word := 0, 0
	var c Cost
	tail := op{indices: len(l.I), words: len(l.Words)}
	for _, o := range append(l.ops[:len(l.ops):len(l.ops)], tail) {
		c = c.Plus(l.drawRun(dst, from, o.indices))
		from = o.indices
		for ; word < o.words; word++ {
			l.drawWord(dst, l.Words[word])
			c = c.Plus(Cost{Calls: 1, Words: 1})
		}
	}
	return c
}

// drawRun paints a run of indices with the vertices that it uses and no others: the engine copies all vertices that it is given.
func (l *List) drawRun(dst *ebiten.Image, from, to int) Cost {
	if from == to {
		return Cost{}
	}
	low, high := l.I[from], l.I[from]
	for _, i := range l.I[from:to] {
		low, high = min(low, i), max(high, i)
	}
	run := make([]uint32, 0, to-from)
	for _, i := range l.I[from:to] {
		run = append(run, i-low)
	}
	return drawMesh(dst, l.V[low:high+1], run)
}

func (l *List) drawWord(dst *ebiten.Image, w Word) {
	opt := &text.DrawOptions{}
	opt.GeoM.Translate(w.X*l.Scale, w.Y*l.Scale)
	opt.ColorScale.ScaleWithColor(w.Ink)
	text.Draw(dst, w.S, l.Fonts.face(w.Style, l.Scale), opt)
}
