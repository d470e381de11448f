package score

import (
	"context"
	"sync"

	"coldbay/grading/plan"
	"coldbay/grading/regret"
)

// Part is what a grader is at.
type Part string

// The parts of grading, in their order.
const (
	PartCars    Part = "cars"    // the suspects' cars are brought in
	PartReplay  Part = "replay"  // the attempt is replayed in them, line by line
	PartWeigh   Part = "weigh"   // its steps are weighed against the plan
	PartPlan    Part = "plan"    // the plan and the timeline are told
	PartThought Part = "thought" // the attempt is played in the cars that the trainee thought it was
)

// Progress says how far a grader is: Done of Of lines, steps or cars of its part are behind it. Of is 0 where nothing is counted.
type Progress struct {
	Part     Part
	Done, Of int
}

func (c *Case) tell(part Part, done, of int) {
	if c.Progress != nil {
		c.Progress(Progress{part, done, of})
	}
}

// planner is one for the case's order, which rests as the case's worlds do.
func (c *Case) planner(d *plan.Dictionary) (*plan.Planner, error) {
	return plan.New(d, plan.Options{Nodes: d.Effort(), Breathe: c.Config.Breathe})
}

// accounts are those of one path under the order's priors and under equal ones. Only the smaller charge counts, so a path that is charged
// nothing under the order's own priors needs no other account: its own stands for it.
//
// The planners have nothing to do with each other, so each gets a thread of its own, where there are two: a program that has to breathe has
// one, and is never heard when two of its goroutines work by turns, each while the other rests.
func (c *Case) accounts(ctx context.Context, p *plan.Planner, steps []regret.Step) (own, other *regret.Account, err error) {
	all, start := c.Dictionary.All(), c.Dictionary.Start
	equal := func(ctx context.Context, tell func(int)) (*regret.Account, error) {
		even, err := c.planner(regret.EqualPriors(c.Dictionary))
		if err != nil {
			return nil, err
		}
		return regret.Follow(ctx, even, all, start, steps, tell)
	}
	n := len(steps)
	if c.Config.Breathe != nil {
		own, err = regret.Follow(ctx, p, all, start, steps, func(done int) { c.tell(PartWeigh, done, 2*n) })
		if err != nil || own.Charged.Sign() == 0 {
			return own, own, err
		}
		other, err = equal(ctx, func(done int) { c.tell(PartWeigh, n+done, 2*n) })
		return own, other, err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	var wg sync.WaitGroup
	var otherErr error
	wg.Go(func() { other, otherErr = equal(ctx, func(int) {}) })
	own, err = regret.Follow(ctx, p, all, start, steps, func(done int) { c.tell(PartWeigh, done, n) })
	if err != nil || own.Charged.Sign() == 0 {
		stop()
		wg.Wait()
		return own, own, err
	}
	wg.Wait()
	return own, other, otherErr
}
