package notebook

import (
	"slices"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// The rows of the suspect board: how high they are at least and, with one line, at most, what a name leaves free above and below it, and
// what box and share take of the width.
const (
	rowLow, rowHigh = 26.0, 30.0
	rowAir          = 6.5
	boxRoom         = 24.0
	shareRoom       = 50.0
	pagerRoom       = 34.0
)

// board lists the suspects, each with the share of cases that it has.
func (s *Scene) board(b *ui.Build, r paint.Rect) {
	b.Group("suspects")
	l := b.Front
	l.TextIn(b.T("notebook.board"), paint.Heading, paint.Rect{X: r.X, Y: r.Y, W: r.W, H: 24}, paint.Left, paint.PageInk)
	l.Para(b.T("notebook.board.hint"), paint.Small, paint.Rect{X: r.X, Y: r.Y + 26, W: r.W - 14, H: 36}, paint.PageDim)
	list := paint.Rect{X: r.X, Y: r.Y + 66, W: r.W - 10, H: r.H - 66}
	set := setBoard(l.Fonts, s.desk.Cat.Suspects, list)
	page := s.at("board", len(set.starts))
	if len(set.starts) > 0 {
		end := len(set.rows)
		if page+1 < len(set.starts) {
			end = set.starts[page+1]
		}
		y := list.Y
		for k := set.starts[page]; k < end; k++ {
			s.suspect(b, s.desk.Cat.Suspects[k], set.rows[k], set.style, paint.Rect{X: list.X, Y: y, W: list.W, H: set.rows[k].h})
			y += set.rows[k].h
		}
	}
	b.Pager("board.page", paint.Pt{X: list.X, Y: r.Bottom() - 28}, page, len(set.starts), true, r, s.turn("board"))
}

// boardSet is how the names are set: all in one size, each in as many lines as it takes.
type boardSet struct {
	style  paint.Style
	rows   []boardRow
	starts []int // first row of each page
}

type boardRow struct {
	lines []string
	h     float64
}

// setBoard sets the names of the suspects in the size that makes the fewest pages, in the largest of these. What one name needs is given
// to all: a list in sizes that change from row to row looks as if the sizes meant something.
func setBoard(f *paint.Fonts, suspects []bench.Suspect, list paint.Rect) boardSet {
	var best boardSet
	for size := paint.Body.Size; size >= paint.Small.Size; size-- {
		set := inSize(f, suspects, list, paint.Style{Face: paint.Regular, Size: size})
		if len(best.rows) == 0 || len(set.starts) < len(best.starts) {
			best = set
		}
	}
	return best
}

func inSize(f *paint.Fonts, suspects []bench.Suspect, list paint.Rect, st paint.Style) boardSet {
	set := boardSet{style: st}
	sum, ones := 0.0, 0
	for _, c := range suspects {
		lines := f.Wrap(c.Name, st, list.W-boxRoom-shareRoom)
		h := max(rowLow, float64(len(lines))*st.LineHeight()+rowAir)
		if len(lines) == 1 {
			ones++
		}
		set.rows, sum = append(set.rows, boardRow{lines, h}), sum+h
	}
	if sum <= list.H && len(set.rows) > 0 {
		// What is left over gives the single lines some room.
		more := min(rowHigh-rowLow, (list.H-sum)/float64(max(ones, 1)))
		for i := range set.rows {
			if len(set.rows[i].lines) == 1 {
				set.rows[i].h = max(set.rows[i].h, rowLow+more)
			}
		}
		set.starts = []int{0}
		return set
	}
	h := 0.0
	for i, r := range set.rows {
		if i == 0 || h+r.h > list.H-pagerRoom {
			set.starts, h = append(set.starts, i), 0
		}
		h += r.h
	}
	return set
}

// suspect is one row: a box to strike it in, its name, its share.
func (s *Scene) suspect(b *ui.Build, c bench.Suspect, set boardRow, st paint.Style, row paint.Rect) {
	l := b.Front
	struck := slices.Contains(s.desk.View.Struck, c.ID)
	ink := paint.PageInk
	if struck {
		ink = paint.PageDim
	}
	box := paint.Rect{X: row.X + 2, Y: row.Mid().Y - 7, W: 14, H: 14}
	l.Frame(box, 2, 1.5, ink)
	if struck {
		ui.Cross(l, box.Inset(3), paint.Vermil)
	}
	h := st.LineHeight()
	y := row.Mid().Y - h*float64(len(set.lines))/2
	for _, words := range set.lines {
		line := paint.Rect{X: row.X + boxRoom, Y: y, W: row.W - boxRoom - shareRoom, H: h}
		l.TextIn(words, st, line, paint.Left, ink)
		if struck {
			l.Box(paint.Rect{X: line.X - 2, Y: line.Mid().Y, W: l.Fonts.Width(words, st) + 4, H: 1.5}, 0, paint.Vermil)
		}
		y += h
	}
	l.TextIn(b.T("info.share", "n", stage.Num(c.Share)), paint.Style{Face: paint.Mono, Size: 13}, paint.Rect{X: row.Right() - 46, Y: row.Y, W: 44, H: row.H}, paint.Right, paint.PageDim)
	l.Box(paint.Rect{X: row.X, Y: row.Bottom() - 0.5, W: row.W, H: 1}, 0, paint.PageRul)
	verb, name := bench.Strike, b.T("notebook.strike", "name", c.Name, "n", stage.Num(c.Share))
	if struck {
		verb, name = bench.Unstrike, b.T("notebook.unstrike", "name", c.Name)
	}
	b.Add(ui.Control{ID: "suspect." + c.ID, Name: name, Role: ui.Toggle, On: struck, Rect: row.Pad(0, 1),
		Do: func() { s.desk.Act(bench.Action{Verb: verb, On: c.ID}) }})
}
