// Package notebook is the trainee's notebook: the suspect board, the ledger of what was done, notes and predictions, and
// the form that closes the order.
package notebook

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// Scene is the notebook.
type Scene struct {
	desk *stage.Desk
	tab  string
	page map[string]int
	note string
	form form
	of   int // the turn of the attempt that all this is about
}

// form is the closing form as filled in so far.
type form struct {
	step   string // cause, unit, proof
	causes []string
	unit   string
	line   int
}

// New makes the notebook of a desk.
func New(desk *stage.Desk) *Scene {
	return &Scene{desk: desk, tab: "ledger", page: map[string]int{}, form: form{step: "cause"}}
}

// Enter opens the ledger at its end.
func (s *Scene) Enter() { s.page["ledger"] = 1 << 20 }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// Build shows two facing pages: the suspect board, and one of ledger, notes and the closing form.
func (s *Scene) Build(b *ui.Build) {
	if s.of != s.desk.Turn {
		*s = *New(s.desk)
		s.of = s.desk.Turn
		s.Enter()
	}
	stage.Bar(b, s.desk, stage.Notebook)
	b.Page.Title = b.T("notebook.title")
	room := stage.Below(b.W, b.H).Pad(12, 6)
	left, right := room.CutLeft(room.W*0.42, 4)
	ui.Paper(b.Front, left)
	ui.Paper(b.Front, right)
	for i := range 9 {
		y := left.Y + 30 + float64(i)*(left.H-60)/8
		b.Front.Box(paint.Rect{X: left.Right() - 9, Y: y - 3, W: 22, H: 6}, 3, paint.Black)
		b.Front.Box(paint.Rect{X: left.Right() - 8, Y: y - 2, W: 20, H: 3}, 2, paint.Mist)
	}
	s.board(b, left.Pad(20, 14))
	s.right(b, right.Pad(22, 14))
	b.Escape(func() { s.desk.Go(stage.Bay) })
}

func (s *Scene) at(list string, pages int) int {
	s.page[list] = min(max(s.page[list], 0), max(pages-1, 0))
	return s.page[list]
}

func (s *Scene) turn(list string) func(int) {
	return func(d int) { s.page[list] += d; s.desk.Touch() }
}

func (s *Scene) right(b *ui.Build, r paint.Rect) {
	b.Group("pages")
	tabs, body := r.CutTop(32, 10)
	for i, box := range tabs.Columns(3, 6) {
		t := []string{"ledger", "notes", "close"}[i]
		b.Control(ui.Control{ID: "notebook." + t, Name: b.T("notebook.page", "what", b.T("notebook."+t)), Role: ui.Tab, On: s.tab == t, Rect: box,
			Do: func() { s.tab = t; s.desk.Touch() }}, b.T("notebook."+t), ui.Look{Paper: true, Align: paint.Centre})
	}
	switch s.tab {
	case "ledger":
		s.ledger(b, body)
	case "notes":
		s.notes(b, body)
	default:
		s.closing(b, body)
	}
}

// sheet is a list of paragraphs set page by page.
func (s *Scene) sheet(b *ui.Build, id string, r paint.Rect, entries []entry) {
	l := b.Front
	body, _ := r.CutTop(r.H-36, 0)
	marks := paint.Style{Face: paint.Mono, Size: 12}
	room := 0.0
	for _, e := range entries {
		room = max(room, l.Fonts.Width(e.mark, marks)+12)
	}
	// Filled from the end, so that what was written last stands on a full page.
	var starts []int
	h := 0.0
	for i := len(entries) - 1; i >= 0; i-- {
		need := l.ParaHeight(entries[i].words, paint.Small, body.W-room) + 7
		if h > 0 && h+need > body.H {
			starts, h = append(starts, i+1), 0
		}
		h += need
	}
	if len(entries) > 0 {
		starts = append(starts, 0)
	}
	slices.Reverse(starts)
	page := s.at(id, len(starts))
	if len(starts) == 0 {
		return
	}
	end := len(entries)
	if page+1 < len(starts) {
		end = starts[page+1]
	}
	y := body.Y
	for _, e := range entries[starts[page]:end] {
		l.Text(e.mark, marks, body.X, y+1, paint.PageDim)
		y += l.Para(e.words, paint.Small, paint.Rect{X: body.X + room, Y: y, W: body.W - room, H: body.Bottom() - y + 6}, paint.PageInk)
		l.Box(paint.Rect{X: body.X, Y: y + 2, W: body.W, H: 1}, 0, paint.PageRul)
		y += 7
		b.Read(strings.Join(strings.Fields(e.mark), " ") + " " + e.words)
	}
	b.Pager(id+".page", paint.Pt{X: r.X, Y: r.Bottom() - 28}, page, len(starts), true, r, s.turn(id))
}

// entry is a line of a list: its mark, in letters of one width and as long as the other marks where they are to stand in a column, and its words.
type entry struct{ mark, words string }

func (s *Scene) ledger(b *ui.Build, r paint.Rect) {
	entries := make([]entry, len(s.desk.Ledger))
	number, clock := 0, 0
	for _, f := range s.desk.Ledger {
		number, clock = max(number, len(stage.Num(f.Seq))), max(clock, len(phrase.Clock(f.Start)))
	}
	for i, f := range s.desk.Ledger {
		words := s.desk.Phrase.Line(f)
		if f.Cost > 0 {
			words += " " + b.T("notebook.cost", "money", b.Msg.Decimal(phrase.Money(f.Cost)))
		}
		entries[i] = entry{fmt.Sprintf("%*d  %*s", number, f.Seq, clock, phrase.Clock(f.Start)), words}
	}
	if len(entries) == 0 {
		b.Front.Para(b.T("ledger.empty"), paint.Body, r, paint.PageDim)
		return
	}
	s.sheet(b, "ledger", r, entries)
}

func (s *Scene) notes(b *ui.Build, r paint.Rect) {
	l := b.Front
	y := r.Y
	b.TextField("notebook.note", b.T("notebook.note.name"), s.note, b.T("notebook.note.hint"), paint.Rect{X: r.X, Y: y, W: r.W, H: 34},
		func(v string) { s.note = v; s.desk.Touch() }, s.write)
	y += 42
	two := paint.Rect{X: r.X, Y: y, W: r.W, H: 32}.Columns(2, 8)
	empty := s.note == ""
	b.Control(ui.Control{ID: "notebook.write", Name: b.T("notebook.write"), Role: ui.Push, Rect: two[0], Off: empty, Do: s.write},
		b.T("notebook.write"), ui.Look{Paper: true, Align: paint.Centre})
	b.Control(ui.Control{ID: "notebook.predict", Name: b.T("notebook.predict.name"), Role: ui.Push, Rect: two[1], Off: empty, Do: s.predict},
		b.T("notebook.predict"), ui.Look{Paper: true, Align: paint.Centre})
	y += 40
	y += l.Para(b.T("notebook.notes.hint"), paint.Small, paint.Rect{X: r.X, Y: y, W: r.W, H: 56}, paint.PageDim) + 8
	var entries []entry
	for i, n := range s.desk.View.Notes {
		entries = append(entries, entry{stage.Num(i + 1), n})
	}
	for _, f := range s.desk.Ledger {
		if f.Action.Verb == bench.Predict {
			entries = append(entries, entry{b.T("notebook.predicted"), f.Action.Text})
		}
	}
	s.sheet(b, "notes", paint.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}, entries)
}

func (s *Scene) write() {
	if s.note != "" {
		s.desk.Act(bench.Action{Verb: bench.Note, Text: s.note}, func(bench.Finding) { s.note = "" })
	}
}

// predict writes down a reading that is expected; the suspects that it would split are those still on the board.
func (s *Scene) predict() {
	var open []string
	for _, c := range s.desk.Cat.Suspects {
		if !slices.Contains(s.desk.View.Struck, c.ID) {
			open = append(open, c.ID)
		}
	}
	s.desk.Act(bench.Action{Verb: bench.Predict, Text: s.note, List: open}, func(bench.Finding) { s.note = "" })
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}
