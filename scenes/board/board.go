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
	for i, r := range cards.Columns(per, 18) {
		if n := s.page*per + i; n < len(s.desk.List) {
			s.card(b, s.desk.List[n], r, i)
		}
	}
	b.Pager("board.page", paint.Pt{X: foot.Right() - 150, Y: foot.Y + 6}, s.page, pages, false, room, func(d int) { s.page += d; s.desk.Touch() })
}

func (s *Scene) card(b *ui.Build, o stage.Order, r paint.Rect, i int) {
	l := b.Front
	r.Y += 8
	r.H = min(r.H-8, 420)
	ui.Paper(l, r)
	pin := []paint.Ink{paint.Vermil, paint.Blue, paint.Green}[i%3]
	l.Disc(paint.Pt{X: r.Mid().X + 2, Y: r.Y + 5}, 9, paint.Fade(paint.Black, 0.35))
	l.Disc(paint.Pt{X: r.Mid().X, Y: r.Y + 2}, 9, pin)
	l.Disc(paint.Pt{X: r.Mid().X - 3, Y: r.Y - 1}, 3, paint.Fade(paint.White, 0.6))
	in := r.Pad(20, 20)
	y := in.Y + 4
	y += l.Para(o.Title, paint.Heading, paint.Rect{X: in.X, Y: y, W: in.W, H: 48}, paint.PageInk) + 6
	l.Box(paint.Rect{X: in.X, Y: y, W: in.W, H: 1.5}, 0, paint.PageRul)
	y += 10
	y += l.Para(b.T("board.customer", "name", o.Customer), paint.SmallB, paint.Rect{X: in.X, Y: y, W: in.W, H: 36}, paint.PageInk) + 2
	y += l.Para(o.Vehicle, paint.Small, paint.Rect{X: in.X, Y: y, W: in.W, H: 36}, paint.PageDim) + 10
	foot := in.Bottom() - 34
	if o.Tried {
		s.tried(b, o, paint.Rect{X: in.X, Y: foot - 22, W: in.W, H: 56})
		foot -= 66
	}
	st, room := paint.Body, foot-58-y
	for st.Size > 11 && l.ParaHeight(o.Complaint, st, in.W) > room {
		st.Size--
	}
	l.Para(o.Complaint, st, paint.Rect{X: in.X, Y: y, W: in.W, H: room}, paint.PageInk)
	l.TextIn(b.N("board.minutes", o.Minutes), paint.Small, paint.Rect{X: in.X, Y: foot - 54, W: in.W, H: 18}, paint.Left, paint.PageDim)
	state, key := "board.new", "board.take"
	switch {
	case o.Done:
		state, key = "board.done", "board.look"
	case o.Started:
		state, key = "board.started", "board.goon"
	}
	mark := paint.Rect{X: in.X, Y: foot - 28, W: 14, H: 14}
	switch {
	case o.Done:
		ui.Tick(l, mark, paint.Green)
	case o.Started:
		l.Ring(mark.Mid(), 6, 2, paint.Blue)
		l.Disc(mark.Mid(), 3, paint.Blue)
	default:
		l.Ring(mark.Mid(), 6, 2, paint.PageDim)
	}
	l.TextIn(b.T(state), paint.Small, paint.Rect{X: in.X + 20, Y: mark.Y - 3, W: in.W - 20, H: 20}, paint.Left, paint.PageInk)
	b.Read(o.Title + ". " + o.Customer + ". " + o.Complaint + " " + b.T(state))
	wide := in.W
	if o.Done || o.Started {
		wide = (in.W - 8) / 2
		b.Button("board.again."+o.ID, b.T("board.again"), paint.Rect{X: in.X + wide + 8, Y: foot, W: wide, H: 34}, ui.Look{Paper: true, Align: paint.Centre},
			func() { s.desk.Open(o.ID, true) })
	}
	name := b.T("board.name", "verb", b.T(key), "title", o.Title)
	b.Control(ui.Control{ID: "board.open." + o.ID, Name: name, Role: ui.Push, Rect: paint.Rect{X: in.X, Y: foot, W: wide, H: 34},
		Do: func() { s.desk.Open(o.ID, false) }}, b.T(key), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
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
