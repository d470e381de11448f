package report_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// rect is a rectangle of a drawing; text stands in it by the font's own measures.
type rect struct {
	x0, y0, x1, y1 float64
	what           string
}

func (a rect) meets(b rect) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }
func (a rect) within(b rect) bool {
	return a.x0 >= b.x0 && a.y0 >= b.y0 && a.x1 <= b.x1 && a.y1 <= b.y1
}

// faces are Go Regular and Go Bold at a size.
func faces(t *testing.T, size float64) (regular, bold font.Face) {
	t.Helper()
	open := func(ttf []byte) font.Face {
		f, err := opentype.Parse(ttf)
		require.NoError(t, err)
		face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
		require.NoError(t, err)
		return face
	}
	return open(goregular.TTF), open(gobold.TTF)
}

// words are the boxes of a drawing's texts.
func words(t *testing.T, svg *element, size float64) []rect {
	t.Helper()
	regular, bold := faces(t, size)
	var out []rect
	for _, e := range svg.all("text") {
		face := regular
		if e.is("head") || e.is("do") || e.is("on") {
			face = bold
		}
		bounds, _ := font.BoundString(face, e.text)
		w := float64(font.MeasureString(face, e.text)) / 64
		x, y := e.num(t, "x"), e.num(t, "y")
		if dy := e.attr["dy"]; dy != "" {
			y += e.num(t, "dy")
		}
		switch e.attr["text-anchor"] {
		case "end":
			x -= w
		case "middle":
			x -= w / 2
		}
		out = append(out, rect{x, y + float64(bounds.Min.Y)/64, x + w, y + float64(bounds.Max.Y)/64, e.text})
	}
	return out
}

func apart(t *testing.T, list []rect) {
	t.Helper()
	for i, a := range list {
		for _, b := range list[:i] {
			require.False(t, a.meets(b), "%q covers %q", a.what, b.what)
		}
	}
}

func canvas(t *testing.T, svg *element) rect {
	t.Helper()
	f := strings.Fields(svg.attr["viewBox"])
	w, err := strconv.ParseFloat(f[2], 64)
	require.NoError(t, err)
	h, err := strconv.ParseFloat(f[3], 64)
	require.NoError(t, err)
	return rect{0, 0, w, h, "drawing"}
}

func TestChartTextIsClear(t *testing.T) {
	for name, text := range pages(t) {
		for _, svg := range parse(t, text).all("svg") {
			if !svg.is("chart") {
				continue
			}
			list := words(t, svg, 13)
			require.NotEmpty(t, list, name)
			apart(t, list)
			for _, w := range list {
				require.True(t, w.within(canvas(t, svg)), "%s: %q is cut off", name, w.what)
			}
		}
	}
}

// On paper a unit is a 96th of an inch at most, so 10.5 units are just under 8 points; A4 across leaves 277 mm by 190 mm inside
// margins of 10 mm, Letter 259 mm by 196 mm (ISO 216; ANSI/ASME Y14.1, size A).
func TestKeySheetIsClear(t *testing.T) {
	list := append(current(t), frozen(t), frozen(t).in(t, "de"), frozen(t).in(t, "es"), hostilePlan(t))
	cover := regexp.MustCompile(`continued on sheet (\d+)`)
	first := regexp.MustCompile(`^(\d+) ·`)
	for _, s := range list {
		sheets := parse(t, string(sheetOf(t, s))).all("svg")
		numbers := map[string]bool{}
		for i, svg := range sheets {
			page := canvas(t, svg)
			require.LessOrEqual(t, page.x1*25.4/96, 259.1, "width on paper, mm")
			require.LessOrEqual(t, page.y1*25.4/96, 190.0-14, "height on paper under the sheet's heading, mm")
			var cards []rect
			for _, e := range svg.all("rect") {
				if e.is("side") {
					continue
				}
				x, y := e.num(t, "x"), e.num(t, "y")
				cards = append(cards, rect{x, y, x + e.num(t, "width"), y + e.num(t, "height"), "card"})
			}
			require.NotEmpty(t, cards)
			apart(t, cards)
			texts := words(t, svg, 10.5)
			apart(t, texts)
			for _, w := range texts {
				inside := 0
				for _, c := range cards {
					if w.within(rect{c.x0 + 5, c.y0, c.x1 - 4, c.y1, ""}) {
						inside++
					}
				}
				require.Equal(t, 1, inside, "%q stands in one card, not at its edge", w.what)
			}
			for _, c := range cards {
				require.True(t, c.within(page), "a card is cut off")
			}
			for _, e := range svg.all("text") {
				if m := first.FindStringSubmatch(e.text); m != nil && e.is("head") {
					numbers[m[1]] = true
				}
				if m := cover.FindStringSubmatch(e.text); m != nil {
					to, err := strconv.Atoi(m[1])
					require.NoError(t, err)
					require.Greater(t, to, i+1, "it goes on on a later sheet")
					require.LessOrEqual(t, to, len(sheets))
				}
			}
			ways(t, svg, cards)
		}
		require.Equal(t, cardCount(t, s), len(numbers), "every card is on some sheet")
	}
}

// ways checks that no line between cards runs through one.
func ways(t *testing.T, svg *element, cards []rect) {
	t.Helper()
	shape := regexp.MustCompile(`^M(\S+) (\S+) H(\S+) V(\S+) H(\S+)$`)
	for _, e := range svg.all("path") {
		if !e.is("way") {
			continue
		}
		m := shape.FindStringSubmatch(e.attr["d"])
		require.NotNil(t, m, e.attr["d"])
		var v [5]float64
		for i := range v {
			var err error
			v[i], err = strconv.ParseFloat(m[i+1], 64)
			require.NoError(t, err)
		}
		for _, part := range []rect{{v[0], v[1], v[2], v[1], ""}, {v[2], min(v[1], v[3]), v[2], max(v[1], v[3]), ""}, {v[2], v[3], v[4], v[3], ""}} {
			for _, c := range cards {
				inner := rect{c.x0 + 0.5, c.y0 + 0.5, c.x1 - 0.5, c.y1 - 0.5, ""}
				require.False(t, part.x0 < inner.x1 && inner.x0 < part.x1+0.01 && part.y0 < inner.y1 && inner.y0 < part.y1+0.01, "a line runs through a card")
			}
		}
	}
}
