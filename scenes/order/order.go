// Package order is the work order: what the customer says, what happened before, and the cautions, which must be
// confirmed before the bay opens.
package order

import (
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the work order.
type Scene struct{ desk *stage.Desk }

// New makes the work order of a desk.
func New(desk *stage.Desk) *Scene { return &Scene{desk} }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// Build shows the order as a form at the left and the cautions at the right.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Sheet)
	o := s.desk.Cat.Order
	b.Page.Title = b.T("order.title", "title", o.Title)
	room := stage.Below(b.W, b.H).Pad(12, 8)
	caution, form := room.CutRight(room.W*0.42, 20)
	l := b.Front
	ui.Paper(l, form)
	in := form.Pad(26, 22)
	l.Box(paint.Rect{X: form.X, Y: form.Y, W: 8, H: form.H}, 2, paint.Blue)
	l.TextIn(b.T("order.head"), paint.SmallB, paint.Rect{X: in.X, Y: in.Y, W: in.W * 0.6, H: 18}, paint.Left, paint.PageDim)
	l.TextIn(b.N("order.minutes", o.Minutes), paint.Small, paint.Rect{X: in.X + in.W*0.6, Y: in.Y, W: in.W * 0.4, H: 18}, paint.Right, paint.PageDim)
	y := in.Y + 24
	y += l.Para(o.Title, paint.Title, paint.Rect{X: in.X, Y: y, W: in.W, H: 64}, paint.PageInk) + 6
	for _, part := range [][2]string{{b.T("order.customer"), o.Customer}, {b.T("order.vehicle"), o.Vehicle}, {b.T("order.complaint"), o.Complaint}, {b.T("order.history"), o.History}} {
		l.Box(paint.Rect{X: in.X, Y: y, W: in.W, H: 1}, 0, paint.PageRul)
		y += 8
		l.Text(part[0], paint.SmallB, in.X, y, paint.Navy)
		y += 20
		y += l.Para(part[1], paint.Body, paint.Rect{X: in.X, Y: y, W: in.W, H: in.Bottom() - y}, paint.PageInk) + 9
		b.Read(part[0] + ": " + part[1])
	}
	s.cautions(b, caution)
}

func (s *Scene) cautions(b *ui.Build, r paint.Rect) {
	l := b.Front
	ui.Paper(l, r)
	l.Box(paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 44}, 3, paint.Orange)
	ui.Warn(l, paint.Rect{X: r.X + 16, Y: r.Y + 8, W: 30, H: 27}, paint.Black, paint.Orange)
	l.TextIn(b.T("order.cautions"), paint.Heading, paint.Rect{X: r.X + 58, Y: r.Y, W: r.W - 70, H: 44}, paint.Left, paint.Black)
	b.Group("cautions")
	in := paint.Rect{X: r.X + 20, Y: r.Y + 56, W: r.W - 40, H: r.H - 56 - 100}
	st := paint.Body
	if need := s.height(b, st, in.W-24); need > in.H {
		st = paint.Small
	}
	y := in.Y
	for _, c := range s.desk.Cat.Cautions {
		l.Fill([]paint.Pt{{X: in.X, Y: y + 3}, {X: in.X + 11, Y: y + 9}, {X: in.X, Y: y + 15}}, paint.Vermil)
		y += l.Para(c, st, paint.Rect{X: in.X + 22, Y: y, W: in.W - 22, H: in.Bottom() - y + 4}, paint.PageInk) + 7
		b.Read(c)
	}
	b.Check("order.read", b.T("order.read"), paint.Rect{X: in.X, Y: r.Bottom() - 92, W: in.W, H: 32}, s.desk.Read, func() { s.desk.Read = !s.desk.Read; s.desk.Touch() })
	c := ui.Control{ID: "order.go", Name: b.T("order.go"), Role: ui.Push, Rect: paint.Rect{X: in.X, Y: r.Bottom() - 52, W: in.W, H: 38}, Off: !s.desk.Read,
		Do: func() { s.desk.Go(stage.Bay) }}
	if c.Off {
		c.Name = b.T("order.go.unread")
	}
	b.Control(c, b.T("order.go"), ui.Look{Paper: true, Primary: true, Align: paint.Centre, Style: paint.Strong})
}

func (s *Scene) height(b *ui.Build, st paint.Style, w float64) float64 {
	h := 0.0
	for _, c := range s.desk.Cat.Cautions {
		h += b.Front.ParaHeight(c, st, w) + 7
	}
	return h
}
