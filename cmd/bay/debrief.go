package main

import (
	"context"
	"fmt"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/phrase"
	"coldbay/sim/bench"
)

// Debrief grades the saved attempt of an order.
func (o *orders) Debrief(ctx context.Context, id string) (*page.Document, error) {
	ord, err := o.lib.Load(id)
	if err != nil {
		return nil, err
	}
	a, err := o.saved(id)
	if err != nil {
		return nil, fmt.Errorf("read the attempt: %w", err)
	}
	c, err := score.Open(o.lib, ord, version)
	if err != nil {
		return nil, err
	}
	s, err := bench.NewLocal(o.lib.Config(ord, version))
	if err != nil {
		return nil, err
	}
	c.Speaker = speaker{phrase.New(o.msg, s.Catalogue())}
	c.Config.Breathe = breather(always)
	if o.now != nil && o.id == id {
		c.Belief = o.now.belief(ctx)
	}
	d, err := score.Grade(ctx, *c, a.Findings)
	if err != nil {
		return nil, err
	}
	return document(o.msg, d), nil
}

// speaker gives the grader the window's own sentences.
type speaker struct{ book *phrase.Book }

func (s speaker) Action(a bench.Action) string   { return s.book.Doing(a) }
func (s speaker) Percept(p bench.Percept) string { return strings.TrimSuffix(s.book.Percept(p), ".") }
func (s speaker) Hazard(h bench.Hazard) string   { return s.book.Hazard(h) }
func (s speaker) Name(id string) string          { return s.book.Thing(id) }

// document turns the grader's debrief into what the window shows.
func document(msg *messages.Catalogue, d *score.Debrief) *page.Document {
	ref := func(r score.Reference, key string) page.Reference {
		return page.Reference{Minutes: r.Minutes, Known: r.Minutes > 0, Note: msg.T("debrief.note." + key), Steps: r.Steps}
	}
	out := &page.Document{Order: d.Title, Customer: d.Customer, Truth: phrase.Sentence(d.TruthSays), Verdict: phrase.Sentence(d.Verdict),
		Total: d.Total, Passed: d.Passed, Caps: d.Caps, Minutes: d.Seconds / 60, Choices: d.Choices, Luck: d.Luck,
		Par: ref(d.Par, "par"), FaultPar: ref(d.FaultPar, "faultpar"), ProofLine: ref(d.ProofLine, "proofline"),
		BillCents: d.BillCents, Hazards: d.Hazards, Caution: msg.T("debrief.caution")}
	for _, m := range d.Marks {
		out.Marks = append(out.Marks, page.Mark{ID: m.ID, Name: m.Name, Score: m.Score, Passed: m.Passed, Reason: phrase.Sentence(m.Reason)})
	}
	for _, b := range d.Bill {
		out.Bill = append(out.Bill, page.BillLine{Name: b.Name, Cents: b.Cents, Needed: b.Needed})
	}
	rest := d.BillCents
	for _, b := range d.Bill {
		rest -= b.Cents
	}
	if rest != 0 {
		out.Bill = append(out.Bill, page.BillLine{Name: msg.T("debrief.other"), Cents: rest, Needed: true})
	}
	for _, b := range d.Board {
		out.Board = append(out.Board, page.BoardLine{Suspect: b.Name, Struck: b.Struck, RuledOut: b.Out, Truth: b.Truth, Why: phrase.Sentence(b.Why)})
	}
	for _, s := range d.Steps {
		out.Steps = append(out.Steps, step(msg, s))
	}
	return out
}

func step(msg *messages.Catalogue, s score.Step) page.Step {
	sentence := s.Did
	if len(s.Showed) > 0 {
		sentence = msg.T("debrief.shown", "did", s.Did, "showed", strings.Join(s.Showed, "; "))
	}
	sentence = phrase.Sentence(sentence)
	if s.Physics != "" {
		sentence += " " + phrase.Sentence(s.Physics)
	}
	out := page.Step{Seq: s.Seq, Minute: s.Minute, Sentence: sentence, Left: len(s.Left), ParLeft: -1, Better: phrase.Sentence(s.Better)}
	if s.Graded {
		out.Regret = s.Regret
	}
	var says []string
	for _, r := range s.Ruled {
		if r.Says != "" {
			says = append(says, phrase.Sentence(msg.T("debrief.ruled.by", "name", r.Name, "says", r.Says)))
		}
	}
	out.Ruled = strings.Join(says, " ")
	if len(says) == 0 && len(s.Ruled) > 0 {
		names := make([]string, len(s.Ruled))
		for i, r := range s.Ruled {
			names[i] = r.Name
		}
		out.Ruled = msg.T("debrief.ruled", "names", strings.Join(names, ", "))
	}
	return out
}
