package ladder

import (
	"context"

	"coldbay/grading/plan"
	"coldbay/sim/dmath"
)

// grain is the least difference of two amounts of information that counts, bits: below it rounding would decide.
const grain = 1e-9

// entropy is the mean information of knowing which of the weights it is, bits.
func entropy(weights []int64) float64 {
	var sum int64
	for _, w := range weights {
		sum += w
	}
	var out float64
	for _, w := range weights {
		if w > 0 {
			p := float64(w) / float64(sum)
			out -= float64(p * (dmath.Log(p) / dmath.Log(2)))
		}
	}
	return out
}

// byUnit is the weight that each unit has in a set.
func (g *Ground) byUnit(s plan.Set) []int64 {
	out := make([]int64, len(g.D.Units))
	for i := range s.All() {
		out[g.D.Hypotheses[i].Unit] += g.D.Hypotheses[i].Weight
	}
	return out
}

func (g *Ground) byCell(s plan.Set) []int64 {
	var out []int64
	for i := range s.All() {
		out = append(out, g.D.Hypotheses[i].Weight)
	}
	return out
}

// gain is the information, bits, that test t is expected to give at a set about what by weighs.
func (g *Ground) gain(t int, left plan.Set, by func(plan.Set) []int64) float64 {
	all := float64(g.D.Weight(left))
	out := entropy(by(left))
	for _, p := range g.parts(t, left) {
		out -= float64(float64(g.D.Weight(p)) / all * entropy(by(p)))
	}
	return out
}

// most is the test whose information, weighed by worth, is largest, of equals the first in the dictionary. What counts is information
// about the unit; only where no test gives any, that about the severity as well.
func (g *Ground) most(at Standing, worth func(bits float64, m Move) float64) Move {
	for _, by := range []func(plan.Set) []int64{g.byUnit, g.byCell} {
		best, top := Move{}, 0.0
		for t := range g.D.Tests {
			if !g.splits(t, at.Left) {
				continue
			}
			bits := g.gain(t, at.Left, by)
			if bits < grain {
				continue
			}
			m := g.way(at.Config, t)
			if w := worth(bits, m); w > float64(top*(1+grain)) {
				best, top = m, w
			}
		}
		if top > 0 {
			return best
		}
	}
	return g.quickest(at, func(int) bool { return true })
}

func greedy(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	return g.most(at, func(bits float64, m Move) float64 { return bits / float64(max(1, m.Seconds)) }), nil
}

func curious(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	return g.most(at, func(bits float64, _ Move) float64 { return bits }), nil
}
