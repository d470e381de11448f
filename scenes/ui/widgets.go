package ui

import (
	"coldbay/scenes/paint"
)

// Look is how a button is painted.
type Look struct {
	Paper   bool        // stands on paper
	Primary bool        // the main way on
	Style   paint.Style // zero: paint.SmallB
	Align   paint.Align
	Icon    func(l *paint.List, r paint.Rect, ink paint.Ink) // painted at the left
	Above   bool                                             // icon above the words
	Lit     bool                                             // on, and not the chosen one: marked by a lamp, not by its colour
}

// Button paints and adds a push button whose words are its name.
func (b *Build) Button(id, name string, r paint.Rect, look Look, do func()) {
	b.Control(Control{ID: id, Name: name, Role: Push, Rect: r, Do: do}, name, look)
}

// Control paints a button, tab or toggle with the given words and adds it.
func (b *Build) Control(c Control, words string, look Look) {
	fill, ink, line := paint.Raised, paint.Chalk, paint.Edge
	if look.Paper {
		fill, ink, line = paint.PageLo, paint.PageInk, paint.PageRul
	}
	switch {
	case c.Off && look.Paper:
		fill, ink = paint.Page, paint.Blend(paint.PageDim, paint.Page, 0.25)
	case c.Off:
		fill, ink = paint.Panel, paint.Blend(paint.Mist, paint.Panel, 0.35)
	case c.On && !look.Lit:
		fill, ink, line = paint.Sky, paint.Black, paint.Chalk
		if look.Paper {
			fill, ink, line = paint.PageInk, paint.Page, paint.PageInk
		}
	case look.Primary:
		fill, ink, line = paint.Orange, paint.Black, paint.Orange
	}
	l := b.Front
	l.Box(c.Rect, 5, line)
	l.Box(c.Rect.Inset(1), 4, fill)
	switch {
	case c.On && look.Lit:
		lamp := paint.Pt{X: c.Rect.Right() - 10, Y: c.Rect.Y + 10}
		l.Disc(lamp, 5.5, paint.Black)
		l.Disc(lamp, 4, paint.Orange)
	case c.On:
		// A bar as well as the colour says that this is the chosen one.
		l.Box(paint.Rect{X: c.Rect.X + 3, Y: c.Rect.Bottom() - 4, W: c.Rect.W - 6, H: 2.5}, 1, ink)
	}
	st := look.Style
	if st.Size == 0 {
		st = paint.SmallB
	}
	room := c.Rect.Pad(6, 2)
	align := paint.Centre
	if look.Icon != nil {
		var spot paint.Rect
		if look.Above {
			spot, room = room.CutTop(room.H-17, 0)
		} else {
			spot, room = room.CutLeft(min(room.H, 22), 6)
			align = paint.Left
		}
		look.Icon(l, spot, ink)
	}
	if look.Align != paint.Left {
		align = look.Align
	} else if look.Icon == nil && look.Paper && c.Role == Toggle {
		align = paint.Left
	}
	l.TextIn(words, st, room, align, ink)
	b.Add(c)
}

// Check is a box with a tick and words beside it, on paper.
func (b *Build) Check(id, name string, r paint.Rect, on bool, do func()) {
	l := b.Front
	box := paint.Rect{X: r.X + 2, Y: r.Y + (r.H-18)/2, W: 18, H: 18}
	l.Box(box, 3, paint.PageInk)
	l.Box(box.Inset(2), 2, paint.White)
	if on {
		Tick(l, box.Inset(3), paint.Blue)
	}
	l.TextIn(name, paint.Body, paint.Rect{X: r.X + 28, Y: r.Y, W: r.W - 28, H: r.H}, paint.Left, paint.PageInk)
	b.Add(Control{ID: id, Name: name, Role: Toggle, Rect: r, On: on, Do: do})
}

// TextField is a line that can be typed into, on paper.
func (b *Build) TextField(id, name, value, hint string, r paint.Rect, edit func(string), enter func()) {
	l := b.Front
	l.Box(r, 4, paint.PageInk)
	l.Box(r.Inset(1.5), 3, paint.White)
	room := r.Pad(8, 2)
	switch {
	case value != "":
		// What was typed last stays in view.
		shown := []rune(value)
		for len(shown) > 1 && l.Fonts.Width(string(shown), paint.Body) > room.W-10 {
			shown = shown[1:]
		}
		l.TextIn(string(shown), paint.Body, room, paint.Left, paint.PageInk)
		if b.Page.focus == id {
			x := room.X + l.Fonts.Width(string(shown), paint.Body) + 2
			l.Box(paint.Rect{X: x, Y: r.Y + 6, W: 1.5, H: r.H - 12}, 0, paint.Blue)
		}
	default:
		l.TextIn(hint, paint.Body, room, paint.Left, paint.PageDim)
	}
	b.Add(Control{ID: id, Name: name, Role: Field, Rect: r, Value: value, Edit: edit, Do: enter})
}

// Pager adds the two buttons that turn pages and says where one is; it takes 150 x 28.
func (b *Build) Pager(id string, at paint.Pt, page, pages int, paper bool, area paint.Rect, turn func(int)) {
	if pages < 2 {
		return
	}
	look := Look{Paper: paper}
	back := paint.Rect{X: at.X, Y: at.Y, W: 34, H: 28}
	on := paint.Rect{X: at.X + 116, Y: at.Y, W: 34, H: 28}
	ink := paint.Mist
	if paper {
		ink = paint.PageDim
	}
	where := func(n int) string { return b.T("page.of", "n", num(n+1), "of", num(pages)) }
	name := func(key string, n int) string {
		if n < 0 || n >= pages {
			return b.T("page.last", "what", b.heading(), "page", where(page))
		}
		return b.T(key, "what", b.heading(), "page", where(n))
	}
	leaf := func(d int) { turn(d); b.Page.Say(b.T("page.turned", "page", where(page+d))) }
	b.Control(Control{ID: id + ".back", Name: name("page.back", page-1), Role: Push, Rect: back, Off: page == 0, Do: func() { leaf(-1) }}, "◄", look)
	b.Front.TextIn(where(page), paint.Small, paint.Rect{X: at.X + 36, Y: at.Y, W: 78, H: 28}, paint.Centre, ink)
	b.Control(Control{ID: id + ".on", Name: name("page.on", page+1), Role: Push, Rect: on, Off: page >= pages-1, Do: func() { leaf(1) }}, "►", look)
	b.Wheel(area, func(d int) {
		if n := page + d; n >= 0 && n < pages {
			leaf(d)
		}
	})
}

// Paper paints a sheet of paper.
func Paper(l *paint.List, r paint.Rect) {
	l.Box(paint.Rect{X: r.X + 3, Y: r.Y + 4, W: r.W, H: r.H}, 4, paint.Fade(paint.Black, 0.45))
	l.BoxGrad(r, 3, paint.Page, paint.Blend(paint.Page, paint.PageLo, 0.55))
}

// Board paints a panel of the room.
func Board(l *paint.List, r paint.Rect) {
	l.Box(r, 6, paint.Blend(paint.Panel, paint.Edge, 0.5))
	l.Box(r.Inset(1), 5, paint.Panel)
}

// Tick paints a check mark; the typefaces have none.
func Tick(l *paint.List, r paint.Rect, ink paint.Ink) {
	l.Line([]paint.Pt{{X: r.X, Y: r.Y + r.H*0.55}, {X: r.X + r.W*0.38, Y: r.Bottom()}, {X: r.Right(), Y: r.Y}}, r.W*0.2, ink)
}

// Cross paints a cross mark.
func Cross(l *paint.List, r paint.Rect, ink paint.Ink) {
	l.Line([]paint.Pt{{X: r.X, Y: r.Y}, {X: r.Right(), Y: r.Bottom()}}, r.W*0.2, ink)
	l.Line([]paint.Pt{{X: r.Right(), Y: r.Y}, {X: r.X, Y: r.Bottom()}}, r.W*0.2, ink)
}

// Warn paints a warning triangle.
func Warn(l *paint.List, r paint.Rect, fill, ink paint.Ink) {
	l.Fill([]paint.Pt{{X: r.X + r.W/2, Y: r.Y}, {X: r.Right(), Y: r.Bottom()}, {X: r.X, Y: r.Bottom()}}, fill)
	x := r.X + r.W/2
	l.Line([]paint.Pt{{X: x, Y: r.Y + r.H*0.36}, {X: x, Y: r.Y + r.H*0.68}}, r.W*0.1, ink)
	l.Disc(paint.Pt{X: x, Y: r.Y + r.H*0.82}, r.W*0.065, ink)
}
