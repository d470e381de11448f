package regret

import (
	"fmt"
	"math/big"

	"coldbay/grading/plan"
)

// toleranceSeconds and tolerancePercent bound the regret that the bay clock or
// a disputable prior may decide (design choice, no source).
const (
	toleranceSeconds = 60
	tolerancePercent = 3
)

// Tolerance is the regret of a reading that is not charged at a belief whose best
// plan takes v expected seconds to find the fault, not counting its cure: one
// minute or 3 % of v, whichever is more.
func Tolerance(v *big.Rat) *big.Rat {
	share := new(big.Rat).Mul(v, big.NewRat(tolerancePercent, 100))
	if least := big.NewRat(toleranceSeconds, 1); share.Cmp(least) < 0 {
		return least
	}
	return share
}

// Economy is the exact score 100*par/(par+charged), between 0 and 100. A par
// of zero scores 100: there was nothing to waste.
func Economy(par, charged *big.Rat) *big.Rat {
	if par.Sign() <= 0 {
		return big.NewRat(100, 1)
	}
	total := new(big.Rat).Add(par, charged)
	out := new(big.Rat).Mul(par, big.NewRat(100, 1))
	return out.Quo(out, total)
}

// Points rounds a score to whole points, halves up, but never up to 100: full
// marks mean that nothing was charged.
func Points(score *big.Rat) int {
	n := new(big.Int).Mul(score.Num(), big.NewInt(2))
	n.Add(n, score.Denom())
	n.Div(n, new(big.Int).Mul(score.Denom(), big.NewInt(2)))
	if p := int(n.Int64()); p < 100 || score.Cmp(big.NewRat(100, 1)) == 0 {
		return p
	}
	return 99
}

// Score is the economy score of the account.
func (a *Account) Score() *big.Rat { return Economy(a.Par, a.Charged) }

// ScoreWith is Score where each step is charged the smaller of its charge here
// and in other, the account of the same path under equal priors. Par stays
// that of a.
func (a *Account) ScoreWith(other *Account) (*big.Rat, error) {
	if len(a.Entries) != len(other.Entries) {
		return nil, fmt.Errorf("%w: accounts of %d and %d steps are not of one path", ErrPath, len(a.Entries), len(other.Entries))
	}
	sum := new(big.Rat)
	for k, e := range a.Entries {
		least := e.Charged
		if o := other.Entries[k].Charged; o.Cmp(least) < 0 {
			least = o
		}
		sum.Add(sum, least)
	}
	return Economy(a.Par, sum), nil
}

// EqualPriors returns a copy of the dictionary in which every suspect weighs
// the same. The copy shares the parts that do not change.
func EqualPriors(d *plan.Dictionary) *plan.Dictionary {
	out := *d
	out.Hypotheses = append([]plan.Hypothesis(nil), d.Hypotheses...)
	for i := range out.Hypotheses {
		out.Hypotheses[i].Weight = 1
	}
	return &out
}
