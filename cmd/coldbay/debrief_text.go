package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"coldbay/assets/messages"
	"coldbay/grading/report"
	"coldbay/grading/score"
	"coldbay/sim/bench"
)

// teller writes a debrief as text in a language.
type teller struct {
	*messages.Catalogue
	b strings.Builder
}

func (t *teller) say(format string, a ...any) { fmt.Fprintf(&t.b, format, a...) }

// printDebrief writes a debrief as text.
func printDebrief(w io.Writer, msg *messages.Catalogue, d *score.Debrief) error {
	t := &teller{Catalogue: msg}
	t.say("\n%s\n%s\n%s\n", t.T("report.debrief.title", "title", d.Title), d.TruthSays, d.Verdict)
	for _, c := range d.Caps {
		t.say("%s.\n", strings.TrimSuffix(c, "."))
	}
	for _, r := range d.Rules {
		t.say("%s\n", r)
	}
	if d.Retake != nil {
		key := "debrief.retake"
		if d.Retake.After == 0 {
			key = "debrief.retake.start"
		}
		t.say("%s\n", t.Or(key, "debrief.retake", "n", strconv.Itoa(d.Retake.After)))
	}
	if d.Program != nil {
		t.say("%s\n", t.T("debrief.program", "played", d.Program.Played, "here", d.Program.Graded))
	}
	t.marks(d.Marks)
	t.minutes(d)
	t.timeline(d.Steps)
	for _, part := range []struct {
		name string
		ref  score.Reference
	}{{t.T("report.plan"), d.FaultPar}, {t.T("report.text.proof"), d.ProofLine}} {
		t.say("\n%s\n", t.T("report.text.heading", "what", part.name, "n", t.ref(part.ref)))
		for _, s := range part.ref.Steps {
			t.say("  %s\n", s)
		}
	}
	t.bill(d)
	for i, h := range d.Hazards {
		if i == 0 {
			t.say("\n%s\n", t.T("report.text.unsafe"))
		}
		t.say("  %s\n", h)
	}
	t.say("\n%s\n", t.T("report.board"))
	for _, l := range t.board(d.Board) {
		t.say("  %s\n", l)
	}
	for _, x := range d.Thought {
		t.thought(x)
	}
	t.predictions(d.Predictions)
	t.practise(d.Practise)
	t.say("\n%s\n", t.T("report.training"))
	_, err := io.WriteString(w, t.b.String())
	return err
}

func (t *teller) marks(list []score.Mark) {
	t.say("\n%s\n", t.T("report.marks"))
	wide := 10
	for _, m := range list {
		wide = max(wide, utf8.RuneCountInString(m.Name))
	}
	for _, m := range list {
		flag := ""
		if !m.Passed {
			flag = "  " + t.T("report.failed")
		}
		t.say("  %-*s %3d  %s%s\n             %s\n", wide, m.Name, m.Score, t.T("report.text.weight", "n", strconv.Itoa(m.Weight)), flag, m.Reason)
	}
}

func (t *teller) minutes(d *score.Debrief) {
	t.say("\n%s\n  %s\n", t.T("report.minutes"), t.T("report.text.bench", "n", t.tenths(d.Seconds/60), "par", t.ref(d.Par), "faultpar", t.ref(d.FaultPar), "proof", t.ref(d.ProofLine)))
	t.say("  %s\n", report.Account(t.Catalogue, d))
}

func (t *teller) timeline(steps []score.Step) {
	t.say("\n%s\n", t.T("report.timeline"))
	for _, s := range steps {
		t.say("%4d  %s  %s\n", s.Seq, t.T("report.text.minutes", "n", t.Decimal(fmt.Sprintf("%5.1f", s.Minute))), s.Did)
		for _, x := range s.Showed {
			t.say("        %s\n", x)
		}
		if s.Physics != "" {
			t.say("        %s\n", s.Physics)
		}
		for _, r := range ruledGroups(s.Ruled) {
			t.say("        %s\n", t.T("report.text.ruled", "what", r))
		}
		t.say("        %s%s\n", t.T("report.text.left", "what", t.left(s.Left)), t.parLeft(s))
		if s.Counts() {
			t.say("        %s\n", t.T("report.text.cost", "n", t.tenths(s.Cost), "counted", t.tenths(s.Charged)))
		}
		if s.Counts() && s.Better != "" {
			t.say("        %s\n", t.T("report.text.better", "what", s.Better))
		}
	}
}

func (t *teller) bill(d *score.Debrief) {
	for i, x := range d.Bill {
		if i == 0 {
			t.say("\n%s\n", t.T("report.text.repairs"))
		}
		verdict := t.T("report.text.needed")
		switch {
		case !x.Needed:
			verdict = t.T("report.text.needless")
		case !x.Proven:
			verdict = t.T("report.text.unproven")
		}
		t.say("  %s\n", t.T("report.text.repair", "line", strconv.Itoa(x.Seq), "part", x.Name, "price", t.Decimal(bench.Money(x.Cents)), "verdict", verdict))
	}
	t.say("  %s\n", t.T("report.text.bill", "money", t.Decimal(bench.Money(d.BillCents))))
}

// ruledGroups joins suspects that fell for the same reason.
func ruledGroups(list []score.Ruled) []string {
	var says []string
	names := map[string][]string{}
	for _, r := range list {
		if names[r.Says] == nil {
			says = append(says, r.Says)
		}
		names[r.Says] = append(names[r.Says], r.Name)
	}
	out := make([]string, len(says))
	for i, s := range says {
		out[i] = strings.Join(names[s], "; ") + ": " + s
	}
	return out
}

// board joins suspects of whom the same is to be said.
func (t *teller) board(list []score.BoardLine) []string {
	var whys []string
	names := map[string][]string{}
	for _, l := range list {
		why := l.Why
		if why == "" {
			continue
		}
		if names[why] == nil {
			whys = append(whys, why)
		}
		names[why] = append(names[why], l.Name)
	}
	if len(whys) == 0 {
		return []string{t.T("report.text.board.right")}
	}
	out := make([]string, len(whys))
	for i, why := range whys {
		out[i] = why + ": " + strings.Join(names[why], "; ")
	}
	return out
}

func (t *teller) tenths(v float64) string { return tenths(t.Catalogue, v) }

func tenths(msg *messages.Catalogue, v float64) string {
	return msg.Decimal(strconv.FormatFloat(v, 'f', 1, 64))
}

// parLeft compares with the plan where that has ruled out more by then.
func (t *teller) parLeft(s score.Step) string {
	if s.ParLeft < 0 || s.ParLeft >= len(s.Left) {
		return ""
	}
	return " " + t.T("report.text.plan.left", "n", strconv.Itoa(s.ParLeft))
}

func (t *teller) ref(r score.Reference) string {
	if r.Least < r.Minutes-0.05 {
		return t.T("report.text.least", "n", t.tenths(r.Minutes), "least", t.tenths(r.Least))
	}
	return t.tenths(r.Minutes)
}

func (t *teller) left(names []string) string {
	switch len(names) {
	case 0:
		return t.T("report.text.left.none")
	case 1, 2, 3, 4:
		return strings.Join(names, "; ")
	}
	return t.N("report.key.suspects", len(names))
}
