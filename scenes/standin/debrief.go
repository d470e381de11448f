package standin

import (
	"context"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
)

// Compare makes up a suspect's car beside the true one.
func (o *Orders) Compare(_ context.Context, _, suspect string) (page.Thought, error) {
	return thought(suspect, suspect), nil
}

func thought(id, name string) page.Thought {
	t := page.Thought{Suspect: id, Name: name, Heading: "The car you thought you had", Marked: true, PartsAt: 11,
		Says: "The readings part at line 11. Had it been " + name + ": the meter would have shown 0.1 V, not 12.1 V."}
	for i := range 8 {
		x := page.ThoughtLine{Seq: i + 4, Did: "Meter, volts, red on pump plug 1 (feed), black on pump plug 2 (ground), harness side; strike 2 suspects.",
			True: "The meter shows 12.1 V.", Theirs: "The meter shows 12.1 V."}
		switch i {
		case 2:
			x.Did, x.True, x.Theirs = "Key on.", "", ""
		case 5:
			x.True = "Stored codes: P0491. Stored codes: P0411. Pending codes: none. Monitor, secondary air: complete. Malfunction lamp on."
			x.Theirs = x.True
		case 7:
			x.Theirs = "The meter shows 0.1 V."
		}
		t.Lines = append(t.Lines, x)
	}
	return t
}

func predictions() []page.Prediction {
	return []page.Prediction{
		{Seq: 3, Text: "12.6 V at the feed with the pump running", Judged: true, Right: true, Verdict: "Expected 12.6 V, read 12.61 V: borne out; line 4 ruled out what it names: pump fuse blown, pump relay contacts burnt."},
		{Seq: 9, Text: "no vacuum at the valve's nipple, the line must be split somewhere between solenoid and valve where it lies on the manifold",
			Judged: true, Verdict: "Expected at most 5 kPa, read 61.2 kPa: another reading."},
		{Seq: 14, Text: "something will be odd", Verdict: "It gives no number with its unit and names no suspects, so nothing can be held against the reading."},
		{Seq: 17, Text: "2 A", Verdict: "No reading in A came after it."},
	}
}

func practise() page.Practise {
	better := "Run the pump by the actuator test and hold a hand at the tailpipe; it takes 90 seconds and divides the 12 suspects left into 4 groups."
	did := "Open the pump plug; meter, volts, red on pump plug 1 (feed), black on pump plug 2 (ground), harness side."
	return page.Practise{Says: "Most was lost in decisions about electrical measuring: 7.0 minutes on average, in 2 steps.",
		Kinds: []page.KindCost{{Name: "electrical measuring", Minutes: 7, Steps: 2}, {Name: "parts and repairs", Minutes: 3.5, Steps: 1}, {Name: "looking and listening", Minutes: 0.4, Steps: 1}},
		Moments: []page.Moment{{Seq: 6, Minutes: 4.5, Did: did, Better: better}, {Seq: 11, Minutes: 3.5, Did: "Repair: air valve with reed and gasket.", Better: "The readings had proven it already: repair vacuum line, solenoid to air valve and verify."},
			{Seq: 14, Minutes: 2.5, Did: did}},
		Next: &page.Next{Order: "second", Title: "Weak air after a wet winter", Says: "Of its par of 69 minutes the plan spends 0.5 on electrical measuring, the largest share among the other orders."}}
}

// Replay makes up a past: what was done on the pretended bench, over and over until it is long enough.
func (o *Orders) Replay(context.Context, string) (*stage.Past, error) {
	p := &stage.Past{Fault: "vacuum line split, solenoid to air valve", At: []string{"line_valve"}, Places: []string{"solenoid", "valve"},
		Wounds: map[string]string{"line_valve": "line split on its underside"}}
	var left []string
	for _, s := range o.Last.cat.Suspects {
		left = append(left, s.Name)
	}
	view := o.Last.view
	view.Place, view.Key, view.Meter = "solenoid", "on", bench.MeterView{Mode: "volts", Red: "sol_1h", Black: "bat_neg", Text: "12.64 V"}
	view.HandPump = bench.HandPumpView{On: "valve_nipple", Strokes: 5, KPa: 61, Text: "61 kPa"}
	for i := range 18 {
		a := bench.Action{Verb: bench.MeterOn, On: "sol_1h", To: "bat_neg", Mode: "volts"}
		p.Ledger = append(p.Ledger, bench.Finding{Seq: i + 1, Action: a, Start: 150 * float64(i), Seconds: 40,
			Percepts: []bench.Percept{{Sense: bench.Meter, Key: "volts", Of: "sol_1h/bat_neg", Value: 12.64, Unit: "V"}}})
	}
	for i := range 19 {
		p.Moments = append(p.Moments, stage.Moment{View: view, Left: left[:max(1, len(left)-4*i)], Faulty: i < 16})
	}
	p.Last = len(p.Moments) - 2
	return p, nil
}

// Retake pretends to go on from the middle.
func (o *Orders) Retake(ctx context.Context, id string, _ int) (stage.Opened, error) {
	return o.Open(ctx, id+stage.RetakeSuffix, false)
}
