package score

import (
	"context"
	"slices"
	"testing"

	"coldbay/assets/messages"
	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// wrongly is an attempt that reads well and names the wrong suspect, with two predictions on the way.
var wrongly = []string{
	"look pump",
	"remove relay",
	"meter volts pump_2h bat_neg",
	"jump rly_30 rly_87 12awg 40A",
	"predict the pump is weak or slow splits pump_ground_corroded pump_worn",
	"listen pump",
	"predict over 1 V is lost in the ground",
	"read meter",
	"predict 5 V",
	"unjump rly_30 rly_87",
	"meter off",
	"refit relay",
	"strike no_fault_found",
	"repair pump_ground",
	"drive",
	"finish pump_worn unit pump_ground proof 8",
}

// The car that the trainee named is shown beside the true one, up to the line at which the belief has it fall and no further.
func TestTheCarYouThoughtYouHad(t *testing.T) {
	c := open(t, "quiet_pump")
	c.Thought = []string{"diaphragm_torn"}
	findings := perform(t, c.Config, wrongly...)
	d := grade(t, c, findings)
	why := map[string]string{}
	for _, th := range d.Thought {
		why[th.Suspect] = th.Why
		fell, says := 0, ""
		for _, s := range d.Steps {
			for _, r := range s.Ruled {
				if r.Suspect == th.Suspect {
					fell, says = s.Seq, r.Says
					require.Equal(t, r.Severity, th.Severity)
					require.Equal(t, r.Draw, th.Draw)
				}
			}
		}
		require.Positive(t, fell)
		require.Equal(t, fell, th.PartsAt, th.Suspect)
		require.Contains(t, th.Says, says)
		last := len(th.Lines) - 1
		require.Equal(t, th.PartsAt, th.Lines[last].Seq)
		require.NotEqual(t, th.Lines[last].True, th.Lines[last].Theirs)
		// Both columns can be had again by playing the log in that suspect's world.
		cfg := c.Config
		cfg.Truth = &bench.Truth{Fault: th.Suspect, Severity: th.Severity, Draw: belief.Seed(&cfg, th.Draw)}
		shown, _ := relive(t, cfg, findings[:th.PartsAt])
		for _, l := range th.Lines {
			var theirs, mine []string
			for _, p := range shown[l.Seq-1] {
				theirs = append(theirs, c.Speaker.Percept(p))
			}
			for _, p := range findings[l.Seq-1].Percepts {
				mine = append(mine, c.Speaker.Percept(p))
			}
			require.ElementsMatch(t, theirs, l.Theirs)
			require.ElementsMatch(t, mine, l.True)
		}
	}
	require.Equal(t, ThoughtNamed, why["pump_worn"])
	require.Equal(t, ThoughtAsked, why["diaphragm_torn"])
	told, kept := map[int]bool{}, 0
	for _, th := range d.Thought {
		if th.Why == ThoughtKept {
			require.False(t, told[th.PartsAt], "one story a reading")
			kept++
		}
		told[th.PartsAt] = true
	}
	require.LessOrEqual(t, kept, maxKept)
	require.Positive(t, kept)
}

// Who names the fault thought of no other car, unless the board says so; a suspect that nothing was read against never parts.
func TestNoOtherCar(t *testing.T) {
	good := script(t, "quiet_pump_good").d
	require.Len(t, good.Thought, 1)
	require.Equal(t, ThoughtKept, good.Thought[0].Why)
	require.Empty(t, script(t, "quiet_pump_swapper").d.Thought, "a board that was not used keeps nobody")
	c := open(t, "quiet_pump")
	d := grade(t, c, perform(t, c.Config, "finish pump_worn unit air_pump"))
	require.Len(t, d.Thought, 1)
	require.Zero(t, d.Thought[0].PartsAt)
	require.Empty(t, d.Thought[0].Lines)
	require.Contains(t, d.Thought[0].Says, "one more reading was needed")

	for id, says := range map[string]string{"ghost": `has no suspect "ghost"; there are: `, c.Config.Order.Truth.Fault: "is the fault itself"} {
		bad := *c
		bad.Belief, bad.Thought = c.Belief.Clone(), []string{id}
		_, err := Grade(context.Background(), bad, perform(t, c.Config, "finish pump_worn unit air_pump"))
		require.ErrorContains(t, err, says)
	}
}

// What was written down beforehand is held against the reading that came, and adds to reasoning within the rubric's bound.
func TestPredictions(t *testing.T) {
	c := open(t, "quiet_pump")
	d := grade(t, c, perform(t, c.Config, wrongly...))
	require.Len(t, d.Predictions, 3)
	p := d.Predictions[0]
	require.Equal(t, 6, p.ReadingSeq)
	require.True(t, p.Judged)
	require.True(t, p.Right, p.Verdict)
	require.Len(t, p.SplitSaid, 2)
	require.Equal(t, []string{"air pump worn with high preload"}, p.SplitHappened)
	p = d.Predictions[1]
	require.Equal(t, 8, p.ReadingSeq)
	require.True(t, p.Right, p.Verdict)
	require.Contains(t, p.Verdict, "Expected at least 1 V, read ")
	p = d.Predictions[2]
	require.Zero(t, p.ReadingSeq)
	require.False(t, p.Judged)
	require.Equal(t, "No reading in V came after it.", p.Verdict)

	silent := slices.DeleteFunc(slices.Clone(wrongly), func(l string) bool { return l[:3] == "pre" })
	silent[len(silent)-1] = "finish pump_worn unit pump_ground proof 6"
	plain := grade(t, c, perform(t, c.Config, silent...))
	require.Equal(t, mark(t, plain, "reasoning").Score+c.Rubric.Points.Prediction, mark(t, d, "reasoning").Score)
	require.Equal(t, plain.Choices, d.Choices)
	require.Contains(t, mark(t, d, "reasoning").Reason, "2 of 2 predictions were borne out")
}

// A prediction that can't fail earns nothing, and a wrong one takes its share from the right ones.
func TestPredictionsThatEarnNothing(t *testing.T) {
	c := open(t, "quiet_pump")
	everybody := "predict something happens splits"
	for _, s := range c.Belief.Suspects() {
		everybody += " " + s.ID
	}
	rest := []string{"remove relay", "jump rly_30 rly_87 12awg 40A", "listen pump", "unjump rly_30 rly_87", "refit relay", "finish pump_ground_corroded unit pump_ground"}
	d := grade(t, c, perform(t, c.Config, append([]string{everybody, "predict it will be slow", "predict 12 V at the plug", "predict slow splits diaphragm_torn"}, rest...)...))
	require.Len(t, d.Predictions, 4)
	require.False(t, d.Predictions[0].Right)
	require.Contains(t, d.Predictions[1].Verdict, "Expected slow, read slow: borne out")
	require.True(t, d.Predictions[1].Right)
	require.Equal(t, "No reading in V came after it.", d.Predictions[2].Verdict)
	for _, i := range []int{0, 2} {
		require.False(t, d.Predictions[i].Judged, "%d %s", i, d.Predictions[i].Verdict)
	}
	require.True(t, d.Predictions[3].Judged)
	require.True(t, d.Predictions[3].Right, d.Predictions[3].Verdict)
}

// Words and codes are held against the class of what was read, as numbers are; "not" turns them round.
func TestExpectedWords(t *testing.T) {
	c := open(t, "quiet_pump")
	g := &grader{Case: *c}
	slow := bench.Finding{Percepts: []bench.Percept{{Sense: bench.Ear, Key: "whine", Of: "pump", Word: "slow"}, {Sense: bench.Ear, Key: "click", Of: "solenoid", Word: "no click"}}}
	codes := bench.Finding{Percepts: []bench.Percept{{Sense: bench.Scan, Key: "code", Of: "stored", Word: "P0491"}}}
	for _, x := range []struct {
		text         string
		f            bench.Finding
		names, right bool
	}{
		{"the pump will be slow", slow, true, true}, {"normal", slow, true, false}, {"it is not slow", slow, true, false}, {"not normal", slow, true, true},
		{"slowly does it", slow, false, false}, {"no click", slow, true, true}, {"it clicks", slow, true, false},
		{"P0491", codes, true, true}, {"p0411 stored", codes, true, false}, {"not P0411", codes, true, true}, {"P0491", slow, false, false}, {"slow", codes, false, false},
	} {
		names, right, _, _ := g.wordIn(x.text, x.f)
		require.Equal(t, x.names, names, x.text)
		if names {
			require.Equal(t, x.right, right, x.text)
		}
	}
}

// A reading that leaves only the suspect named has parted it from the others, though it is the others that fell.
func TestWhatIsLeftWasSplit(t *testing.T) {
	c := open(t, "quiet_pump")
	d := grade(t, c, perform(t, c.Config, "look pump", "remove relay", "meter volts pump_2h bat_neg", "jump rly_30 rly_87 12awg 40A", "listen pump",
		"predict over 3 V splits pump_ground_corroded", "read meter", "unjump rly_30 rly_87", "meter off", "refit relay", "finish pump_ground_corroded unit pump_ground"))
	require.Len(t, d.Predictions, 1)
	require.True(t, d.Predictions[0].Right, d.Predictions[0].Verdict)
	require.Contains(t, d.Predictions[0].Verdict, "parted those it names from the others")
}

func TestExpectedNumbers(t *testing.T) {
	volts := func(v float64) bench.Percept {
		return bench.Percept{Sense: bench.Meter, Key: "volts", Value: v, Unit: "V"}
	}
	for text, shown := range map[string]struct{ yes, no float64 }{
		"12.6 V at the plug":     {-12.5, 9},
		"about 400 mV":           {0.3, 0.6},
		"3,4 volts":              {3, 4},
		"over 2 V":               {-6, 0.5},
		"less than 0.1 V":        {0.02, 0.4},
		"-12.6 V, leads swapped": {-12.5, 12.5},
	} {
		q, ok := expected(text)
		require.True(t, ok, text)
		require.True(t, q.is(volts(shown.yes)), "%s: %v", text, q)
		require.False(t, q.is(volts(shown.no)), "%s: %v", text, q)
	}
	for _, text := range []string{"slow", "P0411", "5", "30 Vans", "x12 V", ""} {
		_, ok := expected(text)
		require.False(t, ok, text)
	}
	q, ok := expected("5 kohm")
	require.True(t, ok)
	require.True(t, q.is(bench.Percept{Sense: bench.Meter, Key: "ohms", Value: 4800, Unit: "ohm"}))
}

// A run of the engine during which somebody listened is a decision to listen, though the starting of it began the cost.
func TestPractiseJoinedSteps(t *testing.T) {
	c := open(t, "quiet_pump")
	d := grade(t, c, perform(t, c.Config, "extract on", "start", "watch 60", "listen pump", "stop", "finish pump_ground_corroded unit pump_ground"))
	require.Equal(t, KindLooking, d.Practise.Kind)
	require.Equal(t, 2, d.Practise.Moments[0].Seq)
	require.NotEmpty(t, d.Practise.Moments[0].Better)
}

// What to practise is the charged minutes of the timeline, divided by kind, and nothing beside them.
func TestPractise(t *testing.T) {
	for name, kind := range map[string]string{"quiet_pump_swapper": KindParts, "quiet_pump_good": ""} {
		d := script(t, name).d
		p := d.Practise
		require.Equal(t, kind, p.Kind, name)
		require.NotEmpty(t, p.Says)
		sum, charged := 0.0, 0.0
		for i, k := range p.Kinds {
			sum += k.Minutes
			require.True(t, i == 0 || k.Minutes <= p.Kinds[i-1].Minutes)
		}
		worst := 0.0
		for _, s := range d.Steps {
			if s.Counts() {
				charged += tenth(s.Charged) // as it is written
			}
			worst = max(worst, tenth(s.Charged))
		}
		require.InDelta(t, charged, sum, 1e-9)
		require.LessOrEqual(t, len(p.Moments), 3)
		if kind != "" {
			require.Equal(t, worst, p.Moments[0].Minutes)
			require.Equal(t, p.Kinds[0].Minutes, p.Minutes)
		}
		require.Nil(t, p.Next, "no orders were offered")
	}
}

func TestNextOrder(t *testing.T) {
	list := []Candidate{
		{Order: "a", Minutes: 60, Kinds: map[string]float64{KindVacuum: 30, KindScan: 30}},
		{Order: "b", Minutes: 80, Kinds: map[string]float64{KindVacuum: 40, KindElectric: 40}},
		{Order: "c", Minutes: 100, Kinds: map[string]float64{KindElectric: 20, KindScan: 9, KindParts: 71}},
		// Long repairs don't lessen what there is to find out.
		{Order: "d", Minutes: 200, Kinds: map[string]float64{KindLooking: 4, KindScan: 4, KindAir: 0.4, KindParts: 191.6}},
		{Order: "e", Minutes: 20, Kinds: map[string]float64{KindLooking: 4, KindScan: 6, KindParts: 10}},
	}
	msg, err := messages.Load("en")
	require.NoError(t, err)
	for _, x := range []struct {
		done, kind string
		par        float64
		want       string
	}{
		{"c", KindVacuum, 100, "a"},   // equal shares: the first
		{"a", KindVacuum, 60, "b"},    // never the one that was done
		{"a", KindElectric, 60, "c"},  // share, not minutes, and of finding out alone
		{"c", KindElectric, 100, "b"}, //
		{"a", KindLooking, 60, "d"},   // though e's plan as a whole has the larger share
		{"a", "", 60, "b"},            // nothing to mend: the next longer
		{"d", "", 200, ""},
		{"a", KindAir, 60, ""},     // next to nothing is not worth an order
		{"b", KindParts, 80, "a"},  // parts went on unproven: where most is to be found out before one does
		{"a", KindVacuum, 60, "b"}, //
		{"b", KindSetUp, 80, ""},   //
	} {
		n := next(msg, list, x.done, x.kind, x.par)
		if x.want == "" {
			require.Nil(t, n, "%+v", x)
			continue
		}
		require.NotNil(t, n, "%+v", x)
		require.Equal(t, x.want, n.Order, "%+v", x)
	}
	n := next(msg, list, "a", KindLooking, 60)
	require.Contains(t, n.Says, "Of the 8.4 minutes that its plan spends on finding out, 4.0 go to looking")
}

// Of the orders that come with the program none spends enough on measuring for it to be practised there: then none is named.
func TestNextOrderShipped(t *testing.T) {
	msg, err := messages.Load("en")
	require.NoError(t, err)
	list, err := shippedCandidates()
	require.NoError(t, err)
	var all []Candidate
	for _, r := range list {
		all = append(all, r.Candidate)
	}
	for _, kind := range kinds {
		n := next(msg, all, "", kind, 0)
		for _, c := range all {
			if n == nil {
				require.False(t, c.Kinds[kind] >= worthMinutes && c.Kinds[kind] >= worthShare*c.findingOut(), "%s: %s", kind, c.Order)
			} else if c.Order == n.Order {
				require.GreaterOrEqual(t, c.share(kind), worthShare)
			}
		}
	}
}

// The minutes of an order's plan by kind add up to its par.
func TestCandidates(t *testing.T) {
	c := open(t, "quiet_pump")
	name, data, err := scenarios.ProceduresFile(c.Config.Order.Car)
	require.NoError(t, err)
	procs, err := dictionary.Parse(name, data)
	require.NoError(t, err)
	got, err := candidate(context.Background(), c.Dictionary, procs)
	require.NoError(t, err)
	sum := 0.0
	for _, m := range got.Kinds {
		sum += m
	}
	require.InDelta(t, got.Minutes, sum, 1e-6)
	require.Positive(t, got.Kinds[KindParts])
	for id, kind := range map[string]string{"look_pump": KindLooking, "codes": KindScan, "actuate_clamp": KindElectric, "actuate_listen_pump": KindLooking,
		"actuate_tailpipe": KindAir, "bridge_volts": KindElectric, "solenoid_ohms": KindElectric} {
		p, err := procs.Find(id)
		require.NoError(t, err)
		require.Equal(t, kind, kindOfSteps(p.Steps), id)
	}
}

// What a line cost is never told as nothing: small parts of a minute are told, and smaller ones are forgotten.
func TestWhatCostMostIsTold(t *testing.T) {
	msg, err := messages.Load("en")
	require.NoError(t, err)
	for charged, want := range map[float64]string{0.01: "Every step was as good as the best", 0.43: "Line 3 cost most: 0.4.", 6.9: "Line 3 cost most: 6.9."} {
		g := grader{d: &Debrief{Steps: []Step{{Seq: 3, Graded: true, Charged: charged}}}}
		g.Words = msg
		require.Contains(t, g.economyReason(), want)
	}
}
