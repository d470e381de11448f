package score

import (
	"strings"

	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/regret"
	"coldbay/sim/bench"
)

// underway knows which of the dictionary's tests an attempt is in the middle of.
type underway struct {
	d        *plan.Dictionary
	procs    *dictionary.Procedures
	night    int64
	findings []bench.Finding
	at       []moment
	begun    []begun
}

// begun is a test that the attempt has done the beginning of, and nothing else since.
type begun struct {
	test, post int
	proc       *dictionary.Procedure
	done       int   // actions
	base       int   // finding that it began with
	first      int   // stretch that this is in
	lead       int64 // s of that stretch before it
}

// upTo goes on with a stretch, the n-th, of findings first..last, and tells which tests it is in the middle of or has ended.
func (u *underway) upTo(n, first, last int) []regret.Within {
	if u.procs == nil {
		return nil
	}
	var still []begun
	for _, b := range u.begun {
		if b.goOn(u.actions(first, last)) {
			still = append(still, b)
		}
	}
	for base := first; base <= last; base++ {
		if f := u.findings[base]; belief.Silent(f.Action.Verb) || u.at[base].undo > 0 || u.at[base].rpm > 0 {
			continue
		}
		actions := u.actions(base, last)
		for t := range u.d.Tests {
			for _, p := range u.d.Tests[t].At {
				if p.Pre != config(&u.at[base]) {
					continue
				}
				id, _, _ := strings.Cut(u.d.Tests[t].ID, "@")
				proc, err := u.procs.Find(id)
				if err != nil {
					continue // a test that nothing is known of but its outcomes
				}
				b := begun{test: t, post: p.Post, proc: proc, base: base, first: n}
				if b.goOn(actions) {
					b.lead = max(0, u.seconds(first, base-1))
					still = append(still, b)
				}
			}
		}
	}
	u.begun = still
	var out []regret.Within
	for _, b := range still {
		out = append(out, regret.Within{Test: b.test, Post: b.post, First: b.first, Lead: b.lead,
			Rest: max(0, u.d.Tests[b.test].Seconds-u.seconds(b.base, last)), Over: b.proc.Over(b.done)})
	}
	return out
}

func (b *begun) goOn(actions []bench.Action) bool {
	if !b.proc.Goes(b.done, actions) {
		return false
	}
	b.done += len(actions)
	return true
}

// actions are what was done in findings first..last, the notebook left out.
func (u *underway) actions(first, last int) []bench.Action {
	var out []bench.Action
	for _, f := range u.findings[first : last+1] {
		if !belief.Silent(f.Action.Verb) {
			out = append(out, f.Action)
		}
	}
	return out
}

// seconds are those of findings first..last, with what it takes to undo them.
func (u *underway) seconds(first, last int) int64 {
	if last < first {
		return 0
	}
	return spent(u.findings, first, last, u.night) + int64(u.at[last+1].undo-u.at[first].undo)
}
