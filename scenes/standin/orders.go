package standin

import (
	"context"
	"fmt"
	"strings"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/stage"
)

// Orders pretends to have three.
type Orders struct {
	Last *Session
	// Car is the car's id; empty is car_a.
	Car string
	// Bare makes as if the car had no drawing of its own.
	Bare bool
	// Long stretches the lists of suspects and units.
	Long bool
	// Telling is what a debrief tells on its way, by kind and in words; it goes on to the next when Told says so.
	Telling [][2]string
	Told    chan struct{}
}

// List is an invented job board.
func (o *Orders) List(context.Context) ([]stage.Order, error) {
	return []stage.Order{
		{ID: "first", Title: "Cold start, lamp on", Customer: "Mrs Adelaar", Vehicle: "Training car A, seven years old", Minutes: 60, Level: 1, Suspects: 16,
			Complaint: "The yellow lamp came on two days ago, on a cold morning. The car drives as always."},
		{ID: "second", Title: "Weak air after a wet winter", Customer: "Mr Quill", Vehicle: "Training car A, eleven years old", Minutes: 75, Level: 2, Suspects: 17, Started: true,
			Complaint: "The lamp is on again. Another workshop has replaced the air pump; it lasted four weeks."},
		{ID: "third", Title: "The pump came back", Customer: "Harbour school van pool", Vehicle: "Training car A, four years old", Minutes: 90, Level: 4, Suspects: 78, Done: true, Tried: true, TriedFrom: 7,
			Complaint: "Repeat failure: the second air pump in a year howls after a cold start."},
	}, nil
}

// Open gives a fresh pretended bench.
func (o *Orders) Open(_ context.Context, id string, _ bool) (stage.Opened, error) {
	if id == "missing" {
		return stage.Opened{}, fmt.Errorf("there is no order %q", id)
	}
	name := o.Car
	if name == "" {
		name = "car_a"
	}
	s, err := NewSession(name)
	if err != nil {
		return stage.Opened{}, err
	}
	plan, err := Plan(name)
	if err != nil {
		return stage.Opened{}, err
	}
	if o.Long {
		s.stretch()
	}
	o.Last = s
	if o.Bare {
		name = "no drawing"
	}
	return stage.Opened{ID: id, Session: s, Car: name, Plan: plan}, nil
}

// Debrief is a made-up document with every part filled.
func (o *Orders) Debrief(ctx context.Context, id string, tell func(kind, words string)) (*page.Document, error) {
	for _, s := range o.Telling {
		tell(s[0], s[1])
		select {
		case <-o.Told:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	d := &page.Document{Order: "Cold start, lamp on", Customer: "Mrs Adelaar",
		Truth:   "The vacuum line between the solenoid and the air valve was split on its underside.",
		Verdict: "74 of 100: the fault was found, mended and verified.",
		Total:   74, Passed: true, Minutes: 47.5, Counted: 61.5, Choices: 12, BillCents: 15400, Luck: 1.5,
		Par:       page.Reference{Minutes: 31, Known: true, Note: "expected over all suspects, without knowing the fault"},
		FaultPar:  page.Reference{Minutes: 26, Known: true, Note: "what the best plan costs when this is the fault"},
		ProofLine: page.Reference{Minutes: 14, Known: true, Note: "in hindsight, the cheapest readings that leave only this fault", Steps: []string{"Pump on by the actuator test, hand at the tailpipe: no flow.", "Hand pump on the valve's nipple: holds 60 kPa for a minute.", "Hand pump on the line's end at the solenoid: does not hold."}},
		Marks: []page.Mark{
			{ID: "economy", Name: "Economy", Score: 72, Passed: true, Reason: "12 minutes were lost to choices; the largest loss was the pump taken off before its voltage was known."},
			{ID: "evidence", Name: "Evidence", Score: 100, Passed: true, Reason: "The line was proven when it was replaced: it did not hold vacuum, and the valve did."},
			{ID: "reasoning", Name: "Reasoning", Score: 81, Passed: true, Reason: "Three suspects stayed on the board after the evidence had ruled them out."},
			{ID: "safety", Name: "Safety", Score: 40, Passed: false, Reason: "The engine ran indoors for two minutes without extraction."},
			{ID: "finish", Name: "Finish", Score: 100, Passed: true, Reason: "Cause named with its reading, repaired, verified by a monitor run."},
		},
		Bill:    []page.BillLine{{Name: "vacuum line, solenoid to air valve", Cents: 900, Needed: true}, {Name: "air valve with reed and gasket", Cents: 14500}},
		Hazards: []string{"The engine ran for two minutes in the closed bay without extraction; the carbon monoxide rises within minutes."},
		Caution: "Training only: the vehicle's own service information, local rules and licensed practice come first.",
	}
	cat, err := Catalogue("car_a")
	if err != nil {
		return nil, err
	}
	if strings.HasSuffix(id, stage.RetakeSuffix) {
		d.Retake = "Tried again from line 7: what came before was done in an earlier attempt. These marks are for practice and do not count."
	}
	d.Practise = practise()
	d.Predictions = predictions()
	d.Thoughts = []page.Thought{thought(cat.Suspects[0].ID, cat.Suspects[0].Name)}
	for i, s := range cat.Suspects {
		if i != 1 {
			d.Suspects = append(d.Suspects, page.Suspect{ID: s.ID, Name: s.Name})
		}
		d.Board = append(d.Board, page.BoardLine{Suspect: s.Name, Struck: i%2 == 0, RuledOut: i%3 != 1, Truth: i == 1,
			Why: "the hand pump held 60 kPa for a minute at the valve's nipple"})
	}
	for i := range 17 {
		st := page.Step{Seq: i + 1, Minute: 1.5 + 2.7*float64(i), Left: max(1, 16-i), ParLeft: max(1, 14-2*i),
			Sentence: "Measured volts from the pump plug 1 (feed) to the pump plug 2 (ground), harness side: 12.1 V with the pump running."}
		if i%3 == 0 {
			st.Ruled = "Rules out: pump fuse blown, pump relay contacts burnt, pump ground corroded."
		}
		if i%4 == 1 {
			st.Regret, st.Better = 3.5, "Worth more: the actuator test with a hand at the tailpipe, which splits air from electrics in one go."
		}
		d.Steps = append(d.Steps, st)
	}
	return d, nil
}
