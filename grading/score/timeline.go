package score

import (
	"context"
	"fmt"
	"math"
	"strings"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// timeline tells the attempt step by step.
func (g *grader) timeline(ctx context.Context) error {
	k := 0
	for _, s := range g.path {
		f := g.findings[s.last]
		step := Step{Seq: f.Seq, Minute: (f.Start + f.Seconds) / 60, Seconds: f.Start + f.Seconds - g.findings[s.first].Start, Showed: []string{}, Ruled: []Ruled{}}
		var did []string
		for i := s.first; i <= s.last; i++ {
			did = append(did, g.Speaker.Action(g.findings[i].Action))
			for _, p := range g.findings[i].Percepts {
				step.Showed = append(step.Showed, g.Speaker.Percept(p))
				if step.Physics == "" {
					step.Physics = g.physics(p, i)
				}
			}
			for _, h := range g.findings[i].Hazards {
				step.Showed = append(step.Showed, g.Speaker.Hazard(h))
			}
			step.Ruled = append(step.Ruled, g.ruled(i)...)
		}
		step.Did = strings.Join(did, "; ")
		step.Left = g.names(g.b.Steps()[s.last].After)
		if s.graded {
			e, o := g.acc.Entries[k], g.even.Entries[k]
			k++
			step.Graded = true
			step.Regret = minutes(e.Regret)
			charged := e.Charged
			if o.Charged.Cmp(charged) < 0 {
				charged = o.Charged
			}
			step.Charged = minutes(charged)
			if charged.Sign() > 0 {
				better, err := g.better(ctx, s.before, s.config, s.repair)
				if err != nil {
					return err
				}
				step.Better = better
			}
		}
		g.d.Steps = append(g.d.Steps, step)
	}
	return nil
}

// better tells what the plan would have done instead and why.
func (g *grader) better(ctx context.Context, before plan.Set, config int, repair bool) (string, error) {
	best, _, err := g.p.Best(ctx, before, config)
	if err != nil || len(best) == 0 {
		return "", err
	}
	d := g.Dictionary
	c := best[0]
	left := g.names(before)
	switch c.Act {
	case plan.ActTest:
		t := d.Tests[c.Index]
		groups := map[int]bool{}
		for i := range before.All() {
			groups[t.Row[i]] = true
		}
		say := fmt.Sprintf("%s: it takes %s and splits the %d suspects left into %d groups", t.Name, bench.Clock(float64(t.Seconds)), len(left), len(groups))
		if repair {
			say += "; a part goes on when the readings leave only its unit"
		}
		return say, nil
	case plan.ActRepair:
		if repair {
			return "repair: " + d.Units[c.Index].Name, nil
		}
		return fmt.Sprintf("the readings had proven it already: repair %s and verify", d.Units[c.Index].Name), nil
	}
	return "", nil
}

// ruled tells whom a finding ruled out, with what was seen against what the suspect's car would have shown.
func (g *grader) ruled(i int) []Ruled {
	var out []Ruled
	for _, st := range g.b.Steps()[i].Strikes {
		s := g.b.Suspects()[st.Suspect]
		r := Ruled{Suspect: s.ID, Name: s.Name, Seen: st.Seen, Predicted: st.Predicted}
		switch {
		case st.Refused != "":
			r.Says = "that could not have been done: " + st.Refused
		case st.Predicted.Key == "":
			r.Says = fmt.Sprintf("it would not have shown this (%s)", g.Speaker.Percept(st.Seen))
		case st.Seen.Key == "":
			r.Says = "it would have shown: " + g.Speaker.Percept(st.Predicted)
		default:
			r.Says = fmt.Sprintf("it would have shown %s, not %s", short(st.Predicted), short(st.Seen))
		}
		out = append(out, r)
	}
	return out
}

// short is a percept's value or word alone.
func short(p bench.Percept) string {
	s := p.Word
	if s == "" {
		s = number(p.Value) + " " + p.Unit
	}
	if p.Flag != "" {
		s += " (" + p.Flag + ")"
	}
	return strings.TrimSpace(s)
}

func number(v float64) string {
	s := fmt.Sprintf("%.3f", v)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// physics puts one line of physics to a reading, with numbers that come from the true car at that moment.
func (g *grader) physics(p bench.Percept, i int) string {
	amps := math.Abs(g.at[i+1].amps)
	v := math.Abs(p.Value)
	switch {
	case p.Key == "volts" && p.Flag == "" && amps > 3 && v >= 0.02 && v < 9:
		return fmt.Sprintf("The pump drew %.1f A then: %s V lost there is %s ohm, if that is the pump's own path.", amps, number(p.Value), number(math.Round(v/amps*1000)/1000))
	case p.Key == "volts" && p.Flag == "" && amps < 0.5 && v > 9:
		return "Nothing but the meter's own 10 Mohm loaded the circuit: a joint of some ohms does not show like this, only under load."
	case p.Key == "volts" && p.Flag == "" && amps > 3 && v >= 9:
		return fmt.Sprintf("Measured under load, with %.1f A in the pump.", amps)
	case p.Key == "amps" && v > 3:
		return "Current follows load: less air to move or less voltage lowers it, a stiff or dead-headed pump raises it."
	case p.Key == "drop" && v < 2:
		return "It holds: nothing leaks between the hand pump and where it ends."
	case p.Key == "drop":
		return fmt.Sprintf("It loses %s kPa: air gets in faster than a healthy part lets it.", number(p.Value))
	case p.Key == "vacuum" && v < 5:
		return "No vacuum builds up: the strokes only move the air that comes in again."
	case p.Key == "flow" && p.Of == "tailpipe" && p.Word == "none":
		return "No air at the tailpipe means that pump, valve or passages stop it, or that there was no vacuum to open the valve."
	case p.Key == "flow" && p.Of == "tailpipe":
		return "Air at the tailpipe has passed pump, pipe, valve and passages: all of them work."
	}
	return ""
}
