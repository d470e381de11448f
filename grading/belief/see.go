package belief

import (
	"context"
	"errors"
	"fmt"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// Silent says that an action is of the notebook: it touches no car and tells nothing.
func Silent(v bench.Verb) bool {
	switch v {
	case bench.Note, bench.Strike, bench.Unstrike, bench.Predict, bench.Finish:
		return true
	}
	return false
}

// See takes the next finding of the attempt: every suspect's world does the same action, and those that give another class are
// struck.
func (b *Belief) See(ctx context.Context, f bench.Finding) (Step, error) {
	st := Step{Finding: f, Before: b.Left()}
	b.seen = append(b.seen, f)
	if Silent(f.Action.Verb) {
		st.After, st.Parts = st.Before, []plan.Set{st.Before}
		b.steps = append(b.steps, st)
		return st, nil
	}
	err := b.each(ctx, b.all(), func(_ int, w *world) error { return w.do(ctx, f.Action) })
	if err != nil {
		return st, fmt.Errorf("line %d in a suspect's world: %w", f.Seq, err)
	}
	st.Parts = b.parts(f.Percepts, st.Before)
	for i, family := range b.worlds {
		if b.dead[i] {
			continue
		}
		fits, standing := false, false
		was := make([]bool, len(family))
		for k, w := range family {
			was[k] = !w.out
			standing = standing || was[k]
			if !w.out && (w.refused != "" || !same(w.last, f.Percepts)) {
				w.out = true
			}
			fits = fits || !w.out
		}
		if !fits && standing {
			if w := b.refine(ctx, i, was); w != nil {
				b.worlds[i] = insert(family, w)
				continue
			}
			b.dead[i] = true
			st.Strikes = append(st.Strikes, strike(i, family, was, f.Percepts))
		}
	}
	if err := ctx.Err(); err != nil {
		return st, err
	}
	st.After = b.Left()
	b.steps = append(b.steps, st)
	for i, family := range b.worlds {
		if b.dead[i] {
			for _, w := range family {
				w.b = nil // struck worlds stop running
			}
		}
	}
	return st, nil
}

// do carries an action out in this world. A refusal is an outcome: the hands would have noticed.
func (w *world) do(ctx context.Context, a bench.Action) error {
	if w.refused != "" {
		return nil
	}
	f, err := w.b.Do(ctx, a)
	var no *bench.Refusal
	switch {
	case errors.As(err, &no):
		w.refused, w.last = no.Missing, nil
		return nil
	case err != nil:
		return err
	}
	w.last = f.Percepts
	return nil
}

func same(a, b []bench.Percept) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Class() != b[i].Class() {
			return false
		}
	}
	return true
}

// parts groups the standing cells by what they gave; the part that was seen comes first.
func (b *Belief) parts(seen []bench.Percept, before plan.Set) []plan.Set {
	parts := []plan.Set{{}}
	samples := []*world{nil}
	for i, family := range b.worlds {
		if b.dead[i] {
			continue
		}
		for _, w := range family {
			if w.out {
				continue
			}
			at := -1
			for k := range parts {
				switch {
				case k == 0:
					if w.refused == "" && same(w.last, seen) {
						at = 0
					}
				case samples[k].refused == w.refused && same(samples[k].last, w.last):
					at = k
				}
				if at >= 0 {
					break
				}
			}
			if at < 0 {
				parts = append(parts, plan.Set{})
				samples = append(samples, w)
				at = len(parts) - 1
			}
			parts[at] = parts[at].With(w.cell)
		}
	}
	// A refined world may have joined a cell that another part holds already; the cell counts where it was seen.
	for k := 1; k < len(parts); k++ {
		parts[k] = parts[k].Minus(parts[0]).And(before)
	}
	return parts
}

func insert(family []*world, w *world) []*world {
	for i := range family {
		if family[i].severity > w.severity {
			family = append(family[:i:i], append([]*world{w}, family[i:]...)...)
			return family
		}
	}
	return append(family, w)
}

// strike tells why a family fell, by its first member that had stood until now: two readings of the same thing that differ in class
// where there are such, else what was seen and would not have been, or what would have been and was not seen.
func strike(suspect int, family []*world, was []bool, seen []bench.Percept) Strike {
	out := Strike{Suspect: suspect}
	k := 0
	for !was[k] {
		k++
	}
	w := family[k]
	out.Severity, out.Refused = w.severity, w.refused
	if w.refused != "" {
		if len(seen) > 0 {
			out.Seen = seen[0]
		}
		return out
	}
	for i, p := range seen {
		// The n-th reading of a thing is held against the n-th of the same thing.
		if q, ok := nth(w.last, p, count(seen[:i], p)); ok && q.Class() != p.Class() {
			out.Seen, out.Predicted = p, q
			return out
		}
	}
	// Nothing was read in both worlds with another result: what only one of them showed, then.
	for i, p := range seen {
		if _, ok := nth(w.last, p, count(seen[:i], p)); !ok {
			out.Seen = p
			break
		}
	}
	for i, q := range w.last {
		if _, ok := nth(seen, q, count(w.last[:i], q)); !ok {
			out.Predicted = q
			break
		}
	}
	if out.Seen.Key != "" || out.Predicted.Key != "" {
		return out
	}
	// The same things in another order.
	for i := range seen {
		if seen[i].Class() != w.last[i].Class() {
			out.Seen, out.Predicted = seen[i], w.last[i]
			break
		}
	}
	return out
}

func alike(p, q bench.Percept) bool { return p.Key == q.Key && p.Of == q.Of }

// count is how often a thing was read.
func count(list []bench.Percept, of bench.Percept) int {
	n := 0
	for _, p := range list {
		if alike(p, of) {
			n++
		}
	}
	return n
}

// nth is the n-th reading of a thing, from 0.
func nth(list []bench.Percept, of bench.Percept, n int) (bench.Percept, bool) {
	for _, p := range list {
		if alike(p, of) {
			if n == 0 {
				return p, true
			}
			n--
		}
	}
	return bench.Percept{}, false
}
