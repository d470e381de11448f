package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
)

// suspectChart is the drawing of suspects left against bench minutes, in units of its own view box.
type suspectChart struct {
	W, H                     float64
	Left, Top, Right, Bottom float64 // the plot
	XTicks, YTicks           []tick
	Path                     string
	Points                   []point
	Marks                    []mark
	Desc                     string
}

// tick is a label of an axis.
type tick struct {
	At    float64
	Label string
}

// point is the end of a step. Cost says that the step cost minutes that counted.
type point struct {
	X, Y  float64
	Cost  bool
	Seq   int
	Label *label // nil where it would have covered another
	Says  string
}

// Diamond is the outline of the sign of a step that cost.
func (p point) Diamond() string {
	const r = 6.5
	return fmt.Sprintf("%s,%s %s,%s %s,%s %s,%s", px(p.X), px(p.Y-r), px(p.X+r), px(p.Y), px(p.X), px(p.Y+r), px(p.X-r), px(p.Y))
}

// mark is a reference in minutes, an upright line with its name.
type mark struct {
	X, Y  float64
	Dash  string
	Label label
}

// label is a text with its box.
type label struct {
	X, Y float64 // baseline, left end
	Text string
	Box  box
}

// box is a rectangle on a drawing.
type box struct{ X, Y, W, H float64 }

func (b box) overlaps(o box) bool {
	return b.X < o.X+o.W && o.X < b.X+b.W && b.Y < o.Y+o.H && o.Y < b.Y+b.H
}

func (b box) within(o box) bool {
	return b.X >= o.X && b.Y >= o.Y && b.X+b.W <= o.X+o.W && b.Y+b.H <= o.Y+o.H
}

// reference is a number of minutes with what is written beside it and the dashes of its line.
type reference struct {
	says, dash string
	ref        score.Reference
}

// chartText is the size of a chart's text.
const chartText = 13

func drawSuspects(r *ruler, msg *messages.Catalogue, d *score.Debrief) suspectChart {
	c := suspectChart{W: 720, H: 284, Left: 52, Top: 70, Right: 704, Bottom: 238}
	refs := []reference{{msg.T("report.chart.par", "n", minutes(msg, d.Par.Minutes)), "9 4", d.Par},
		{msg.T("report.chart.faultpar", "n", minutes(msg, d.FaultPar.Minutes)), "2 3", d.FaultPar},
		{msg.T("report.chart.proofline", "n", minutes(msg, d.ProofLine.Minutes)), "12 3 2 3", d.ProofLine}}
	minutesMost, suspectsMost := d.Seconds/60, len(d.Board)
	for _, s := range d.Steps {
		minutesMost, suspectsMost = max(minutesMost, s.Minute), max(suspectsMost, len(s.Left))
	}
	for _, ref := range refs {
		minutesMost = max(minutesMost, ref.ref.Minutes)
	}
	minutesMost = max(minutesMost, 1)
	// The plot ends early enough for the names of references near its end to be written right of their lines.
	for _, ref := range refs {
		if part := ref.ref.Minutes / (minutesMost * 1.03); part > 0 {
			c.Right = min(c.Right, c.Left+(c.W-6-r.width(ref.says, chartText, false)-c.Left)/part)
		}
	}
	x := func(m float64) float64 { return c.Left + (c.Right-c.Left)*m/(minutesMost*1.03) }
	y := func(n int) float64 {
		return c.Bottom - (c.Bottom-c.Top)*float64(n)/(float64(max(suspectsMost, 1))*1.06)
	}
	for _, v := range nice(minutesMost, 9) {
		c.XTicks = append(c.XTicks, tick{x(v), short(msg, v)})
	}
	for _, v := range nice(float64(suspectsMost), 6) {
		if v == math.Trunc(v) {
			c.YTicks = append(c.YTicks, tick{y(int(v)), short(msg, v)})
		}
	}
	taken := []box{}
	// The later a reference, the lower its name, so that no upright runs through a name that starts left of it.
	slices.SortStableFunc(refs, func(a, b reference) int { return cmp.Compare(a.ref.Minutes, b.ref.Minutes) })
	for i, ref := range refs {
		if ref.ref.Minutes <= 0 {
			continue
		}
		m := mark{X: x(ref.ref.Minutes), Y: 16 + 18*float64(i), Dash: ref.dash}
		m.Label = place(r, ref.says, m.X+5, m.Y+4)
		taken = append(taken, m.Label.Box, box{m.X - 2, m.Y, 4, c.Bottom - m.Y})
		c.Marks = append(c.Marks, m)
	}
	now := len(d.Board)
	var path strings.Builder
	fmt.Fprintf(&path, "M%s %s", px(x(0)), px(y(now)))
	for _, s := range d.Steps {
		now = len(s.Left)
		fmt.Fprintf(&path, "H%sV%s", px(x(s.Minute)), px(y(now)))
		c.Points = append(c.Points, point{X: x(s.Minute), Y: y(now), Cost: s.Counts(), Seq: s.Seq,
			Says: msg.T("report.chart.point", "line", strconv.Itoa(s.Seq), "left", strconv.Itoa(now), "n", minutes(msg, s.Minute))})
	}
	if end := x(d.Seconds / 60); len(d.Steps) == 0 || end > c.Points[len(c.Points)-1].X {
		fmt.Fprintf(&path, "H%s", px(end))
	}
	c.Path = path.String()
	c.number(r, taken)
	c.Desc = describe(msg, d)
	return c
}

// place makes a label at its baseline's left end.
func place(r *ruler, text string, x, y float64) label {
	return label{X: x, Y: y, Text: text, Box: box{X: x, Y: y - chartText*0.8, W: r.width(text, chartText, false), H: chartText}}
}

// number writes line numbers beside the points, where they cover nothing.
func (c *suspectChart) number(r *ruler, taken []box) {
	for _, p := range c.Points {
		taken = append(taken, box{p.X - 6.5, p.Y - 6.5, 13, 13})
	}
	room := box{c.Left + 1, c.Top - 12, c.W - c.Left, c.Bottom - c.Top + 10}
	for i := range c.Points {
		p := &c.Points[i]
		text := fmt.Sprint(p.Seq)
		w := r.width(text, chartText, false)
		for _, at := range [][2]float64{{p.X + 8, p.Y - 6}, {p.X + 8, p.Y + 15}, {p.X - 8 - w, p.Y + 15}, {p.X - 8 - w, p.Y - 6}} {
			l := place(r, text, at[0], at[1])
			free := l.Box.within(room)
			for _, b := range taken {
				free = free && !l.Box.overlaps(b)
			}
			if free {
				p.Label = &l
				taken = append(taken, l.Box)
				break
			}
		}
	}
}

// describe is the chart in words, for those who don't see it.
func describe(msg *messages.Catalogue, d *score.Debrief) string {
	if len(d.Steps) == 0 {
		return msg.T("report.costs.none")
	}
	var parts []string
	for _, s := range d.Steps {
		parts = append(parts, msg.T("report.chart.desc.point", "n", minutes(msg, s.Minute), "line", strconv.Itoa(s.Seq), "left", strconv.Itoa(len(s.Left))))
	}
	return msg.T("report.chart.desc", "list", strings.Join(parts, ", "))
}

// nice are round values from zero up to most, about n of them.
func nice(most float64, n int) []float64 {
	step := 1.0
	for k := 0; step*float64(n) < most; k++ {
		step *= []float64{2, 2.5, 2}[k%3]
	}
	var out []float64
	for i := 0; float64(i)*step <= most; i++ {
		out = append(out, float64(i)*step)
	}
	return out
}
