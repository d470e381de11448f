package lesson

import (
	"strconv"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Shelf is the list of lessons.
type Shelf struct {
	desk  *stage.Desk
	scene *Scene
	page  int
	stand map[string]lessons.Standing
}

// Enter reads how far each lesson has come.
func (s *Shelf) Enter() {
	s.stand = map[string]lessons.Standing{}
	shelf, err := s.scene.shelf()
	if err != nil {
		return
	}
	for _, l := range shelf.Lessons {
		r, err := load(s.scene.Keep, l)
		if err != nil {
			s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
		}
		s.stand[l.ID] = l.Stand(r.marks)
	}
}

// Live moves nothing.
func (s *Shelf) Live(*paint.Mesh, float64) {}

// Build lists the lessons, one a row.
func (s *Shelf) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Lessons)
	b.Page.Title = b.T("lesson.shelf")
	room := stage.Below(b.W, b.H).Pad(20, 10)
	l := b.Front
	head, body := room.CutTop(64, 6)
	free, title := head.CutRight(230, 20)
	l.TextIn(b.T("lesson.shelf"), paint.Title, paint.Rect{X: title.X, Y: title.Y, W: title.W, H: 30}, paint.Left, paint.Chalk)
	l.Para(b.T("lesson.hint"), paint.Small, paint.Rect{X: title.X, Y: title.Y + 31, W: title.W, H: 36}, paint.Mist)
	b.Read(b.T("lesson.hint"))
	b.Group(b.T("lesson.shelf"))
	b.Button("lesson.free", b.T("lesson.free"), paint.Rect{X: free.X, Y: free.Y + 4, W: free.W, H: 36}, ui.Look{Align: paint.Centre}, func() { s.desk.Go(stage.Cutaway) })
	b.Escape(func() { s.desk.Go(stage.Board) })
	shelf, err := s.scene.shelf()
	if err != nil {
		words := b.T("work.error", "what", err.Error())
		l.Para(words, paint.Body, body, paint.Chalk)
		b.Read(words)
		return
	}
	const least, most, pitch = 66.0, 88.0, 8.0
	n := len(shelf.Lessons)
	rows, space := n, body.H
	if float64(n)*(least+pitch)-pitch > space {
		space -= 38 // for turning pages
		rows = max(1, int((space+pitch)/(least+pitch)))
	}
	high := min(most, (space+pitch)/float64(rows)-pitch)
	pages := (len(shelf.Lessons) + rows - 1) / rows
	s.page = min(max(s.page, 0), pages-1)
	for i := range rows {
		if n := s.page*rows + i; n < len(shelf.Lessons) {
			s.row(b, shelf.Lessons[n], paint.Rect{X: body.X, Y: body.Y + float64(i)*(high+pitch), W: body.W, H: high})
		}
	}
	b.Pager("lesson.page", paint.Pt{X: body.Right() - 150, Y: body.Bottom() - 30}, s.page, pages, false, body, func(d int) { s.page += d; s.desk.Touch() })
}

func (s *Shelf) row(b *ui.Build, x *lessons.Lesson, r paint.Rect) {
	l := b.Front
	x = x.In(b.Msg)
	ui.Paper(l, r)
	in := r.Pad(16, 6)
	st := s.stand[x.ID]
	number, in := in.CutLeft(44, 8)
	l.Disc(number.Mid(), 21, paint.PageInk)
	l.TextIn(strconv.Itoa(x.Number), paint.Title, number, paint.Centre, paint.Page)
	button, in := in.CutRight(140, 18)
	state, in := in.CutRight(190, 12)
	l.TextIn(x.Title, paint.Heading, paint.Rect{X: in.X, Y: in.Y, W: in.W, H: 24}, paint.Left, paint.PageInk)
	l.Para(x.Aim, paint.Small, paint.Rect{X: in.X, Y: in.Y + 23, W: in.W, H: 36}, paint.PageDim)
	about := s.carName(b, x.Car)
	l.TextIn(about, paint.Small, paint.Rect{X: state.X, Y: state.Y, W: state.W, H: 18}, paint.Left, paint.PageInk)
	l.TextIn(b.N("lesson.minutes", x.Minutes), paint.Small, paint.Rect{X: state.X, Y: state.Y + 18, W: state.W, H: 18}, paint.Left, paint.PageDim)
	words, key := b.T("lesson.new"), "lesson.begin"
	sign := paint.Rect{X: state.X, Y: state.Y + 38, W: 14, H: 14}
	switch {
	case st.AllSeen && st.Right == st.Asked:
		words, key = b.T("lesson.done", "n", strconv.Itoa(st.Right), "of", strconv.Itoa(st.Asked)), "lesson.again"
		ui.Tick(l, sign, paint.Green)
	case st.Begun:
		words, key = b.T("lesson.so.far", "n", strconv.Itoa(st.Right), "of", strconv.Itoa(st.Asked)), "lesson.goon"
		l.Ring(sign.Mid(), 6, 2, paint.Blue)
		l.Disc(sign.Mid(), 3, paint.Blue)
	default:
		l.Ring(sign.Mid(), 6, 2, paint.PageDim)
	}
	l.TextIn(words, paint.Small, paint.Rect{X: sign.Right() + 8, Y: sign.Y - 4, W: state.Right() - sign.Right() - 8, H: 22}, paint.Left, paint.PageInk)
	b.Read(x.Title + ". " + x.Aim + " " + about + ", " + words)
	b.Control(ui.Control{ID: "lesson.open." + x.ID, Name: b.T("lesson.name", "verb", b.T(key), "title", x.Title), Role: ui.Push,
		Rect: paint.Rect{X: button.X, Y: button.Mid().Y - 18, W: button.W, H: 36}, Do: func() { s.scene.Open(x.ID) }}, b.T(key), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
}

// carName is what the car of a lesson is called.
func (s *Shelf) carName(b *ui.Build, id string) string {
	name := id
	if shelf, err := s.scene.shelf(); err == nil {
		if sheet, ok := shelf.Sheet(id); ok {
			name = sheet.CarOf().Name
		}
	}
	return b.Msg.Name(id, "car", id, name)
}
