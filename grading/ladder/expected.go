package ladder

import (
	"context"

	"coldbay/grading/plan"
)

// Expected is the summed weight times seconds of a student over all truths: divided by the summed weight, the mean seconds of the job.
// It walks the student's own tree, so no choice is priced and the planner is asked only what is left to repair. The student must draw
// no lots, not gamble, and not choose by what was done before.
func (g *Ground) Expected(ctx context.Context, s Student) (int64, error) {
	return g.expected(ctx, s, g.all, g.D.Start)
}

func (g *Ground) expected(ctx context.Context, s Student, left plan.Set, q int) (int64, error) {
	m, err := g.next(ctx, s, Standing{Left: left, Config: q}, nil)
	if err != nil {
		return 0, err
	}
	sum := g.D.Weight(left) * m.Seconds
	for _, p := range g.step(left, m, left.First()).Parts {
		if p.Done {
			continue
		}
		rest, err := g.expected(ctx, s, p.Left, p.Config)
		if err != nil {
			return 0, err
		}
		sum += rest
	}
	return sum, nil
}
