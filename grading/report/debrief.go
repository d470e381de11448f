package report

import (
	"io"
	"math"
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
)

// Debrief writes a debrief as one HTML page for screen and paper. Its own words are the catalogue's, English where that is nil; the
// sentences of the findings are in the language that they were graded in. Errors: those of w.
func Debrief(w io.Writer, msg *messages.Catalogue, d *score.Debrief) error {
	msg, err := spoken(msg)
	if err != nil {
		return err
	}
	r, err := newRuler()
	if err != nil {
		return err
	}
	p := debriefPage{Debrief: d, words: msg, Head: newHead(msg.Lang(), msg.T("report.debrief.title", "title", d.Title), styles+debriefStyles), References: references(msg, d), Costs: costs(d),
		Worst: worst(d), Chart: drawSuspects(r, msg, d), Thoughts: thoughts(msg, d.Thought), Kinds: kinds(d.Practise.Kinds)}
	for _, m := range d.Marks {
		p.Marks = append(p.Marks, markRow{Mark: m, Bar: float64(min(max(m.Score, 0), 100)) / 100 * barRoom})
	}
	for _, s := range d.Steps {
		p.Timeline = append(p.Timeline, timelineRow{Step: s, Groups: byReason(s.Ruled)})
	}
	for _, l := range d.Board {
		p.Board = append(p.Board, boardRow{BoardLine: l, Right: l.Struck == l.Out})
	}
	return write(w, msg, "debrief.html", p)
}

// barRoom is the length of a full bar, in the units of its drawing.
const barRoom = 200

// debriefPage is what the debrief's template is filled in with.
type debriefPage struct {
	*score.Debrief
	words      *messages.Catalogue
	Head       head
	Marks      []markRow
	References []referenceRow
	Chart      suspectChart
	Costs      []costRow
	Worst      []score.Step
	Timeline   []timelineRow
	Board      []boardRow
	Thoughts   []thoughtTable
	Kinds      []kindRow
}

// LuckSays is the key of the sentence on what choices and luck cost, by which way luck went.
func (p debriefPage) LuckSays() string {
	switch {
	case p.Account().Luck < 0:
		return "report.choices.good"
	case p.Account().Luck > 0:
		return "report.choices.bad"
	}
	return "report.choices.none"
}

// Sum is the account of the attempt.
func (p debriefPage) Sum() string { return Account(p.words, p.Debrief) }

// PlanLeft says that it is known of some step how many the plan would have left.
func (p debriefPage) PlanLeft() bool {
	return slices.ContainsFunc(p.Steps, func(s score.Step) bool { return s.Graded && s.ParLeft >= 0 })
}

// LuckSize is luck without its sign, minutes.
func (p debriefPage) LuckSize() float64 { return math.Abs(p.Account().Luck) }

// Planned says that there are steps of a plan to show.
func (p debriefPage) Planned() bool { return len(p.FaultPar.Steps)+len(p.ProofLine.Steps) > 0 }

type markRow struct {
	score.Mark
	Bar float64
}

// referenceRow is one bar of minutes.
type referenceRow struct {
	Name, Says, Fill string
	Minutes          float64
	Bar              float64
	Least            string // the proven bound, where it is lower
}

func references(msg *messages.Catalogue, d *score.Debrief) []referenceRow {
	rows := []referenceRow{
		{Name: msg.T("report.minutes.mine"), Says: msg.T("report.minutes.mine.says"), Fill: "mine", Minutes: d.Seconds / 60},
		{Name: msg.T("report.minutes.par"), Says: msg.T("report.minutes.par.says"), Fill: "hatch", Minutes: d.Par.Minutes, Least: least(msg, d.Par)},
		{Name: msg.T("report.minutes.faultpar"), Says: msg.T("report.minutes.faultpar.says"), Fill: "dots", Minutes: d.FaultPar.Minutes, Least: least(msg, d.FaultPar)},
		{Name: msg.T("report.minutes.proofline"), Says: msg.T("report.minutes.proofline.says"), Fill: "open", Minutes: d.ProofLine.Minutes, Least: least(msg, d.ProofLine)},
	}
	most := 0.0
	for _, r := range rows {
		most = max(most, r.Minutes)
	}
	for i := range rows {
		if most > 0 {
			rows[i].Bar = max(0, rows[i].Minutes) / most * barRoom
		}
	}
	return rows
}

func least(msg *messages.Catalogue, r score.Reference) string {
	if r.Least < r.Minutes-0.05 {
		return minutes(msg, r.Least)
	}
	return ""
}

// costRow is what one step cost on average, with those joined to it: its bar, and of it what counted.
type costRow struct {
	score.Step
	Zero, Left, Length, Counted float64 // drawing units: where zero is, where the bar begins, its length, the counted length
}

func costs(d *score.Debrief) []costRow {
	low, high := 0.0, 0.0
	for _, s := range d.Steps {
		if s.Graded {
			low, high = min(low, s.Cost), max(high, s.Cost, s.Charged)
		}
	}
	unit := 0.0
	if high > low {
		unit = barRoom / (high - low)
	}
	zero := -low * unit
	var rows []costRow
	for _, s := range d.Steps {
		r := costRow{Step: s, Zero: zero}
		if s.Graded {
			r.Left = zero + min(0, s.Cost)*unit
			r.Length = math.Abs(s.Cost) * unit
			r.Counted = max(0, s.Charged) * unit
		}
		rows = append(rows, r)
	}
	return rows
}

// worst are the steps that cost most, three at the most.
func worst(d *score.Debrief) []score.Step {
	var list []score.Step
	for _, s := range d.Steps {
		if s.Counts() {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b score.Step) int {
		switch {
		case a.Charged > b.Charged:
			return -1
		case a.Charged < b.Charged:
			return 1
		}
		return 0
	})
	return list[:min(3, len(list))]
}

type timelineRow struct {
	score.Step
	Groups []ruledGroup
}

// LeftSays names the suspects left, or all of them where they are few.
func (t timelineRow) LeftSays() string {
	if len(t.Left) > 4 {
		return ""
	}
	return strings.Join(t.Left, ", ")
}

// ruledGroup are suspects that fell for one reason.
type ruledGroup struct {
	Says  string
	Names []string
}

func byReason(list []score.Ruled) []ruledGroup {
	var out []ruledGroup
	for _, r := range list {
		i := slices.IndexFunc(out, func(g ruledGroup) bool { return g.Says == r.Says })
		if i < 0 {
			i = len(out)
			out = append(out, ruledGroup{Says: r.Says})
		}
		if !slices.Contains(out[i].Names, r.Name) {
			out[i].Names = append(out[i].Names, r.Name)
		}
	}
	return out
}

type boardRow struct {
	score.BoardLine
	Right bool // the board agrees with the readings
}

func choose(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
