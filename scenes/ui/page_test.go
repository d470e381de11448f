package ui_test

import (
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
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

// sheet builds a screen with two regions of two buttons each and, when asked, a modal sheet with one.
func sheet(t *testing.T, page *ui.Page, modal bool, pressed *[]string) *ui.Build {
	t.Helper()
	fonts, err := paint.LoadFonts()
	require.NoError(t, err)
	msg, err := messages.Load("en")
	require.NoError(t, err)
	b := ui.NewBuild(paint.NewList(fonts, 1), paint.NewList(fonts, 1), page, msg, 800, 600, 1)
	put := func(id string, x, y float64) {
		b.Button(id, "Name of "+id, paint.Rect{X: x, Y: y, W: 160, H: 30}, ui.Look{}, func() { *pressed = append(*pressed, id) })
	}
	b.Group("one")
	put("a", 10, 10)
	put("b", 200, 10)
	b.Group("two")
	put("c", 10, 300)
	put("d", 200, 300)
	b.Escape(func() { *pressed = append(*pressed, "escape") })
	if modal {
		b.Sheet(300, 200)
		b.Group("sheet")
		put("m", 300, 250)
	}
	return b
}

func keys(k ...ui.Key) ui.Input { return ui.Input{Keys: k} }

func TestKeysReachEverything(t *testing.T) {
	for _, c := range []struct {
		name  string
		keys  []ui.Key
		focus string
	}{
		{"tab goes to the first", []ui.Key{ui.KeyTab}, "a"},
		{"tab goes on", []ui.Key{ui.KeyTab, ui.KeyTab, ui.KeyTab}, "c"},
		{"tab comes round", []ui.Key{ui.KeyTab, ui.KeyTab, ui.KeyTab, ui.KeyTab, ui.KeyTab}, "a"},
		{"back goes to the last", []ui.Key{ui.KeyBackTab}, "d"},
		{"right", []ui.Key{ui.KeyTab, ui.KeyRight}, "b"},
		{"down", []ui.Key{ui.KeyTab, ui.KeyDown}, "c"},
		{"up and left", []ui.Key{ui.KeyBackTab, ui.KeyUp, ui.KeyLeft}, "a"},
		{"next region", []ui.Key{ui.KeyTab, ui.KeyGroup}, "c"},
		{"region comes round", []ui.Key{ui.KeyTab, ui.KeyBackF6}, "c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var page ui.Page
			var pressed []string
			sheet(t, &page, false, &pressed)
			for _, k := range c.keys {
				page.Handle(keys(k))
			}
			got, ok := page.Focused()
			require.True(t, ok)
			require.Equal(t, c.focus, got.ID)
			require.True(t, page.Ring)
			page.Handle(keys(ui.KeyEnter))
			require.Equal(t, []string{c.focus}, pressed)
		})
	}
}

func TestClickPressesAndHidesTheRing(t *testing.T) {
	var page ui.Page
	var pressed []string
	sheet(t, &page, false, &pressed)
	page.Handle(keys(ui.KeyTab))
	require.True(t, page.Handle(ui.Input{At: paint.Pt{X: 220, Y: 310}, Clicked: true}))
	require.Equal(t, []string{"d"}, pressed)
	require.False(t, page.Ring)
	require.False(t, page.Handle(ui.Input{At: paint.Pt{X: 700, Y: 590}, Clicked: true}))
}

func TestModalSheetShutsTheRestOff(t *testing.T) {
	var page ui.Page
	var pressed []string
	sheet(t, &page, true, &pressed)
	require.False(t, page.Press("a"))
	for range 3 {
		page.Handle(keys(ui.KeyTab))
		c, _ := page.Focused()
		require.Equal(t, "m", c.ID)
	}
	page.Handle(keys(ui.KeyEscape))
	require.Equal(t, []string{"escape"}, pressed)
	tree := page.Tree()
	require.Len(t, tree, 2)
	require.Equal(t, ui.Node{Role: ui.Head, Name: "sheet"}, tree[0])
	require.Equal(t, "m", tree[1].ID)
}

// Each region has a heading once; one without anything in it has none; what a sheet covers is not read.
func TestTreeHasHeadings(t *testing.T) {
	var page ui.Page
	var pressed []string
	b := sheet(t, &page, false, &pressed)
	b.Group("empty")
	b.Group("three")
	b.Read("words")
	heads := func() (out []string) {
		for _, n := range page.Tree() {
			if n.Role == ui.Head {
				out = append(out, n.Name)
			}
		}
		return out
	}
	require.Equal(t, []string{"one", "two", "three"}, heads())
	b = sheet(t, &page, false, &pressed)
	b.Group("three")
	b.Read("covered")
	b.Sheet(300, 200)
	b.Group("sheet")
	b.Read("above")
	tree := page.Tree()
	require.Equal(t, []ui.Node{{Role: ui.Head, Name: "sheet"}, {Role: ui.Prose, Name: "above"}}, tree)
}

// The focus goes into a sheet and comes back to what opened it; where a control goes away it stays near.
func TestFocusIsNotLost(t *testing.T) {
	var page ui.Page
	var pressed []string
	sheet(t, &page, false, &pressed)
	page.Settle(false, true)
	page.Press("c")
	page.Settle(false, false)
	sheet(t, &page, true, &pressed)
	page.Settle(false, false)
	require.Equal(t, "m", page.FocusID())
	sheet(t, &page, false, &pressed)
	page.Settle(true, false)
	require.Equal(t, "c", page.FocusID())
	page.Controls = append(page.Controls[:2:2], page.Controls[3:]...)
	page.Settle(false, false)
	require.Equal(t, "d", page.FocusID())
}

// What changed while the screen stayed is read out once; what was there before, or belongs to another screen, is not.
func TestChangesAreTold(t *testing.T) {
	var page ui.Page
	var pressed []string
	show := func(fresh bool, words ...string) []string {
		b := sheet(t, &page, false, &pressed)
		for _, s := range words {
			b.Tell(s)
		}
		page.Settle(false, fresh)
		return page.Said()
	}
	require.Empty(t, show(true, "a"))
	require.Equal(t, []string{"b"}, show(false, "a", "b"))
	require.Empty(t, show(false, "b"))
	require.Equal(t, []string{"a"}, show(false, "a"))
	require.Empty(t, show(true, "c"))
}

func TestFieldTakesText(t *testing.T) {
	var page ui.Page
	fonts, err := paint.LoadFonts()
	require.NoError(t, err)
	msg, err := messages.Load("en")
	require.NoError(t, err)
	text, entered := "", 0
	build := func() {
		b := ui.NewBuild(paint.NewList(fonts, 1), paint.NewList(fonts, 1), &page, msg, 400, 100, 1)
		b.TextField("f", "a field", text, "hint", paint.Rect{X: 10, Y: 10, W: 200, H: 30}, func(s string) { text = s }, func() { entered++ })
	}
	build()
	page.Focus("f")
	for _, s := range []string{"12", ".6 V", "ä"} {
		page.Handle(ui.Input{Typed: []rune(s)})
		build()
	}
	require.Equal(t, "12.6 Vä", text)
	page.Handle(keys(ui.KeyErase))
	require.Equal(t, "12.6 V", text)
	page.Handle(ui.Input{At: paint.Pt{X: 20, Y: 20}, Clicked: true})
	require.Zero(t, entered, "a click on a field hands its text in")
	page.Handle(keys(ui.KeySpace))
	require.Zero(t, entered)
	page.Handle(keys(ui.KeyEnter))
	require.Equal(t, 1, entered)
}

// The faults that the screens' tests look for are found when they are there.
func TestFaultsAreFound(t *testing.T) {
	fonts, err := paint.LoadFonts()
	require.NoError(t, err)
	msg, err := messages.Load("en")
	require.NoError(t, err)
	for name, c := range map[string]struct {
		want string
		do   func(b *ui.Build)
	}{
		"overlap": {"words overlap", func(b *ui.Build) {
			b.Front.Text("one two three", paint.Body, 10, 10, paint.Chalk)
			b.Front.Text("four", paint.Body, 40, 14, paint.Chalk)
		}},
		"cut": {"words shortened", func(b *ui.Build) {
			b.Front.TextIn("a line that is much too long", paint.Body, paint.Rect{X: 5, Y: 5, W: 60, H: 20}, paint.Left, paint.Chalk)
		}},
		"off the screen": {"words off the screen", func(b *ui.Build) { b.Front.Text("away", paint.Body, 395, 10, paint.Chalk) }},
		"paragraph without room": {"words shortened", func(b *ui.Build) {
			b.Front.Para("one two three four five six seven", paint.Body, paint.Rect{X: 5, Y: 5, W: 60, H: 20}, paint.Chalk)
		}},
		"no name": {"has no name", func(b *ui.Build) { b.Add(ui.Control{ID: "x", Rect: paint.Rect{X: 1, Y: 1, W: 20, H: 20}}) }},
		"id twice": {"used twice", func(b *ui.Build) {
			b.Add(ui.Control{ID: "x", Name: "x", Rect: paint.Rect{X: 1, Y: 1, W: 20, H: 20}})
			b.Add(ui.Control{ID: "x", Name: "x", Rect: paint.Rect{X: 60, Y: 1, W: 20, H: 20}})
		}},
		"on top": {"controls overlap", func(b *ui.Build) {
			b.Add(ui.Control{ID: "x", Name: "x", Rect: paint.Rect{X: 1, Y: 1, W: 30, H: 30}})
			b.Add(ui.Control{ID: "y", Name: "y", Rect: paint.Rect{X: 5, Y: 5, W: 30, H: 30}})
		}},
		"small beside small": {"too small for a finger", func(b *ui.Build) {
			b.Add(ui.Control{ID: "x", Name: "x", Rect: paint.Rect{X: 40, Y: 1, W: 40, H: 20}})
			b.Add(ui.Control{ID: "y", Name: "y", Rect: paint.Rect{X: 40, Y: 24, W: 40, H: 20}})
		}},
		"small beside large": {"too small for a finger", func(b *ui.Build) {
			b.Add(ui.Control{ID: "x", Name: "x", Rect: paint.Rect{X: 40, Y: 1, W: 18, H: 30}})
			b.Add(ui.Control{ID: "y", Name: "y", Rect: paint.Rect{X: 60, Y: 1, W: 40, H: 30}})
		}},
	} {
		var page ui.Page
		b := ui.NewBuild(paint.NewList(fonts, 1), paint.NewList(fonts, 1), &page, msg, 400, 100, 1)
		b.Add(ui.Control{ID: "alone", Name: "small, with room around it", Rect: paint.Rect{X: 300, Y: 40, W: 12, H: 12}})
		require.Empty(t, b.Faults(), name)
		c.do(b)
		require.Contains(t, b.Faults()[0], c.want, name)
	}
}
