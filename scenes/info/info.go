// Package info is the service information: the air and vacuum diagram, the wiring diagram, and the spec sheet.
package info

import (
	"coldbay/scenarios/drawing"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the service information.
type Scene struct {
	desk  *stage.Desk
	probe Prober
	tab   string
	page  map[string]int
}

// New makes the service information of a desk; probe holds the leads that can be set on terminals from the wiring diagram.
func New(desk *stage.Desk, probe Prober) *Scene {
	return &Scene{desk: desk, probe: probe, tab: "air", page: map[string]int{}}
}

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// Build shows one sheet; tabs along its top lead to the others.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Info)
	b.Page.Title = b.T("info.title", "tab", b.T("info."+s.tab))
	room := stage.Below(b.W, b.H).Pad(12, 6)
	tabs, paper := room.CutTop(34, 0)
	b.Group("sheets")
	for i, t := range []string{"air", "wiring", "spec", "causes"} {
		b.Control(ui.Control{ID: "info." + t, Name: b.T("info." + t), Role: ui.Tab, On: s.tab == t,
			Rect: paint.Rect{X: tabs.X + float64(i)*206, Y: tabs.Y, W: 200, H: 30}, Do: func() { s.tab = t; s.desk.Touch() }},
			b.T("info."+t), ui.Look{Align: paint.Centre})
	}
	ui.Paper(b.Front, paper)
	in := paper.Pad(22, 16)
	b.Front.TextIn(b.T("info."+s.tab), paint.Title, paint.Rect{X: in.X, Y: in.Y, W: choose(s.tab == "wiring", 160, in.W*0.6), H: 30}, paint.Left, paint.PageInk)
	b.Front.TextIn(s.desk.Cat.Car, paint.Small, paint.Rect{X: in.X + in.W*0.8, Y: in.Y, W: in.W * 0.2, H: 30}, paint.Right, paint.PageDim)
	_, body := in.CutTop(38, 0)
	switch s.tab {
	case "spec":
		s.spec(b, body)
	case "causes":
		s.causes(b, body)
	default:
		sheet, ok := s.desk.Draw.Sheet(s.tab)
		if !ok {
			b.Front.Para(b.T("info.missing"), paint.Body, body, paint.PageInk)
			return
		}
		note, field := body.CutBottom(40, 6)
		words := b.T("info." + s.tab + ".note")
		if own := "info." + s.tab + "." + s.desk.Draw.Car; b.Msg.Has(own) {
			words = b.T(own)
		}
		if s.desk.Draw.Plain {
			words = b.T("info." + s.tab + ".plain")
		}
		held := false
		if len(sheet.Terminals) > 0 {
			held = s.leads(b, paint.Rect{X: in.X + 168, Y: in.Y + 1, W: in.W*0.8 - 180, H: 28})
		}
		if held {
			words = s.probe.ProbeHint(b)
		}
		b.Front.Para(words, paint.Small, note, paint.PageDim)
		b.Read(words)
		s.diagram(b, sheet, field, held)
	}
}

func (s *Scene) spec(b *ui.Build, r paint.Rect) {
	l := b.Front
	height := func(row [2]string) float64 { return max(30, l.ParaHeight(row[1], paint.Body, r.W-270)+11) }
	var starts []int
	y := 0.0
	for i, row := range s.desk.Cat.Spec {
		h := height(row)
		if i == 0 || y+h > r.H-44 {
			starts, y = append(starts, i), 0
		}
		y += h
	}
	if len(starts) == 0 {
		return
	}
	page := s.turned(b, "spec", r, len(starts))
	end := len(s.desk.Cat.Spec)
	if page+1 < len(starts) {
		end = starts[page+1]
	}
	y = r.Y + 4
	for i, row := range s.desk.Cat.Spec[starts[page]:end] {
		h := height(row)
		if i%2 == 0 {
			l.Box(paint.Rect{X: r.X, Y: y, W: r.W, H: h}, 0, paint.Fade(paint.PageLo, 0.8))
		}
		l.TextIn(row[0], paint.Strong, paint.Rect{X: r.X + 10, Y: y, W: 235, H: 30}, paint.Left, paint.PageInk)
		l.Para(row[1], paint.Body, paint.Rect{X: r.X + 260, Y: y + 6, W: r.W - 270, H: h}, paint.PageInk)
		b.Read(row[0] + ": " + row[1])
		y += h
	}
}

// turned sets the pager of a sheet into the lower right corner and gives the page that shows.
func (s *Scene) turned(b *ui.Build, sheet string, r paint.Rect, pages int) int {
	s.page[sheet] = min(max(s.page[sheet], 0), max(pages-1, 0))
	b.Group("pages")
	b.Pager("info."+sheet+".page", paint.Pt{X: r.Right() - 150, Y: r.Bottom() - 28}, s.page[sheet], pages, true, r,
		func(d int) { s.page[sheet] += d; s.desk.Touch() })
	return s.page[sheet]
}

func (s *Scene) causes(b *ui.Build, r paint.Rect) {
	l := b.Front
	l.Para(b.T("info.causes.note"), paint.Small, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 36}, paint.PageDim)
	list := s.desk.Cat.Suspects
	cols := r.Columns(2, 30)
	name := cols[0].W - 130
	least := paint.Style{Face: paint.Regular, Size: 11}
	h := 27.0
	for _, c := range list {
		if l.Fonts.Width(c.Name, least) > name {
			h = 35 // two lines
		}
	}
	rows := max(1, int((r.H-42-36)/h))
	page := s.turned(b, "causes", r, (len(list)+2*rows-1)/(2*rows))
	list = list[min(2*rows*page, len(list)):min(2*rows*(page+1), len(list))]
	for i, c := range list {
		col := cols[i/rows]
		row := paint.Rect{X: col.X, Y: r.Y + 42 + float64(i%rows)*h, W: col.W, H: h}
		l.Box(paint.Rect{X: row.X, Y: row.Bottom() - 1, W: row.W, H: 1}, 0, paint.PageRul)
		if l.Fonts.Width(c.Name, least) > name {
			l.Para(c.Name, paint.Label, paint.Rect{X: row.X, Y: row.Y + 1, W: name, H: h}, paint.PageInk)
		} else {
			l.TextIn(c.Name, paint.Body, paint.Rect{X: row.X, Y: row.Y, W: name, H: h}, paint.Left, paint.PageInk)
		}
		l.Box(paint.Rect{X: row.Right() - 120, Y: row.Y + h/2 - 5, W: min(74, float64(c.Share)*5), H: 10}, 2, paint.Blue)
		share := b.T("info.share", "n", stage.Num(c.Share))
		l.TextIn(share, paint.Digits, paint.Rect{X: row.Right() - 44, Y: row.Y, W: 44, H: h}, paint.Right, paint.PageInk)
		b.Read(c.Name + ", " + share)
	}
}

func (s *Scene) diagram(b *ui.Build, sheet *drawing.Sheet, r paint.Rect, held bool) {
	const w, h = 1000, 500
	// The field ends where the lowest symbol does; the rest would be blank paper.
	low := 0.0
	for _, it := range sheet.Items {
		low = max(low, it.At[1]+max(50, reach(it.Kind)+26))
	}
	low = min(low, h+40)
	box := r.Fit(w, low)
	k := box.W / w
	at := func(p drawing.Point) paint.Pt { return paint.Pt{X: box.X + p[0]*k, Y: box.Y + p[1]*k} }
	l := b.Front
	for _, t := range sheet.Lines {
		pts := make([]paint.Pt, len(t.Path))
		for i, p := range t.Path {
			pts[i] = at(p)
		}
		ink, width := lineLook(t.Ink)
		l.Line(pts, width, ink)
	}
	for _, it := range sheet.Items {
		c := at(it.At)
		l.Shift, l.Zoom = c, k
		symbol(l, it.Kind)
		l.Shift, l.Zoom = paint.Pt{}, 0
		lw := l.Fonts.Width(it.Label, paint.SmallB)
		across, down := reachAcross(it.Kind)*k, reachDown(it.Kind)*k
		p := paint.Rect{X: c.X - lw/2, Y: c.Y + down + 1, W: lw, H: 17}
		switch it.Side {
		case "n":
			p.Y = c.Y - down - 18
		case "e":
			p.X, p.Y = c.X+across+6, c.Y-8
		case "w":
			p.X, p.Y = c.X-across-6-lw, c.Y-8
		}
		p.X = min(max(p.X, r.X), r.Right()-lw)
		l.Text(it.Label, paint.SmallB, p.X, p.Y, paint.PageInk)
		b.Read(it.Label)
	}
	for _, t := range sheet.Lines {
		if t.Word != "" {
			p := at(t.At)
			l.Text(t.Word, paint.Label, p.X, p.Y, paint.PageDim)
			b.Read(t.Word)
		}
	}
	s.terminals(b, sheet.Terminals, at, held)
}

func choose(first bool, a, b float64) float64 {
	if first {
		return a
	}
	return b
}

func lineLook(ink string) (paint.Ink, float64) {
	switch ink {
	case "vacuum":
		return paint.Blue, 4
	case "air":
		return paint.RGB(0x6f8f96), 10
	case "plus":
		return paint.Vermil, 3
	case "minus":
		return paint.RGB(0x3b2f2a), 3
	case "signal":
		return paint.Green, 2
	}
	return paint.PageInk, 2
}
