package ladder

import (
	"context"
	"errors"
	"fmt"
	"math/big"

	"coldbay/grading/plan"
	"coldbay/grading/regret"
)

// ErrEndless is wrapped when a student does not come to an end.
var ErrEndless = errors.New("simulated student")

// mostSteps bounds the steps of a play.
const mostSteps = 10_000

// Play is one job of one student with one truth, and its account.
type Play struct {
	Truth   int
	Moves   []Move
	Seconds int64
	// Vain is the number of repairs that did not cure; Proven says that the unit was proven when the first part went on, or that no
	// test could prove more.
	Vain   int
	Proven bool
	// Account has the regrets under the order's priors.
	Account *regret.Account
	// Score is the economy as a trainee is marked: regrets beyond tolerance, the smaller of the order's and equal priors. Bare is the
	// same without tolerance and under the order's priors only.
	Score, Bare float64
}

// Play lets a student do the job with a truth.
func (g *Ground) Play(ctx context.Context, s Student, truth int, roll Dice) (*Play, error) {
	p := &Play{Truth: truth, Proven: true}
	at := Standing{Left: g.all, Config: g.D.Start}
	var steps []regret.Step
	for over := false; !over; {
		if len(steps) >= mostSteps {
			return nil, fmt.Errorf("%w %s: no end of order %s after %d steps", ErrEndless, s.ID, g.Order, mostSteps)
		}
		m, err := g.next(ctx, s, at, roll)
		if err != nil {
			return nil, err
		}
		if m.Act == plan.ActRepair && !g.closed(at.Left) {
			p.Proven = false
		}
		st := g.step(at.Left, m, truth)
		seen := st.Parts[st.Seen]
		if m.Act == plan.ActRepair && !seen.Done {
			p.Vain++
		}
		at.Left, at.Config, over = seen.Left, seen.Config, seen.Done
		if m.Act == plan.ActTest {
			at.Done = append(at.Done, m.Index)
		}
		p.Moves, p.Seconds = append(p.Moves, m), p.Seconds+m.Seconds
		steps = append(steps, st)
	}
	return p, g.account(ctx, p, steps)
}

func (g *Ground) next(ctx context.Context, s Student, at Standing, roll Dice) (Move, error) {
	if s.Gambles || !g.closed(at.Left) {
		return s.next(ctx, g, at, roll)
	}
	c, err := g.best(ctx, at.Left, at.Config)
	if err != nil {
		return Move{}, err
	}
	return g.move(at.Config, c[0]), nil
}

func (g *Ground) account(ctx context.Context, p *Play, steps []regret.Step) error {
	var err error
	if p.Account, err = regret.Decompose(ctx, g.P, g.all, g.D.Start, steps); err != nil {
		return fmt.Errorf("order %s: %w", g.Order, err)
	}
	even, err := regret.Decompose(ctx, g.Even, g.all, g.D.Start, steps)
	if err != nil {
		return fmt.Errorf("order %s, equal priors: %w", g.Order, err)
	}
	score, err := p.Account.ScoreWith(even)
	if err != nil {
		return fmt.Errorf("order %s: %w", g.Order, err)
	}
	p.Score, _ = score.Float64()
	all := new(big.Rat)
	for _, e := range p.Account.Entries {
		if e.Regret.Sign() > 0 {
			all.Add(all, e.Regret)
		}
	}
	p.Bare, _ = regret.Economy(p.Account.Par, all).Float64()
	return nil
}
