package belief

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

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
	if len(b.cells) > plan.MaxHypotheses {
		return Step{}, fmt.Errorf("order %s: %d cells of suspects, at most %d are allowed", b.cfg.Order.ID, len(b.cells), plan.MaxHypotheses)
	}
	st := Step{Finding: f, Before: b.Left()}
	b.seen = append(b.seen, f)
	if Silent(f.Action.Verb) {
		st.After, st.Parts = st.Before, []plan.Set{st.Before}
		b.steps = append(b.steps, st)
		return st, nil
	}
	jobs := b.all()
	err := each(ctx, b.workers, len(jobs), func(k int) error {
		jobs[k].w.at = len(b.seen)
		return jobs[k].w.do(ctx, f.Action)
	})
	if err != nil {
		return st, fmt.Errorf("line %d in a suspect's world: %w", f.Seq, err)
	}
	st.Parts = b.parts(f.Percepts)
	strikes := make([]*Strike, len(b.suspects))
	err = each(ctx, b.workers, len(b.suspects), func(i int) error {
		if !b.dead[i] {
			strikes[i] = b.judge(ctx, i, f.Percepts)
		}
		return nil
	})
	if err != nil {
		return st, err
	}
	for _, s := range strikes {
		if s != nil {
			st.Strikes = append(st.Strikes, *s)
		}
	}
	st.After = b.Left()
	b.steps = append(b.steps, st)
	return st, nil
}

// judge strikes a suspect's worlds that gave something else than what was seen, and the suspect when no world fits, nor any that
// can be found.
func (b *Belief) judge(ctx context.Context, suspect int, seen []bench.Percept) *Strike {
	family := b.worlds[suspect]
	fits := false
	for _, w := range family {
		w.stood = !w.out
		w.out = w.out || w.refused != "" || !same(w.last, seen)
		fits = fits || !w.out
	}
	if !fits {
		w := b.rescue(ctx, suspect)
		if w == nil {
			if ctx.Err() != nil {
				return nil
			}
			b.dead[suspect] = true
			s := strike(suspect, nearest(family, seen), seen)
			for _, w := range family {
				w.b = nil // struck worlds stop running
			}
			return &s
		}
		b.worlds[suspect] = insert(family, w)
	}
	b.rest(suspect)
	return nil
}

// rest stops struck worlds that no reading can lie beside any more: only next to one that stands can a severity still be found.
func (b *Belief) rest(suspect int) {
	family := b.worlds[suspect]
	beside := func(k int, w *world) bool {
		return k >= 0 && k < len(family) && family[k].Draw == w.Draw && !family[k].out
	}
	for k, w := range family {
		if w.out && !beside(k-1, w) && !beside(k+1, w) {
			w.b = nil
		}
	}
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

// parts groups the standing cells by what they gave; the part that was seen comes first. A cell whose worlds gave different things
// counts where it was seen, else once, with its first world.
func (b *Belief) parts(seen []bench.Percept) []plan.Set {
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
	taken := parts[0]
	for k := 1; k < len(parts); k++ {
		parts[k] = parts[k].Minus(taken)
		taken = taken.Or(parts[k])
	}
	return append(parts[:1], slices.DeleteFunc(parts[1:], plan.Set.Empty)...)
}

func insert(family []*world, w *world) []*world {
	for i := range family {
		if byDraw(family[i].World, w.World) > 0 {
			return append(family[:i:i], append([]*world{w}, family[i:]...)...)
		}
	}
	return append(family[:len(family):len(family)], w)
}

// nearest is the world, of those of a suspect that had stood until now, that came nearest to what was seen: that differs in the fewest
// readings, by the fewest bins, in the order's own car where others are no nearer.
func nearest(family []*world, seen []bench.Percept) *world {
	var out *world
	var least [3]int
	for _, w := range family {
		if !w.stood {
			continue
		}
		d := [3]int{0, 0, w.Draw}
		d[0], d[1] = apart(w.last, seen)
		if w.refused != "" {
			d[0] = math.MaxInt
		}
		if out == nil || slices.Compare(d[:], least[:]) < 0 {
			out, least = w, d
		}
	}
	return out
}

// apart counts the readings that differ, and by how many bins those do that are numbers of the same thing.
func apart(a, b []bench.Percept) (readings, bins int) {
	readings = max(len(a), len(b)) - min(len(a), len(b))
	for i := range min(len(a), len(b)) {
		x, y := a[i].Class(), b[i].Class()
		if x == y {
			continue
		}
		readings++
		if alike(a[i], b[i]) && x.Word == "" && y.Word == "" {
			bins += max(x.Bin, y.Bin) - min(x.Bin, y.Bin)
		}
	}
	return readings, bins
}

// strike tells why a family fell, by the world that came nearest: two readings of the same thing that differ in class where there are
// such, else what was seen and would not have been, or what would have been and was not seen.
func strike(suspect int, w *world, seen []bench.Percept) Strike {
	out := Strike{Suspect: suspect, Severity: w.Severity, Draw: w.Draw, Refused: w.refused}
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
