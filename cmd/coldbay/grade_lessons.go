package main

import (
	"strings"

	"coldbay/grading/score"
)

// sayThought writes a suspect's car beside the true one.
func sayThought(say func(string, ...any), t score.Thought) {
	head := map[string]string{
		score.ThoughtNamed: "The car you thought you had", score.ThoughtKept: "A car you still held possible", score.ThoughtAsked: "Had it been another car",
	}[t.Why]
	say("\n%s: %s\n", head, t.Name)
	for _, l := range t.Lines {
		say("%4d  %s\n        this car: %s\n        that car: %s\n", l.Seq, l.Did, showed(l.True), showed(l.Theirs))
	}
	say("  %s\n", t.Says)
}

func showed(list []string) string {
	if len(list) == 0 {
		return "nothing"
	}
	return strings.Join(list, "; ")
}

func sayPredictions(say func(string, ...any), list []score.Prediction) {
	for i, p := range list {
		if i == 0 {
			say("\nWhat you wrote down beforehand\n")
		}
		say("%4d  %q\n        %s\n", p.Seq, p.Text, p.Verdict)
	}
}

func sayPractise(say func(string, ...any), p score.Practise) {
	say("\nWhat to practise next\n  %s\n", p.Says)
	for _, k := range p.Kinds {
		say("  %5.1f min  %s\n", k.Minutes, k.Name)
	}
	for _, m := range p.Moments {
		say("  line %d cost %.1f minutes", m.Seq, m.Minutes)
		if m.Better != "" {
			say("; better: %s", m.Better)
		}
		say("\n")
	}
	if p.Next != nil {
		say("  Next: %s (%s). %s\n", p.Next.Title, p.Next.Order, p.Next.Says)
	}
}
