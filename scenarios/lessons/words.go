package lessons

import (
	"slices"

	"coldbay/assets/messages"
)

// Words are what a step says.
func (s Step) Words() messages.StepText {
	t := messages.StepText{Title: s.Title, Text: s.Text}
	if s.Ask != nil {
		t.Ask, t.Why = s.Ask.Text, s.Ask.Why
		for _, o := range s.Ask.Options {
			t.Options = append(t.Options, o.Text)
		}
	}
	return t
}

// In is the lesson in the words of a language. Everything else is the same, and so are ids and digest: answers go into the same record. The
// lesson itself stays as it is.
func (l *Lesson) In(msg *messages.Catalogue) *Lesson {
	out := *l
	out.Title, out.Aim = msg.Lesson(l.ID, l.Title, l.Aim)
	out.Steps = slices.Clone(l.Steps)
	for i := range out.Steps {
		s := &out.Steps[i]
		t := msg.Step(l.ID, s.ID, s.Words())
		s.Title, s.Text = t.Title, t.Text
		if s.Ask == nil {
			continue
		}
		ask := *s.Ask
		ask.Text, ask.Why = t.Ask, t.Why
		ask.Options = slices.Clone(ask.Options)
		for k := range ask.Options {
			ask.Options[k].Text = t.Options[k]
		}
		s.Ask = &ask
	}
	return &out
}
