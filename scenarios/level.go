package scenarios

import (
	"cmp"
	"slices"
)

// Level is how hard an order is to work, 1 to Hardest.
type Level int

// Hardest is the highest level.
const Hardest Level = 4

// The bounds of the levels [practice]: orders on the training cars are written for 60 minutes where one thing is wrong in plain sight of the
// tests, for more where a first reading misleads; a board of more than 30 causes can't be kept in the head.
const (
	levelMinutes  = 60
	levelSuspects = 30
)

// Level says how hard an order is. It is reckoned from what its card and its car tell everybody, and never from what is wrong with the car, so
// that it gives nothing away.
func (o *Order) Level() Level {
	l := Level(1)
	if o.Order.Minutes > levelMinutes {
		l++
	}
	if o.Car.Car.Banks > 1 || !o.Car.Car.ScanPort || len(o.Order.Withheld) > 0 {
		l++ // two of everything to tell apart, or no data to lean on
	}
	if o.Suspects() > levelSuspects {
		l += 2
	}
	return min(l, Hardest)
}

// Suspects is the number of causes on the order's board.
func (o *Order) Suspects() int {
	if n := len(o.Order.Suspects); n > 0 {
		return n
	}
	return len(o.Car.Layout.SuspectIDs())
}

// ByLevel lists the orders from the easiest to the hardest; those of one level by car, then by the minutes allowed, then by the number of
// suspects, then by id.
func (l *Library) ByLevel() []*Order {
	out := make([]*Order, 0, len(l.orders))
	for _, id := range l.OrderIDs() {
		out = append(out, l.orders[id])
	}
	slices.SortStableFunc(out, func(a, b *Order) int {
		return cmp.Or(cmp.Compare(a.Level(), b.Level()), cmp.Compare(a.Order.Car, b.Order.Car), cmp.Compare(a.Order.Minutes, b.Order.Minutes),
			cmp.Compare(a.Suspects(), b.Suspects()))
	})
	return out
}
