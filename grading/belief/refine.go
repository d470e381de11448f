package belief

import (
	"context"

	"coldbay/sim/bench"
)

// refineSteps bounds a bisection: 2^-7 of a grid step of severity is finer than any instrument of the bay tells.
const refineSteps = 7

// refine looks for a severity between two neighbours of a family whose last percepts bracket the one seen. It returns
// a world that fits the whole attempt so far, or nil: then no severity fits.
//
// Neighbours bracket when at least one of them stood before this action and what was seen may lie between what they gave now.
// Between such a pair the readings of a family change steadily; a middle that gives the one side's class moves that side.
func (b *Belief) refine(ctx context.Context, suspect int, was []bool) *world {
	family := b.worlds[suspect]
	for k := 0; k+1 < len(family); k++ {
		lo, hi := family[k], family[k+1]
		if !was[k] && !was[k+1] || lo.refused != "" || hi.refused != "" || !between(lo.last, hi.last, b.seen[len(b.seen)-1].Percepts) {
			continue
		}
		anchorLow := was[k]
		a, z := lo.severity, hi.severity
		for range refineSteps {
			if ctx.Err() != nil {
				return nil
			}
			mid := (a + z) / 2
			w, at := b.try(ctx, suspect, mid)
			if w == nil {
				return nil
			}
			if at < 0 {
				w.cell = nearest(lo, hi, mid)
				return w
			}
			low := anchorLow
			if at == len(b.seen)-1 {
				low = same(w.last, lo.last) || !same(w.last, hi.last) && closer(w.last, lo.last, b.seen[at].Percepts)
			} else {
				// It fell earlier than the neighbour that stood: go towards that one.
				low = !anchorLow
			}
			if low {
				a = mid
			} else {
				z = mid
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

func nearest(lo, hi *world, severity float64) int {
	if severity-lo.severity < hi.severity-severity {
		return lo.cell
	}
	return hi.cell
}

// try runs a severity through the attempt; at is the index of the first finding that it does not share, -1 when it fits.
func (b *Belief) try(ctx context.Context, suspect int, severity float64) (w *world, at int) {
	l, err := b.bench(suspect, severity)
	if err != nil {
		return nil, 0
	}
	w = &world{severity: severity, b: l}
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
