// Package debrief shows what the grader found: marks, the timeline against the best plan, the suspect board against the
// evidence, the bill and the hazards, the car that it might have been, predictions, and what to practise next.
package debrief

import (
	"fmt"

	"coldbay/scenes/bay"
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the debrief.
type Scene struct {
	desk  *stage.Desk
	tab   string
	pages map[string]int
	doc   *page.Document // the one that shows
	other string         // the suspect whose car stands beside the true one

	past   *bay.Past
	moment int // of the replay
}

// New makes the debrief of a desk.
func New(desk *stage.Desk) *Scene {
	return &Scene{desk: desk, tab: tabs[0], pages: map[string]int{}, past: bay.NewPast(desk)}
}

// tabs are the sheets of the debrief, from left to right.
var tabs = []string{"marks", "timeline", "replay", "thought", "predictions", "practise", "board", "bill"}

// Enter begins at the marks.
func (s *Scene) Enter() { s.tab = tabs[0] }

// Live moves what moved at the moment of the replay.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.tab == "replay" && s.desk.Past != nil {
		s.past.Live(m, seconds)
	}
}

func minutes(b *ui.Build, v float64) string { return b.Msg.Decimal(fmt.Sprintf("%.1f", v)) }

// Build shows one page of the debrief under its heading.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Debrief)
	d := s.desk.Doc
	b.Page.Title = b.T("debrief.title")
	room := stage.Below(b.W, b.H).Pad(12, 6)
	heads, paper := room.CutTop(34, 0)
	b.Group("sheets")
	for i, r := range heads.Columns(len(tabs), 5) {
		t := tabs[i]
		r.H = 30
		b.Control(ui.Control{ID: "debrief." + t, Name: b.T("debrief." + t), Role: ui.Tab, On: s.tab == t,
			Rect: r, Do: func() { s.show(t) }}, b.T("debrief."+t), ui.Look{Style: paint.SmallB, Align: paint.Centre})
	}
	if d != s.doc {
		s.doc, s.other, s.moment = d, "", 0
		clear(s.pages)
	}
	if d != nil && s.tab == "replay" {
		s.replay(b, paper, d)
		return
	}
	ui.Paper(b.Front, paper)
	in := paper.Pad(24, 16)
	if d == nil {
		b.Front.Para(b.T("debrief.none"), paint.Body, in, paint.PageInk)
		return
	}
	if d.Retake != "" {
		note, rest := in.CutTop(b.Front.ParaHeight(d.Retake, paint.SmallB, in.W-28)+6, 6)
		ui.Warn(b.Front, paint.Rect{X: note.X, Y: note.Y + 1, W: 18, H: 16}, paint.Orange, paint.Black)
		b.Front.Para(d.Retake, paint.SmallB, paint.Rect{X: note.X + 28, Y: note.Y, W: note.W - 28, H: note.H}, paint.PageInk)
		b.Read(d.Retake)
		in = rest
	}
	switch s.tab {
	case "marks":
		s.marks(b, in, d)
	case "timeline":
		s.timeline(b, in, d)
	case "thought":
		s.thought(b, in, d)
	case "predictions":
		s.predictions(b, in, d)
	case "practise":
		s.practise(b, in, d)
	case "board":
		s.board(b, in, d)
	default:
		s.bill(b, in, d)
	}
}

// show opens a sheet; the replay is made when it is asked for first.
func (s *Scene) show(tab string) {
	if tab == "replay" && s.desk.Doc != nil {
		s.desk.LoadPast(func() {
			s.tab = tab
			s.to(s.moment)
		})
		return
	}
	s.tab = tab
	s.desk.Touch()
}

func (s *Scene) turn(id string) func(int) {
	return func(d int) { s.pages[id] += d; s.desk.Touch() }
}

// paged sets blocks of different heights page by page; set paints block i at y.
func (s *Scene) paged(b *ui.Build, id string, r paint.Rect, heights []float64, set func(i int, y float64)) {
	room := r.H - 34
	var starts []int
	h := 0.0
	for i, need := range heights {
		if i == 0 || h+need > room {
			starts, h = append(starts, i), 0
		}
		h += need
	}
	if len(starts) == 0 {
		return
	}
	p := min(max(s.pages[id], 0), len(starts)-1)
	s.pages[id] = p
	end := len(heights)
	if p+1 < len(starts) {
		end = starts[p+1]
	}
	y := r.Y
	for i := starts[p]; i < end; i++ {
		set(i, y)
		y += heights[i]
	}
	b.Group("pages")
	b.Pager("debrief."+id+".page", paint.Pt{X: r.Right() - 150, Y: r.Bottom() - 28}, p, len(starts), true, r, s.turn(id))
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}
