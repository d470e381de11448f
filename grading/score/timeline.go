package score

import (
	"context"
	"strconv"
	"strings"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// timeline tells the attempt step by step.
func (g *grader) timeline(ctx context.Context) error {
	k, head, counted, mended := 0, 0, int64(0), false
	for _, s := range g.path {
		f := g.findings[s.last]
		step := Step{Seq: f.Seq, Minute: (f.Start + f.Seconds) / 60, Seconds: f.Start + f.Seconds - g.findings[s.first].Start, Showed: []string{}, Ruled: []Ruled{}}
		for i := s.first; i <= s.last; i++ {
			for _, p := range g.findings[i].Percepts {
				step.Showed = append(step.Showed, g.Speaker.Percept(p))
				if step.Physics == "" {
					step.Physics = g.physics(p, i)
				}
			}
			for _, h := range g.findings[i].Hazards {
				step.Showed = append(step.Showed, g.Speaker.Hazard(h))
			}
			ruled, err := g.ruled(ctx, i)
			if err != nil {
				return err
			}
			step.Ruled = append(step.Ruled, ruled...)
		}
		mended = mended || s.repair
		step.Did = g.did(s.first, s.last)
		step.Left = g.names(g.b.Steps()[s.last].After)
		step.ParLeft = -1
		if s.graded {
			e, o := g.acc.Entries[k], g.even.Entries[k]
			k++
			step.Graded = true
			counted += s.step.Seconds
			step.ParLeft = len(g.names(g.planLeft(counted)))
			step.Regret = minutes(e.Regret)
			if s.step.Joined {
				g.d.Steps[head].Cost += step.Regret
			} else {
				head, step.Cost = len(g.d.Steps), step.Regret
			}
			charged := e.Charged
			if o.Charged.Cmp(charged) < 0 {
				charged = o.Charged
			}
			step.Charged = minutes(charged)
			// What a drive after a repair cost beyond the tariff nothing could have saved.
			if verifies := mended && f.Action.Verb == bench.Drive; charged.Sign() > 0 && !verifies {
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

// did puts the actions of a stretch in a row; strikes on the board, which touch no car, are counted.
func (g *grader) did(first, last int) string {
	var did []string
	struck := 0
	board := func() {
		if struck > 0 {
			did = append(did, g.Words.N("grade.strike", struck))
		}
		struck = 0
	}
	for i := first; i <= last; i++ {
		if g.findings[i].Action.Verb == bench.Strike {
			struck++
			continue
		}
		board()
		did = append(did, g.Speaker.Action(g.findings[i].Action))
	}
	board()
	return strings.Join(did, "; ")
}

// planLeft is whom the plan, had the true fault been its own, would have left after so many seconds.
func (g *grader) planLeft(seconds int64) plan.Set {
	left := g.Dictionary.All()
	for _, s := range g.plan.Steps {
		if seconds -= s.Seconds; seconds < 0 {
			break
		}
		left = s.Left
	}
	return left
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
		say := g.Words.N("grade.better.test", len(groups), "test", t.Name, "time", lasts(g.Words, t.Seconds), "left", strconv.Itoa(len(left)))
		if len(left) == 1 {
			say = g.Words.T("grade.better.how", "test", t.Name, "time", lasts(g.Words, t.Seconds))
		}
		if repair {
			say = g.Words.T("grade.better.proof", "what", say)
		}
		return say, nil
	case plan.ActRepair:
		if repair {
			return g.Words.T("grade.step.repair", "unit", d.Units[c.Index].Name), nil
		}
		if d.Units[c.Index].Repair == 0 {
			return g.Words.T("grade.better.nothing"), nil
		}
		return g.Words.T("grade.better.repair", "unit", d.Units[c.Index].Name), nil
	}
	return "", nil
}

// ruled tells whom a finding ruled out, with what was seen against what the suspect's car would have shown.
func (g *grader) ruled(ctx context.Context, i int) ([]Ruled, error) {
	var out []Ruled
	for _, st := range g.b.Steps()[i].Strikes {
		s := g.b.Suspects()[st.Suspect]
		says, err := g.why(ctx, i, st)
		if err != nil {
			return nil, err
		}
		out = append(out, Ruled{Suspect: s.ID, Name: g.called("fault", s.ID, s.Name), Severity: st.Severity, Draw: st.Draw, Seen: st.Seen, Predicted: st.Predicted, Says: says})
	}
	return out, nil
}
