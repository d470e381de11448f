package main

import (
	"context"
	"fmt"
	"runtime"
	"strconv"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
	"coldbay/grading/tongue"
	"coldbay/scenes/debrief/page"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// graded is the case of the attempt whose debrief was made last, with its belief: further questions about the attempt go there.
type graded struct {
	id       string
	c        *score.Case
	findings []bench.Finding
	fault    string // its name
}

// Debrief grades the saved attempt of an order, and tells what it is at.
func (o *orders) Debrief(ctx context.Context, id string, tell func(kind, words string)) (*page.Document, error) {
	ord, err := o.lib.Load(orderOf(id))
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
	cat := s.Catalogue()
	if c.Dictionary, err = tongue.Dictionary(o.msg, ord.Order.Car, cat, c.Dictionary); err != nil {
		return nil, err
	}
	c.Speaker = phrase.Speaker{Book: phrase.Open(o.msg, ord.Order.Car, cat)}
	c.Words = o.msg
	rest := func() {}
	if oneThread {
		rest = breather(always)
		c.Config.Breathe = rest
	} else {
		c.Workers = runtime.NumCPU()
	}
	c.Progress = func(p score.Progress) { tell(string(p.Part), progress(o.msg, p)) }
	rest()
	rest()
	if c.Candidates, err = score.Candidates(ctx, o.lib); err != nil {
		return nil, err
	}
	rest()
	if err := tongue.Case(o.msg, o.lib, c); err != nil {
		return nil, err
	}
	switch {
	case o.past != nil && o.past.id == id && len(o.past.findings) == len(a.Findings):
		c.Belief = o.past.c.Belief // it was closed then as it is now
	case o.now != nil && o.id == id:
		c.Belief = o.now.belief(ctx, func(done, of int) {
			p := score.Progress{Part: score.PartReplay, Done: done, Of: of}
			if of == 0 {
				p.Part = score.PartCars
			}
			c.Progress(p)
		})
	}
	if c.Belief, err = score.Believe(ctx, *c, a.Findings); err != nil {
		return nil, err
	}
	d, err := score.Grade(ctx, *c, a.Findings)
	if err != nil {
		return nil, err
	}
	o.past = &graded{id: id, c: c, findings: a.Findings, fault: c.Speaker.Name(d.Truth)}
	for _, b := range d.Board {
		if b.Truth {
			o.past.fault = b.Name
		}
	}
	doc := document(o.msg, d)
	if r := a.Header.Retake; r != nil {
		key := "debrief.retake"
		if r.After == 0 {
			key = "debrief.retake.start"
		}
		doc.Retake = o.msg.Or(key, "debrief.retake", "n", fmt.Sprint(r.After))
	}
	return doc, nil
}

// progress is what the grader is at, in words.
func progress(msg *messages.Catalogue, p score.Progress) string {
	n := []string{"n", strconv.Itoa(min(p.Done+1, p.Of)), "of", strconv.Itoa(p.Of)}
	switch p.Part {
	case score.PartCars:
		return msg.T("work.debrief.cars")
	case score.PartReplay:
		return msg.T("work.debrief.replay", n...)
	case score.PartWeigh:
		return msg.T("work.debrief.weigh", "percent", strconv.Itoa(100*p.Done/max(1, p.Of)))
	case score.PartPlan:
		return msg.T("work.debrief.plan")
	case score.PartThought:
		return msg.T("work.debrief.thought", n...)
	}
	return msg.T("work.debrief")
}

// Compare plays the attempt whose debrief was made last in the car of a suspect.
func (o *orders) Compare(ctx context.Context, id, suspect string) (page.Thought, error) {
	if o.past == nil || o.past.id != id {
		return page.Thought{}, fmt.Errorf("order %s has no debrief yet", id)
	}
	t, err := score.Think(ctx, *o.past.c, o.past.findings, suspect)
	if err != nil {
		return page.Thought{}, err
	}
	return thought(o.msg, t), nil
}

// document turns the grader's debrief into what the window shows.
func document(msg *messages.Catalogue, d *score.Debrief) *page.Document {
	ref := func(r score.Reference, key string) page.Reference {
		return page.Reference{Minutes: r.Minutes, Known: r.Minutes > 0, Note: msg.T("debrief.note." + key), Steps: r.Steps}
	}
	out := &page.Document{Order: d.Title, Customer: d.Customer, Truth: phrase.Sentence(d.TruthSays), Verdict: phrase.Sentence(d.Verdict),
		Total: d.Total, Passed: d.Passed, Caps: d.Caps, Minutes: d.Seconds / 60, Counted: d.Counted, Choices: d.Choices, Luck: d.Luck,
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
	for _, b := range d.Board {
		if !b.Truth {
			out.Suspects = append(out.Suspects, page.Suspect{ID: b.Suspect, Name: b.Name})
		}
	}
	for _, t := range d.Thought {
		out.Thoughts = append(out.Thoughts, thought(msg, t))
	}
	for _, p := range d.Predictions {
		out.Predictions = append(out.Predictions, page.Prediction{Seq: p.Seq, Text: p.Text, Verdict: phrase.Sentence(p.Verdict), Judged: p.Judged, Right: p.Right})
	}
	out.Practise = practise(d.Practise)
	return out
}

func thought(msg *messages.Catalogue, t score.Thought) page.Thought {
	out := page.Thought{Suspect: t.Suspect, Name: t.Name, Heading: msg.T("debrief.thought.why." + t.Why), Marked: t.Why != score.ThoughtAsked, PartsAt: t.PartsAt, Says: phrase.Sentence(t.Says)}
	for _, l := range t.Lines {
		out.Lines = append(out.Lines, page.ThoughtLine{Seq: l.Seq, Did: phrase.Sentence(l.Did), True: sentences(l.True), Theirs: sentences(l.Theirs)})
	}
	return out
}

func sentences(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = phrase.Sentence(s)
	}
	return strings.Join(out, " ")
}

func practise(p score.Practise) page.Practise {
	out := page.Practise{Says: p.Says}
	for _, k := range p.Kinds {
		out.Kinds = append(out.Kinds, page.KindCost{Name: k.Name, Minutes: k.Minutes, Steps: k.Steps})
	}
	for _, m := range p.Moments {
		out.Moments = append(out.Moments, page.Moment{Seq: m.Seq, Minutes: m.Minutes, Did: phrase.Sentence(m.Did), Better: phrase.Sentence(m.Better)})
	}
	if p.Next != nil {
		out.Next = &page.Next{Order: p.Next.Order, Title: p.Next.Title, Says: p.Next.Says}
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
	out := page.Step{Seq: s.Seq, Minute: s.Minute, Sentence: sentence, Left: len(s.Left), ParLeft: s.ParLeft, Better: phrase.Sentence(s.Better)}
	if s.Graded {
		out.Regret = s.Charged // what counts, as under practise and in the marks
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
