package belief

import (
	"context"
	"slices"
	"sync"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// refineSteps bounds a bisection: at 2^-12 of a grid step of severity it finds what two readings leave between an edge of the one and an edge
// of the other. A family that is out mostly shows it within a few.
const refineSteps = 12

// rescue looks for a world of a suspect that fits the whole attempt so far when none of those that ran does; nil: no severity in no draw
// fits. A severity is sought between the worlds of one draw, then other cars of the spread are tried at the severity that came
// nearest, and between there and what they gave before.
func (b *Belief) rescue(ctx context.Context, suspect int) *world {
	family := b.worlds[suspect]
	seen := b.seen[len(b.seen)-1].Percepts
	near := nearest(family, seen)
	if near == nil {
		return nil
	}
	lines := make([][]*world, draws) // by draw
	for _, w := range family {
		for len(lines) <= w.Draw {
			lines = append(lines, nil)
		}
		lines[w.Draw] = append(lines[w.Draw], w)
	}
	for _, line := range lines {
		if w := b.bisect(ctx, suspect, line); w != nil {
			return w
		}
	}
	if near.refused != "" || b.alone {
		return nil // what the hands can't do is no matter of a car's tolerances
	}
	for draw, line := range lines[:draws] {
		at := plan.World{Severity: near.Severity, Draw: draw}
		if slices.ContainsFunc(line, func(w *world) bool { return w.World == at }) {
			continue
		}
		w, fell := b.try(ctx, suspect, at)
		switch {
		case w == nil:
			return nil
		case fell < 0:
			w.cell = near.cell
			return w
		case fell == len(b.seen)-1 && w.refused == "":
			w.out, w.stood, w.cell = true, true, near.cell
			if w := b.bisect(ctx, suspect, insert(line, w)); w != nil {
				return w
			}
		}
	}
	return b.otherTimes(ctx, suspect, near)
}

// otherTimes looks for a draw in which a fault that comes and goes by chance was there and gone at the times that fit the whole attempt
// so far. A draw that contradicts an attempt contradicts whatever it goes on to be, so each is tried once.
func (b *Belief) otherTimes(ctx context.Context, suspect int, near *world) *world {
	for b.suspects[suspect].Chance && b.next[suspect] < mostDraws {
		at := plan.World{Severity: near.Severity, Draw: b.next[suspect]}
		b.next[suspect]++
		if slices.ContainsFunc(b.worlds[suspect], func(w *world) bool { return w.World == at }) {
			continue
		}
		w, fell := b.try(ctx, suspect, at)
		switch {
		case w == nil:
			return nil
		case fell < 0:
			w.cell = near.cell
			return w
		}
	}
	return nil
}

// bisect looks for a severity between two neighbours of one draw whose last percepts bracket the one seen, so that the world fits the whole
// attempt so far.
//
// Neighbours bracket when at least one of them stood before this action and what was seen may lie between what they gave now.
// Between such a pair the readings of a family change steadily; a middle that gives the one side's class moves that side.
func (b *Belief) bisect(ctx context.Context, suspect int, line []*world) *world {
	now := b.seen[len(b.seen)-1].Percepts
	for k := 0; k+1 < len(line); k++ {
		lo, hi := line[k], line[k+1]
		if !lo.stood && !hi.stood || lo.at != len(b.seen) || hi.at != len(b.seen) || lo.refused != "" || hi.refused != "" || !between(lo.last, hi.last, now) {
			continue
		}
		a, z := lo.Severity, hi.Severity
		for range refineSteps {
			if ctx.Err() != nil {
				return nil
			}
			mid := plan.World{Severity: (a + z) / 2, Draw: lo.Draw}
			w, at := b.try(ctx, suspect, mid)
			if w == nil {
				return nil
			}
			if at < 0 {
				w.cell = hi.cell
				if mid.Severity-lo.Severity < hi.Severity-mid.Severity {
					w.cell = lo.cell
				}
				return w
			}
			low := !lo.stood // it fell earlier than the neighbour that stood: go towards that one
			if at == len(b.seen)-1 {
				low = same(w.last, lo.last) || !same(w.last, hi.last) && closer(w.last, lo.last, now)
			}
			if low {
				a = mid.Severity
			} else {
				z = mid.Severity
			}
		}
	}
	return nil
}

// between says whether seen may lie between the readings of two neighbours: they differ in some reading, agree with seen where they
// agree with each other, and where they differ in a number, seen's bin is none outside theirs.
func between(lo, hi, seen []bench.Percept) bool {
	if same(lo, hi) {
		return false
	}
	if len(lo) != len(hi) || len(lo) != len(seen) {
		return true // something shows or does not; where it begins to can't be told from here
	}
	for i := range seen {
		a, z, s := lo[i].Class(), hi[i].Class(), seen[i].Class()
		switch {
		case s == a || s == z:
		case a == z:
			return false
		case lo[i].Key != seen[i].Key || lo[i].Of != seen[i].Of || hi[i].Key != seen[i].Key || hi[i].Of != seen[i].Of:
			return true // other things, or the same in another order
		case a.Word == "" && z.Word == "" && s.Word == "" && (s.Bin < min(a.Bin, z.Bin) || s.Bin > max(a.Bin, z.Bin)):
			return false
		}
	}
	return true
}

// try runs a world of a suspect through the attempt; at is the index of the first finding that it does not share, -1 when it fits.
func (b *Belief) try(ctx context.Context, suspect int, of plan.World) (w *world, at int) {
	l, err := b.waiting.car(b, guess{suspect, of})
	if err != nil {
		return nil, 0
	}
	w = &world{World: of, b: l, at: len(b.seen)}
	for i, f := range b.seen {
		if Silent(f.Action.Verb) {
			continue
		}
		if err := w.do(ctx, f.Action); err != nil || ctx.Err() != nil {
			return nil, 0
		}
		if w.refused != "" || !same(w.last, f.Percepts) {
			return w, i
		}
	}
	return w, -1
}

// guess is a world that a search tries.
type guess struct {
	suspect int
	of      plan.World
}

// waiting are the cars of guesses as they come in. A search halves the same stretches again at every reading, and to live an order's history
// anew takes longer than most attempts. A belief and its clones share them.
type waiting struct {
	sync.Mutex
	cars map[guess]*bench.Local
}

// mostWaiting bounds the cars that are kept; each takes some kilobytes.
const mostWaiting = 512

func (w *waiting) car(b *Belief, g guess) (*bench.Local, error) {
	w.Lock()
	if l := w.cars[g]; l != nil {
		defer w.Unlock()
		return l.Clone(), nil
	}
	w.Unlock()
	l, err := b.bench(g.suspect, g.of)
	if err != nil {
		return nil, err
	}
	w.Lock()
	defer w.Unlock()
	if len(w.cars) < mostWaiting {
		w.cars[g] = l.Clone()
	}
	return l, nil
}

// closer says whether a middle's readings lie on lo's side of the ones seen: by the first number that differs.
func closer(mid, lo, seen []bench.Percept) bool {
	for i := range seen {
		if i >= len(mid) || i >= len(lo) {
			return false
		}
		if mid[i].Class() == seen[i].Class() || mid[i].Word != "" {
			continue
		}
		return (mid[i].Value > seen[i].Value) == (lo[i].Value > seen[i].Value)
	}
	return false
}
