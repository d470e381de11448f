package score

import (
	"math"
	"slices"
	"strings"

	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/regret"
	"coldbay/sim/bench"
)

// stretch is a step of the account: findings first..last, both included, the last one being the one with a reading or a repair.
type stretch struct {
	first, last int
	step        regret.Step
	graded      bool
	before      plan.Set // suspects' cells before it
	config      int
	repair      bool
}

// stretches cuts the attempt at its readings and repairs. Grading of choices ends where the unit was proven and repaired, by
// luck or by proof, or where the order was closed.
func stretches(b *belief.Belief, d *plan.Dictionary, procs *dictionary.Procedures, night int64, findings []bench.Finding, at []moment) []stretch {
	var out []stretch
	left := d.All()
	over := false
	first := 0
	var w work
	tests := underway{d: d, procs: procs, night: night, findings: findings, at: at}
	steps := b.Steps()
	for i, f := range findings {
		if belief.Silent(f.Action.Verb) {
			continue
		}
		repair := f.Action.Verb == bench.Repair
		if len(f.Percepts) == 0 && !repair && f.Action.Verb != bench.Drive {
			continue
		}
		s := stretch{first: first, last: i, before: left, config: config(&at[first]), repair: repair, graded: !over}
		first = i + 1
		if !over {
			seconds := spent(findings, s.first, i, night) + int64(at[i+1].undo-at[s.first].undo)
			if f.Action.Verb == bench.Drive {
				paid := min(w.credit, max(0, seconds))
				seconds -= paid
				w.credit -= paid
			}
			s.step = regret.Step{Seconds: max(0, seconds), Repair: repair}
			if repair {
				tests.begun = nil
				over = w.add(&s, d, f.Action.On, left, config(&at[i+1]))
				if over && !fixed(at[i+1].atFault) {
					// The suspects that would be cured are not the true car: it goes on with the others.
					over = false
					s.step.Seen = len(s.step.Parts) - 1
					w.credit += d.Units[0].Verify
				}
			} else {
				s.step.Parts = joint(steps, s.first, i, left, config(&at[i+1]))
				// A run of the engine is one thing to the plan, however often it is read.
				s.step.Within = tests.upTo(len(out), s.first, i)
				s.step.Joined = len(out) > 0 && (at[s.first].rpm > 0 || slices.ContainsFunc(s.step.Within, func(w regret.Within) bool { return w.First < len(out) }))
				if f.Action.Verb == bench.Drive {
					over = healthy(d, s.step.Parts)
				}
			}
			left = s.step.Parts[s.step.Seen].Left
			if left.Empty() {
				// Only a car that is as no suspect would have it, after an unsafe act say, comes here; choices can't be judged then.
				s.graded, over = false, true
			}
		}
		out = append(out, s)
	}
	return out
}

// healthy ends the job for the suspects that ask for no repair: a drive is their verification. It says whether that was the one seen.
func healthy(d *plan.Dictionary, parts []plan.Part) bool {
	for k := range parts {
		parts[k].Done = !parts[k].Left.Empty() && asked(d, parts[k].Left, "none")
	}
	return parts[0].Done
}

// spent is the bench time of findings first..last in whole seconds, with what a night in the yard counts for.
func spent(findings []bench.Finding, first, last int, night int64) int64 {
	end := findings[last].Start + findings[last].Seconds
	sum := int64(math.Round(end)) - int64(math.Round(findings[first].Start))
	for i := first; i <= last; i++ {
		if v := findings[i].Action.Verb; v == bench.Soak || v == bench.Drive {
			sum += night
		}
	}
	return sum
}

func config(m *moment) int { return dictionary.At(m.warm, m.scan) }

// joint is how the actions first..last together divide the suspects: a suspect leaves with the first action that shows something else.
func joint(steps []belief.Step, first, last int, left plan.Set, after int) []plan.Part {
	parts := []plan.Part{{Config: after}}
	still := left
	for i := first; i <= last; i++ {
		for k, p := range steps[i].Parts {
			if k == 0 {
				continue
			}
			if p = p.And(still); !p.Empty() {
				parts = append(parts, plan.Part{Left: p, Config: after})
				still = still.Minus(p)
			}
		}
		still = still.And(steps[i].After)
	}
	// Cells that the readings struck without giving them a part of their own (a refined neighbour took their place) leave here.
	rest := left
	for _, p := range parts[1:] {
		rest = rest.Minus(p.Left)
	}
	if gone := rest.Minus(still); !gone.Empty() {
		parts = append(parts, plan.Part{Left: gone, Config: after})
	}
	parts[0].Left = still
	return parts
}

// work is what has been repaired so far, and the seconds of repairs that are parts of one still to be completed.
type work struct {
	done    []string
	pending int64
	credit  int64 // s of verification that a repair in vain was charged already
}

// add makes a repair a step. A suspect is cured when all its units have been repaired; a repair that every suspect left asks for
// is part of the job, others are in vain for the suspects that don't ask for it. It says whether the job was cured, by proof or by
// luck.
func (w *work) add(s *stretch, d *plan.Dictionary, unit string, left plan.Set, after int) bool {
	w.done = append(w.done, unit)
	var cured, asking plan.Set
	for i := range left.All() {
		units := strings.Split(d.Units[d.Hypotheses[i].Unit].ID, "+")
		if slices.Contains(units, unit) {
			asking = asking.With(i)
		}
		if !slices.ContainsFunc(units, func(u string) bool { return !slices.Contains(w.done, u) }) {
			cured = cured.With(i)
		}
	}
	verify := d.Units[0].Verify
	s.step.Seconds += w.pending
	w.pending = 0
	switch {
	case cured.Empty() && left.Within(asking):
		// A part of a joint repair: it is counted together with the rest.
		w.pending = s.step.Seconds
		s.step.Seconds = 0
		s.step.Parts = []plan.Part{{Left: left, Config: after}}
		return false
	case cured.Empty():
		s.step.Parts = []plan.Part{{Left: left, Config: after}}
		s.step.Seconds += verify // after a repair one verifies, whether it was right or not
		w.credit += verify
		return false
	}
	s.step.Seconds += verify
	s.step.Parts = []plan.Part{{Left: cured, Config: after, Done: true}}
	if vain := left.Minus(cured); !vain.Empty() {
		s.step.Parts = append(s.step.Parts, plan.Part{Left: vain, Config: after})
	}
	return true
}

// asked says whether every suspect left asks for the unit.
func asked(d *plan.Dictionary, left plan.Set, unit string) bool {
	for i := range left.All() {
		if !slices.Contains(strings.Split(d.Units[d.Hypotheses[i].Unit].ID, "+"), unit) {
			return false
		}
	}
	return !left.Empty()
}

func fixed(atFault []string) bool { return len(atFault) == 0 }
