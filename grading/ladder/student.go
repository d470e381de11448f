package ladder

import (
	"context"
	"fmt"
	"slices"

	"coldbay/grading/plan"
)

// Standing is what a student knows when choosing: the suspects that fit everything seen, the bench, and what was done before.
type Standing struct {
	Left   plan.Set
	Config int
	// Done are the tests done so far, in order.
	Done []int
}

// Student is a rule of choice.
type Student struct {
	ID, Name string
	// Lots says that the rule draws lots.
	Lots bool
	// Gambles says that the student repairs without proof; the others test until the suspects left are of one unit or can't be told
	// apart, then repair as the plan does.
	Gambles bool

	next func(ctx context.Context, g *Ground, at Standing, roll Dice) (Move, error)
}

// Ids of the students that are the same on every order; sheets have ids of their own.
const (
	Optimal     = "optimal"
	Greedy      = "greedy"
	Cheapest    = "cheapest"
	Curious     = "curious"
	RandomTells = "random_telling"
	RandomAny   = "random"
	Dawdler     = "dawdler"
	Parts       = "parts"
)

// Students are the simulated students, from the best downwards as the ladder expects them.
func Students(sheets []Sheet) []Student {
	out := []Student{
		{ID: Optimal, Name: "the plan, ties by lot", Lots: true, next: optimal},
		{ID: Greedy, Name: "most information per minute, set-up counted", next: greedy},
		{ID: Cheapest, Name: "quickest test that tells something", next: cheapest},
	}
	for _, s := range sheets {
		out = append(out, Student{ID: s.ID, Name: s.Name, next: s.skipping()})
	}
	for _, s := range sheets {
		out = append(out, Student{ID: s.ID + "_all", Name: s.Name + ", no line skipped", next: s.line})
	}
	return append(out,
		Student{ID: Curious, Name: "most information, whatever it takes", next: curious},
		Student{ID: RandomTells, Name: "a test by lot that tells something", Lots: true, next: randomTelling},
		Student{ID: RandomAny, Name: "any test by lot", Lots: true, next: randomAny},
		Student{ID: Dawdler, Name: fmt.Sprintf("the plan, after the quickest test %d times over", dawdles), next: dawdle},
		Student{ID: Parts, Name: "the likeliest part, no test", Gambles: true, next: likeliest},
	)
}

func optimal(ctx context.Context, g *Ground, at Standing, roll Dice) (Move, error) {
	c, err := g.best(ctx, at.Left, at.Config)
	if err != nil {
		return Move{}, err
	}
	return g.move(at.Config, c[roll(len(c))]), nil
}

// dawdles is how often the dawdler does the same.
const dawdles = 20

// dawdle does the test that takes least, where the bench stands, over and over before it follows the plan: time wasted in small
// pieces, to see what they cost.
func dawdle(ctx context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	if len(at.Done) < dawdles {
		best := Move{Seconds: far}
		for t := range g.D.Tests {
			if m := g.way(at.Config, t); m.SetUp == 0 && m.After == at.Config && m.Seconds < best.Seconds {
				best = m
			}
		}
		if best.Seconds < far {
			return best, nil
		}
	}
	return optimal(ctx, g, at, func(int) int { return 0 })
}

// cheapest takes the quickest test, set-up counted, that tells suspects apart.
func cheapest(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	return g.quickest(at, func(int) bool { return true }), nil
}

// quickest is the test that takes least, set-up counted, among those that tell suspects apart and fit; Seconds is far when there is
// none.
func (g *Ground) quickest(at Standing, fits func(test int) bool) Move {
	best := Move{Seconds: far}
	for t := range g.D.Tests {
		if !fits(t) || !g.splits(t, at.Left) {
			continue
		}
		if m := g.way(at.Config, t); m.Seconds < best.Seconds {
			best = m
		}
	}
	return best
}

// lot draws a procedure, not a test: that a procedure stands in the dictionary once for the cold and once for the warm car makes it
// no likelier. It is then done the quickest way.
func (g *Ground) lot(at Standing, roll Dice, fits func(test int) bool) Move {
	var names []string
	for t, id := range g.proc {
		if fits(t) && !slices.Contains(names, id) {
			names = append(names, id)
		}
	}
	name := names[roll(len(names))]
	best := Move{Seconds: far}
	for t, id := range g.proc {
		if id != name || !fits(t) {
			continue
		}
		if m := g.way(at.Config, t); m.Seconds < best.Seconds {
			best = m
		}
	}
	return best
}

func randomTelling(_ context.Context, g *Ground, at Standing, roll Dice) (Move, error) {
	return g.lot(at, roll, func(t int) bool { return g.splits(t, at.Left) }), nil
}

func randomAny(_ context.Context, g *Ground, at Standing, roll Dice) (Move, error) {
	return g.lot(at, roll, func(int) bool { return true }), nil
}

// likeliest replaces the unit with the most prior weight among the suspects left and verifies; of equals the first in the
// dictionary.
func likeliest(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	best, most := -1, int64(0)
	for u := range g.D.Units {
		if w := g.D.Weight(at.Left.And(g.D.InUnit(u))); w > most {
			best, most = u, w
		}
	}
	return g.cure(at.Config, best, nil), nil
}
