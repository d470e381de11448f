package main

import (
	"fmt"
	"strconv"
	"strings"

	"coldbay/grading/score"
)

// thought writes a suspect's car beside the true one.
func (t *teller) thought(x score.Thought) {
	head := t.T("report.thought.asked")
	switch x.Why {
	case score.ThoughtNamed:
		head = t.T("report.thought.named")
	case score.ThoughtKept:
		head = t.T("report.thought.kept")
	}
	t.say("\n%s\n", t.T("report.thought.heading", "heading", head, "name", x.Name))
	for _, l := range x.Lines {
		t.say("%4d  %s\n        %s\n        %s\n", l.Seq, l.Did, t.T("report.text.this", "what", t.showed(l.True)), t.T("report.text.that", "what", t.showed(l.Theirs)))
	}
	t.say("  %s\n", x.Says)
}

func (t *teller) showed(list []string) string {
	if len(list) == 0 {
		return t.T("report.nothing")
	}
	return strings.Join(list, "; ")
}

func (t *teller) predictions(list []score.Prediction) {
	for i, p := range list {
		if i == 0 {
			t.say("\n%s\n", t.T("report.predictions"))
		}
		t.say("%4d  %q\n        %s\n", p.Seq, p.Text, p.Verdict)
	}
}

func (t *teller) practise(p score.Practise) {
	t.say("\n%s\n  %s\n", t.T("report.practise"), p.Says)
	for _, k := range p.Kinds {
		t.say("  %s  %s\n", t.T("report.text.minutes", "n", t.Decimal(fmt.Sprintf("%5.1f", k.Minutes))), k.Name)
	}
	for _, m := range p.Moments {
		key := "report.text.moment"
		if m.Better != "" {
			key = "report.text.moment.better"
		}
		t.say("  %s\n", t.Or(key, "report.text.moment", "line", strconv.Itoa(m.Seq), "n", t.tenths(m.Minutes), "what", m.Better))
	}
	if p.Next != nil {
		t.say("  %s\n", t.T("report.text.next", "title", p.Next.Title, "order", p.Next.Order, "says", p.Next.Says))
	}
}
