package paint

import (
	"math"
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"
)

type game struct {
	m    *testing.M
	code int
}

func (g *game) Update() error {
	g.code = g.m.Run()
	return ebiten.Termination
}

func (*game) Draw(*ebiten.Image) {}

func (*game) Layout(w, h int) (int, int) { return w, h }

func TestMain(m *testing.M) {
	g := &game{m: m, code: 1}
	ebiten.SetWindowSize(320, 180)
	if err := ebiten.RunGame(g); err != nil {
		panic(err)
	}
	os.Exit(g.code)
}

func area(d []Pt, tri [][3]uint32) float64 {
	sum := 0.0
	for _, t := range tri {
		sum += math.Abs(cross(d[t[0]], d[t[1]], d[t[2]])) / 2
	}
	return sum
}

// Triangles of an outline cover its area exactly once, whichever way round it runs.
func TestEarClip(t *testing.T) {
	for name, c := range map[string]struct {
		d    []Pt
		want float64
	}{
		"square":      {[]Pt{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 100},
		"other way":   {[]Pt{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, 100},
		"letter L":    {[]Pt{{0, 0}, {4, 0}, {4, 6}, {10, 6}, {10, 10}, {0, 10}}, 64},
		"arrow":       {[]Pt{{0, 0}, {10, 5}, {0, 10}, {3, 5}}, 35},
		"comb, 3 gap": {[]Pt{{0, 0}, {2, 0}, {2, 8}, {4, 8}, {4, 0}, {6, 0}, {6, 8}, {8, 8}, {8, 0}, {10, 0}, {10, 10}, {0, 10}}, 68},
	} {
		tri := earClip(c.d)
		require.Len(t, tri, len(c.d)-2, name)
		require.InDelta(t, c.want, area(c.d, tri), 1e-9, name)
	}
}

// A shape's edge is opaque half a pixel inside and gone half a pixel outside, at any scale.
func TestEdgesAreOnePixelWide(t *testing.T) {
	for _, scale := range []float64{1, 1.5, 2} {
		m := &Mesh{Scale: scale}
		m.Box(Rect{10, 10, 20, 20}, 0, White)
		solid, gone := Rect{1e9, 0, 0, 0}, Rect{1e9, 0, 0, 0}
		for _, v := range m.V {
			if v.ColorA == 1 {
				solid.X = math.Min(solid.X, float64(v.DstX))
			} else {
				gone.X = math.Min(gone.X, float64(v.DstX))
			}
		}
		require.InDelta(t, 10*scale+0.5, solid.X, 1e-4)
		require.InDelta(t, 10*scale-0.5, gone.X, 1e-4)
	}
}

func TestLayerPaintsOnlyWhatChanged(t *testing.T) {
	f, err := LoadFonts()
	require.NoError(t, err)
	l := NewList(f, 1)
	var y Layer
	defer y.Free()
	set := func(words string) {
		l.Clear(1)
		l.Box(Rect{1, 1, 30, 20}, 3, Sky)
		l.Text(words, Body, 5, 5, Black)
	}
	set("one")
	require.True(t, y.Update(l, 64, 32, true))
	set("one")
	require.False(t, y.Update(l, 64, 32, true))
	set("two")
	require.False(t, y.Update(l, 64, 32, false), "painted although nothing was said to have changed")
	require.True(t, y.Update(l, 64, 32, true))
	require.True(t, y.Update(l, 80, 32, false), "not painted at another size")
	require.Equal(t, 3, y.Repaints)
}

// Words and shapes are painted in the order in which they were given: the box hides the first word, not the second.
func TestOrderOfPainting(t *testing.T) {
	f, err := LoadFonts()
	require.NoError(t, err)
	l := NewList(f, 1)
	l.Text("MMMM", Title, 2, 2, Yellow)
	l.Box(Rect{0, 0, 100, 40}, 0, Blue)
	img := ebiten.NewImage(100, 40)
	defer img.Deallocate()
	count := func(want Ink) (n int) {
		img.Clear()
		l.Draw(img)
		for y := range 40 {
			for x := range 100 {
				r, g, b, _ := img.At(x, y).RGBA()
				if uint8(r>>8) == want.R && uint8(g>>8) == want.G && uint8(b>>8) == want.B {
					n++
				}
			}
		}
		return n
	}
	require.Zero(t, count(Yellow))
	l.Text("MMMM", Title, 2, 2, Yellow)
	require.Greater(t, count(Yellow), 50)
	require.Greater(t, count(Blue), 1000)
}

func TestWrap(t *testing.T) {
	f, err := LoadFonts()
	require.NoError(t, err)
	const s = "a hose that is pulled off hangs free and shows its open end"
	for _, w := range []float64{60, 120, 400} {
		lines := f.Wrap(s, Body, w)
		joined := ""
		for i, line := range lines {
			require.LessOrEqual(t, f.Width(line, Body), w)
			if i > 0 {
				joined += " "
			}
			joined += line
		}
		require.Equal(t, s, joined)
	}
	require.Equal(t, []string{"one", "two"}, f.Wrap("one\ntwo", Body, 400))
	require.Equal(t, []string{"seven", "118\u00a0000\u00a0km"}, f.Wrap("seven 118\u00a0000\u00a0km", Body, 100), "a number is not taken apart")
}

func TestCurveEndsWhereItShould(t *testing.T) {
	pts := []Pt{{0, 0}, {10, 5}, {20, -5}, {30, 0}}
	c := Curve(pts)
	require.Equal(t, pts[0], c[0])
	require.Equal(t, pts[3], c[len(c)-1])
	require.Greater(t, len(c), 20)
}

// Words that find no room at all leave a mark, and no harm is done.
func TestTextInNoRoom(t *testing.T) {
	f, err := LoadFonts()
	require.NoError(t, err)
	l := NewList(f, 1)
	for _, w := range []float64{40, 3, 0, -20} {
		l.Clear(1)
		l.TextIn("14 AWG, 10 A", Small, Rect{W: w, H: 20}, Left, Chalk)
		require.Len(t, l.Words, 1)
		require.True(t, l.Words[0].Cut, w)
	}
}
