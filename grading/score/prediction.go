package score

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// Prediction is a reading that was written down before it was taken, held against the reading.
type Prediction struct {
	Seq           int      `json:"seq"`
	Text          string   `json:"text"`
	ReadingSeq    int      `json:"readingSeq"`    // ledger line of the reading it is held against; 0 when none came
	SplitSaid     []string `json:"splitSaid"`     // names of the suspects that it was to split
	SplitHappened []string `json:"splitHappened"` // of them, those that the reading ruled out
	Judged        bool     `json:"judged"`        // it said something that a reading could bear out
	Right         bool     `json:"right"`         // all that it said, the reading bore out
	Verdict       string   `json:"verdict"`       // one sentence
}

// amount is a number with a unit, as people write it.
var amount = regexp.MustCompile(`(^|[^\w.,])([+-]?\d+(?:[.,]\d+)?)\s*(mV|mA|kohms?|Mohms?|ohms?|volts?|amps?|kPa|rpm|V|A|Ω|%)($|[^\w])`)

// Words before a number that make it a limit.
var (
	atLeast = regexp.MustCompile(`(?i)(over|above|more than|at least|über|mehr als|mindestens|más de|al menos|por lo menos|>=?)\s*$`)
	atMost  = regexp.MustCompile(`(?i)(under|below|less than|at most|unter|weniger als|höchstens|menos de|como máximo|<=?)\s*$`)
)

// scales are the units that people write, by the instrument's unit and how many of it they are.
var scales = map[string]struct {
	unit  string
	times float64
}{
	"V": {"V", 1}, "volt": {"V", 1}, "volts": {"V", 1}, "mV": {"V", 1e-3},
	"A": {"A", 1}, "amp": {"A", 1}, "amps": {"A", 1}, "mA": {"A", 1e-3},
	"ohm": {"ohm", 1}, "ohms": {"ohm", 1}, "Ω": {"ohm", 1}, "kohm": {"ohm", 1e3}, "kohms": {"ohm", 1e3}, "Mohm": {"ohm", 1e6}, "Mohms": {"ohm", 1e6},
	"kPa": {"kPa", 1}, "rpm": {"rpm", 1}, "%": {"%", 1},
}

// quantity is the number that a prediction gives, in the unit of an instrument.
type quantity struct {
	value float64
	unit  string
	limit int // 0 the number itself; 1 at least so much; -1 at most
}

// expected is the first number with a unit in a prediction; ok is false when it gives none.
func expected(text string) (q quantity, ok bool) {
	m := amount.FindStringSubmatchIndex(text)
	if m == nil {
		return q, false
	}
	v, err := strconv.ParseFloat(strings.Replace(text[m[4]:m[5]], ",", ".", 1), 64)
	if err != nil {
		return q, false
	}
	s := scales[text[m[6]:m[7]]]
	q = quantity{value: v * s.times, unit: s.unit}
	switch before := text[:m[4]]; {
	case atLeast.MatchString(before):
		q.limit = 1
	case atMost.MatchString(before):
		q.limit = -1
	}
	return q, true
}

func (q quantity) says(w Words) string {
	return w.T([...]string{"grade.foretold.most", "grade.foretold.is", "grade.foretold.least"}[q.limit+1], "n", w.Decimal(strconv.FormatFloat(q.value, 'g', 6, 64)), "unit", q.unit)
}

// is says whether a reading bears a number out: it is of the same class, or beyond the limit given. Somebody who writes a number
// without its sign does not mean the direction of the leads.
func (q quantity) is(p bench.Percept) bool {
	r, size := p, p.Value
	r.Value = q.value
	if q.value > 0 {
		r.Value, size = math.Copysign(q.value, p.Value), math.Abs(p.Value)
	}
	return r.Class() == p.Class() || q.limit > 0 && size > q.value || q.limit < 0 && size < q.value
}

// predictions judges what was written down before a reading: the number by the class of the reading, the suspects by whom it ruled out.
func (g *grader) predictions() {
	g.d.Predictions = []Prediction{}
	for i, f := range g.findings {
		if f.Action.Verb == bench.Predict {
			g.d.Predictions = append(g.d.Predictions, g.prediction(i))
		}
	}
}

func (g *grader) prediction(i int) Prediction {
	a := g.findings[i].Action
	p := Prediction{Seq: g.findings[i].Seq, Text: a.Text, SplitSaid: []string{}, SplitHappened: []string{}}
	want, number := expected(a.Text)
	at := g.reading(i, a.Text, want.unit)
	for _, id := range a.List {
		p.SplitSaid = append(p.SplitSaid, g.suspectName(id))
	}
	if at < 0 {
		p.Verdict = g.Words.T("grade.foretold.noreading")
		if number {
			p.Verdict = g.Words.T("grade.foretold.nounit", "unit", want.unit)
		}
		return p
	}
	p.ReadingSeq = g.findings[at].Seq
	var says []string
	p.Right = true
	if number {
		p.Judged = true
		right, shown := g.inClass(at, want)
		p.Right = right
		says = append(says, g.Words.T(map[bool]string{
			true: "grade.foretold.right", false: "grade.foretold.wrong"}[right], "want", want.says(g.Words), "seen", shown))
	}
	if names, right, want, shown := false, false, "", ""; !number {
		if names, right, want, shown = g.wordIn(a.Text, g.findings[at]); names {
			p.Judged, p.Right = true, right
			says = append(says, g.Words.T(map[bool]string{
				true: "grade.foretold.right", false: "grade.foretold.wrong"}[right], "want", want, "seen", shown))
		}
	}
	if len(a.List) > 0 {
		judged, right, say := g.split(&p, a.List, i, at)
		p.Judged = p.Judged || judged
		p.Right = p.Right && (right || !judged)
		says = append(says, say)
	}
	if !p.Judged {
		p.Right = false
	}
	if len(says) == 0 {
		says = []string{g.Words.T("grade.foretold.empty")}
	}
	p.Verdict = sentence(says)
	return p
}

// reading is the finding that a prediction is about: the next with a reading, in the prediction's unit if it gives one, of the thing that
// its word or code is said of where such a thing is read; -1 when none comes before the next repair.
func (g *grader) reading(i int, text, unit string) int {
	next := -1
	for k := i + 1; k < len(g.findings); k++ {
		f := g.findings[k]
		if f.Action.Verb == bench.Repair {
			break
		}
		if belief.Silent(f.Action.Verb) {
			continue
		}
		if names, _, _, _ := g.wordIn(text, f); unit == "" && names {
			return k
		}
		if unit == "" && len(f.Percepts) > 0 || unit != "" && slices.ContainsFunc(f.Percepts, func(p bench.Percept) bool { return inUnit(p, unit) }) {
			if unit != "" {
				return k
			}
			if next < 0 {
				next = k
			}
		}
	}
	return next
}

func inUnit(p bench.Percept, unit string) bool { return p.Unit == unit && p.Word == "" }

// inClass says whether a reading of a finding bears a number out, and what was read.
func (g *grader) inClass(at int, want quantity) (bool, string) {
	shown := ""
	for _, p := range g.findings[at].Percepts {
		if !inUnit(p, want.unit) {
			continue
		}
		if shown == "" {
			shown = g.Speaker.Short(p)
		}
		if want.is(p) {
			return true, g.Speaker.Short(p)
		}
	}
	return false, shown
}

// split holds the suspects of a prediction against whom the actions up to the reading ruled out.
func (g *grader) split(p *Prediction, ids []string, from, at int) (judged, right bool, say string) {
	gone := func(id string, first, last int) bool {
		k := g.b.Find(id)
		for _, st := range g.b.Steps()[first : last+1] {
			for _, s := range st.Strikes {
				if s.Suspect == k {
					return true
				}
			}
		}
		return false
	}
	standing, stood := 0, 0
	for _, s := range g.b.Suspects() {
		if !gone(s.ID, 0, from) {
			standing++
			if slices.Contains(ids, s.ID) {
				stood++
				if gone(s.ID, from+1, at) {
					p.SplitHappened = append(p.SplitHappened, g.called("fault", s.ID, s.Name))
				}
			}
		}
	}
	line := strconv.Itoa(g.findings[at].Seq)
	switch {
	case stood == 0:
		return true, false, g.Words.T("grade.foretold.out")
	case standing > 2 && stood == standing:
		return false, false, g.Words.T("grade.foretold.all")
	case len(p.SplitHappened) == 0 && g.parted(ids, from+1, at):
		return true, true, g.Words.T("grade.foretold.parted", "line", line)
	case len(p.SplitHappened) == 0:
		return true, false, g.Words.T("grade.foretold.none", "line", line)
	case len(p.SplitHappened) == stood:
		return true, true, g.Words.T("grade.foretold.named", "line", line, "names", strings.Join(p.SplitHappened, ", "))
	}
	return true, true, g.Words.T("grade.foretold.split", "line", line, "names", strings.Join(p.SplitHappened, ", "))
}

// foreseen is what predictions add to the reasoning mark: a share of the rubric's points as large as that of the predictions that
// were borne out.
func (g *grader) foreseen() (points int, say string) {
	judged, right := 0, 0
	for _, p := range g.d.Predictions {
		if p.Judged {
			judged++
		}
		if p.Right {
			right++
		}
	}
	if judged == 0 {
		return 0, ""
	}
	return g.Rubric.Points.Prediction * right / judged, g.Words.N("grade.foretold.count", judged, "right", strconv.Itoa(right))
}

func (g *grader) suspectName(id string) string {
	if k := g.b.Find(id); k >= 0 {
		return g.suspect(k)
	}
	return g.Speaker.Name(id)
}
