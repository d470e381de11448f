package score

import (
	"context"
	"fmt"
	"math/big"
	"strconv"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// way is how far the readings went towards a proof, 0 to 1: one less the share that the plan's time still to the proof has in the
// whole, which is what the plan needs from the start, or, for whom luck left with more to do than that, what was worth doing so far and
// what is left. A part that went on before it was proven, and an order that was closed, end the way where they find it: nothing that
// was not looked for is a saving.
//
// Marks that ask for no act of their own are earned by this share only, or whoever does nothing at all would have them in full.
func (g *grader) way(ctx context.Context) (*big.Rat, error) {
	left, at := g.Dictionary.All(), g.Dictionary.Start
	all, err := g.toProof(ctx, left, at)
	if err != nil || all.Sign() == 0 {
		return big.NewRat(1, 1), err // a board that nothing can split has no way
	}
	worth := new(big.Rat)
	for k, s := range g.graded() {
		seen := s.step.Parts[s.step.Seen]
		if s.repair && seen.Done {
			break
		}
		left, at = seen.Left, seen.Config
		if e := g.acc.Entries[k]; !s.repair {
			useful := big.NewRat(s.step.Seconds, 1)
			if e.Regret.Sign() > 0 {
				useful.Sub(useful, e.Regret)
			}
			if useful.Sign() > 0 {
				worth.Add(worth, useful)
			}
		}
	}
	rest, err := g.toProof(ctx, left, at)
	if err != nil {
		return nil, err
	}
	if whole := worth.Add(worth, rest); whole.Cmp(all) > 0 {
		all = whole
	}
	return rest.Sub(big.NewRat(1, 1), rest.Quo(rest, all)), nil
}

// toProof is the expected time in s that the plan takes from a belief until the unit is proven, or until nothing can be told any more
// without a part; the lower one where the planner has bounds only.
func (g *grader) toProof(ctx context.Context, left plan.Set, at int) (*big.Rat, error) {
	v, err := g.p.Value(ctx, left, at)
	if err != nil {
		return nil, fmt.Errorf("time to a proof: %w", err)
	}
	cure, err := g.p.Cure(left, at)
	if err != nil {
		return nil, fmt.Errorf("time to a proof: %w", err)
	}
	if v.Lo <= cure {
		return new(big.Rat), nil
	}
	best, done, err := g.p.Best(ctx, left, at)
	if err != nil {
		return nil, fmt.Errorf("time to a proof: %w", err)
	}
	if done && len(best) > 0 && best[0].Act == plan.ActRepair {
		return new(big.Rat), nil
	}
	return big.NewRat(v.Lo-cure, g.Dictionary.Weight(left)), nil
}

// graded are the steps whose choices count.
func (g *grader) graded() []stretch {
	var out []stretch
	for _, s := range g.path {
		if s.graded {
			out = append(out, s)
		}
	}
	return out
}

// part is the share of points that was earned.
func (g *grader) part(points int) int {
	f, _ := new(big.Rat).Mul(g.share, big.NewRat(int64(points), 1)).Float64()
	return int(f + 0.5)
}

// short adds to why what a mark has not earned, where the readings fell short of a proof.
func (g *grader) short(why []string, key string) []string {
	if g.share == nil || g.share.Cmp(big.NewRat(1, 1)) >= 0 {
		return why
	}
	percent, _ := new(big.Rat).Mul(g.share, big.NewRat(100, 1)).Float64()
	return append(why, g.Words.T(key, "share", strconv.Itoa(int(percent))))
}

// mended says whether any part went on.
func (g *grader) mended() bool {
	for _, f := range g.findings {
		if f.Action.Verb == bench.Repair {
			return true
		}
	}
	return false
}
