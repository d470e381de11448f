// Package board is the job board: the work orders that can be taken, begun or looked back on.
package board

import (
	"strconv"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the job board.
type Scene struct {
	desk *stage.Desk
	page int
}

// New makes the board of a desk.
func New(desk *stage.Desk) *Scene { return &Scene{desk: desk} }

// Enter reads the board again.
func (s *Scene) Enter() { s.desk.LoadBoard() }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// Build lays the orders out as cards pinned to the wall.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Board)
	b.Page.Title = b.T("board.title")
	room := stage.Below(b.W, b.H).Pad(20, 10)
	l := b.Front
	l.Text(b.T("board.title"), paint.Title, room.X, room.Y, paint.Chalk)
	l.Para(b.T("board.hint"), paint.Body, paint.Rect{X: room.X, Y: room.Y + 34, W: room.W, H: 44}, paint.Mist)
	b.Read(b.T("board.hint"))
	foot, cards := paint.Rect{X: room.X, Y: room.Y + 84, W: room.W, H: room.H - 84}.CutBottom(40, 10)
	l.Para(b.T("board.caution"), paint.Small, paint.Rect{X: foot.X, Y: foot.Y + 4, W: foot.W - 170, H: 36}, paint.Mist)
	b.Read(b.T("board.caution"))
	l.Para(b.T("board.keys"), paint.Small, paint.Rect{X: room.X, Y: room.Y + 58, W: room.W, H: 36}, paint.Mist)
	b.Read(b.T("board.keys"))
	b.Group("orders")
	b.Button("board.lessons", b.T("way.lessons"), paint.Rect{X: room.Right() - 130, Y: room.Y, W: 130, H: 32}, ui.Look{Align: paint.Centre}, func() { s.desk.Go(stage.Lessons) })
	if len(s.desk.List) == 0 {
		l.Para(b.T("board.empty"), paint.Body, cards.Pad(0, 20), paint.Chalk)
		return
	}
	const per = 3
	pages := (len(s.desk.List) + per - 1) / per
	s.page = min(s.page, pages-1)
	shown := s.desk.List[s.page*per : min(len(s.desk.List), (s.page+1)*per)]
	columns := cards.Columns(per, 18)
	st := paint.Body
	for i, o := range shown {
		st.Size = min(st.Size, lay(l, b, o, columns[i]).fits(l, o))
	}
	for i, o := range shown {
		s.card(b, o, lay(l, b, o, columns[i]), st, i)
	}
	b.Pager("board.page", paint.Pt{X: foot.Right() - 150, Y: foot.Y + 6}, s.page, pages, false, room, func(d int) { s.page += d; s.desk.Touch() })
}

// laid is where the parts of a card go.
type laid struct {
	paper, in           paint.Rect
	title, rule, name   float64 // tops
	vehicle, words, end float64 // the complaint is between words and end
	foot                float64 // top of the buttons
}

func lay(l *paint.List, b *ui.Build, o stage.Order, r paint.Rect) laid {
	r.Y += 8
	r.H = min(r.H-8, 420)
	c := laid{paper: r, in: r.Pad(20, 20)}
	c.title = c.in.Y + 4
	c.rule = c.title + min(48, l.ParaHeight(o.Title, paint.Heading, c.in.W)) + 6
	c.name = c.rule + 10
	c.vehicle = c.name + min(36, l.ParaHeight(b.T("board.customer", "name", o.Customer), paint.SmallB, c.in.W)) + 2
	c.words = c.vehicle + min(36, l.ParaHeight(o.Vehicle, paint.Small, c.in.W)) + 10
	c.foot = c.in.Bottom() - 34
	c.end = c.foot - 58
	if o.Tried {
		c.end -= 66
	}
	return c
}

// fits is the largest size, at least 11 units, in which the complaint has room.
func (c laid) fits(l *paint.List, o stage.Order) float64 {
	st := paint.Body
	for st.Size > 11 && l.ParaHeight(o.Complaint, st, c.in.W) > c.end-c.words {
		st.Size--
	}
	return st.Size
}

// card is one order. The complaints of all cards that are seen together are written in one style.
func (s *Scene) card(b *ui.Build, o stage.Order, c laid, st paint.Style, i int) {
	l, r, in := b.Front, c.paper, c.in
	ui.Paper(l, r)
	pin := []paint.Ink{paint.Vermil, paint.Blue, paint.Green}[i%3]
	l.Disc(paint.Pt{X: r.Mid().X + 2, Y: r.Y + 5}, 9, paint.Fade(paint.Black, 0.35))
	l.Disc(paint.Pt{X: r.Mid().X, Y: r.Y + 2}, 9, pin)
	l.Disc(paint.Pt{X: r.Mid().X - 3, Y: r.Y - 1}, 3, paint.Fade(paint.White, 0.6))
	l.Para(o.Title, paint.Heading, paint.Rect{X: in.X, Y: c.title, W: in.W, H: 48}, paint.PageInk)
	l.Box(paint.Rect{X: in.X, Y: c.rule, W: in.W, H: 1.5}, 0, paint.PageRul)
	l.Para(b.T("board.customer", "name", o.Customer), paint.SmallB, paint.Rect{X: in.X, Y: c.name, W: in.W, H: 36}, paint.PageInk)
	l.Para(o.Vehicle, paint.Small, paint.Rect{X: in.X, Y: c.vehicle, W: in.W, H: 36}, paint.PageDim)
	l.Para(o.Complaint, st, paint.Rect{X: in.X, Y: c.words, W: in.W, H: c.end - c.words}, paint.PageInk)
	foot := c.foot
	if o.Tried {
		s.tried(b, o, paint.Rect{X: in.X, Y: foot - 22, W: in.W, H: 56})
		foot -= 66
	}
	state, key := "board.new", "board.take"
	switch {
	case o.Done:
		state, key = "board.done", "board.look"
	case o.Started:
		state, key = "board.started", "board.goon"
	}
	s.level(b, o, paint.Rect{X: in.X, Y: foot - 52, W: in.W, H: 20})
	mark := paint.Rect{X: in.X, Y: foot - 26, W: 14, H: 14}
	switch {
	case o.Done:
		ui.Tick(l, mark, paint.Green)
	case o.Started:
		l.Ring(mark.Mid(), 6, 2, paint.Blue)
		l.Disc(mark.Mid(), 3, paint.Blue)
	default:
		l.Ring(mark.Mid(), 6, 2, paint.PageDim)
	}
	how := paint.Small
	if o.Done || o.Started {
		how = paint.SmallB
	}
	ends(l, b.T(state), b.N("board.minutes", o.Minutes), how, paint.Rect{X: in.X + 20, Y: mark.Y - 3, W: in.W - 20, H: 20})
	b.Read(o.Title + ". " + o.Customer + ". " + o.Complaint + " " + levelWords(b, o) + b.N("board.minutes", o.Minutes) + ". " + b.T(state))
	wide := in.W
	if o.Done || o.Started {
		wide = (in.W - 8) / 2
	}
	name := b.T("board.name", "verb", b.T(key), "title", o.Title)
	b.Control(ui.Control{ID: "board.open." + o.ID, Name: name, Role: ui.Push, Rect: paint.Rect{X: in.X, Y: foot, W: wide, H: 34},
		Do: func() { s.desk.Open(o.ID, false) }}, b.T(key), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
	if o.Done || o.Started {
		again := b.T("board.name", "verb", b.T("board.again"), "title", o.Title)
		b.Control(ui.Control{ID: "board.again." + o.ID, Name: again, Role: ui.Push, Rect: paint.Rect{X: in.X + wide + 8, Y: foot, W: wide, H: 34},
			Do: func() { s.desk.Open(o.ID, true) }}, b.T("board.again"), ui.Look{Paper: true, Align: paint.Centre})
	}
}

// level says how hard an order is, in words and by filled dots.
func (s *Scene) level(b *ui.Build, o stage.Order, r paint.Rect) {
	if o.Level == 0 {
		return
	}
	l := b.Front
	const step = 12
	for i := range stage.Hardest {
		at := paint.Pt{X: r.X + 6 + step*float64(i), Y: r.Mid().Y}
		if i < o.Level {
			l.Disc(at, 4.5, paint.PageInk)
		} else {
			l.Ring(at, 4, 1.2, paint.PageDim)
		}
	}
	off := float64(step*stage.Hardest + 6)
	ends(l, b.T("board.level."+strconv.Itoa(o.Level)), b.N("board.suspects", o.Suspects), paint.Small, paint.Rect{X: r.X + off, Y: r.Y, W: r.W - off, H: r.H})
}

// ends sets one text at each end of a line; the right one gets what the left one leaves.
func ends(l *paint.List, left, right string, st paint.Style, r paint.Rect) {
	w := l.Fonts.Width(left, st)
	l.TextIn(left, st, r, paint.Left, paint.PageInk)
	l.TextIn(right, paint.Small, paint.Rect{X: r.X + w + 10, Y: r.Y, W: r.W - w - 10, H: r.H}, paint.Right, paint.PageDim)
}

// levelWords says the level and the number of causes as sentences, or nothing.
func levelWords(b *ui.Build, o stage.Order) string {
	if o.Level == 0 {
		return ""
	}
	return b.T("board.level", "word", b.T("board.level."+strconv.Itoa(o.Level))) + ", " + b.N("board.suspects", o.Suspects) + ". "
}

// tried is the second try of an order, from the middle of a closed attempt: where it began, and the way to it.
func (s *Scene) tried(b *ui.Build, o stage.Order, r paint.Rect) {
	l := b.Front
	l.Box(paint.Rect{X: r.X, Y: r.Y - 2, W: r.W, H: 1}, 0, paint.PageRul)
	key := "board.retake"
	if o.TriedDone {
		key = "board.retake.done"
	}
	words := b.T(key, "n", strconv.Itoa(o.TriedFrom))
	l.TextIn(words, paint.Small, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 22}, paint.Left, paint.PageInk)
	b.Read(words)
	name := b.T("board.retake.name", "n", strconv.Itoa(o.TriedFrom), "title", o.Title)
	b.Control(ui.Control{ID: "board.retake." + o.ID, Name: name, Role: ui.Push, Rect: paint.Rect{X: r.X, Y: r.Y + 24, W: r.W, H: 30},
		Do: func() { s.desk.Open(o.ID+stage.RetakeSuffix, false) }}, b.T("board.retake.go"), ui.Look{Paper: true, Align: paint.Centre})
}
