package regret

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

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

// EqualPriors returns a copy of the dictionary in which every suspect weighs the same, however finely it is cut: its cells, told by
// the same id up to the @, share its weight as they did. A hypothesis without an id is a suspect of its own. The copy shares the parts
// that do not change.
func EqualPriors(d *plan.Dictionary) *plan.Dictionary {
	out := *d
	out.Hypotheses = append([]plan.Hypothesis(nil), d.Hypotheses...)
	suspect := func(i int) string {
		id, _, _ := strings.Cut(d.Hypotheses[i].ID, "@")
		if id == "" {
			id = strconv.Itoa(i)
		}
		return id
	}
	sum, common := map[string]int64{}, map[string]int64{}
	for i, h := range d.Hypotheses {
		id := suspect(i)
		sum[id] += h.Weight
		common[id] = divisor(h.Weight, common[id])
	}
	// The least weight that every suspect's shares divide without a rest; where that is too large, shares are rounded.
	each := int64(1)
	for i := range d.Hypotheses {
		id := suspect(i)
		n := sum[id] / common[id]
		each = min(mostEach, each/divisor(each, n)*n)
	}
	for i := range out.Hypotheses {
		share := new(big.Int).Mul(big.NewInt(d.Hypotheses[i].Weight), big.NewInt(2*each))
		total := big.NewInt(sum[suspect(i)])
		share.Add(share, total).Quo(share, total.Lsh(total, 1))
		out.Hypotheses[i].Weight = max(1, share.Int64())
	}
	return &out
}

// mostEach bounds the weight of a suspect among equals.
const mostEach = 1 << 16

// divisor is the greatest common divisor; with 0 the other number.
func divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
