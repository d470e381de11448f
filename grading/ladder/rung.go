package ladder

import (
	"context"
	"math"
	"math/big"

	"coldbay/grading/plan"
	"coldbay/grading/regret"
)

// Rung is what became of one student on one order, over all truths weighted by the priors.
type Rung struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Replicates is how often the student was played; 1 where no lots are drawn.
	Replicates int `json:"replicates"`
	// Minutes of the job, and their ratio to par.
	Minutes Estimate `json:"minutes"`
	Ratio   Estimate `json:"ratio"`
	// Score is the economy as trainees are marked; Bare the same without tolerance and under the order's priors alone; Narrow is Bare
	// with the repair and verification that nobody can avoid taken out of par.
	Score  Estimate `json:"score"`
	Bare   Estimate `json:"bare"`
	Narrow Estimate `json:"narrow"`
	// Good is the share of jobs with a score of 90 or more, Vain the number of repairs a job that did not cure.
	Good Estimate `json:"good"`
	Vain Estimate `json:"vain"`
	// Spread is the standard deviation of the score over jobs, Least the lowest score.
	Spread float64 `json:"spread"`
	Least  float64 `json:"least"`
	Jobs   []Job   `json:"jobs"`

	student Student
	plays   [][]*Play // by replicate, then by truth
	series  series
}

// Job is a student's mean with one truth, over the replicates.
type Job struct {
	Truth string `json:"truth"`
	// Minutes = par + Choices + Luck.
	Minutes float64 `json:"minutes"`
	Choices float64 `json:"choices"`
	Luck    float64 `json:"luck"`
	Score   float64 `json:"score"`
	Bare    float64 `json:"bare"`
}

// series are the means over the priors of each replicate.
type series struct {
	minutes, ratio, score, bare, narrow, good, vain []float64
}

// goodScore is the score from which a job counts as done well (design note 4.2).
const goodScore = 90

// play plays a student against every truth, n times if it draws lots.
func (g *Ground) play(ctx context.Context, s Student, n int, seed uint64, unavoidable *big.Rat) (*Rung, error) {
	r := &Rung{ID: s.ID, Name: s.Name, Replicates: 1, Least: 100, student: s}
	if s.Lots {
		r.Replicates = n
	}
	total := float64(g.D.Weight(g.all))
	jobs := make([]Job, len(g.D.Hypotheses))
	var par float64
	var square, mean float64
	for k := range r.Replicates {
		var plays []*Play
		var x struct{ minutes, score, bare, narrow, good, vain float64 }
		for h := range g.D.Hypotheses {
			p, err := g.Play(ctx, s, h, dice(seed, g.Order, s.ID, k))
			if err != nil {
				return nil, err
			}
			plays = append(plays, p)
			w := float64(g.D.Hypotheses[h].Weight) / total
			x.minutes += float64(w * float64(p.Seconds) / 60)
			x.score += float64(w * p.Score)
			x.bare += float64(w * p.Bare)
			x.narrow += float64(w * narrow(p, unavoidable))
			x.vain += float64(w * float64(p.Vain))
			if p.Score >= goodScore {
				x.good += w
			}
			r.Least = min(r.Least, p.Score)
			mean += float64(w * p.Score / float64(r.Replicates))
			square += float64(w * float64((100-p.Score)*(100-p.Score)) / float64(r.Replicates))
			part := 1 / float64(r.Replicates)
			j := &jobs[h]
			j.Truth = g.D.Hypotheses[h].ID
			j.Minutes += float64(part * float64(p.Seconds) / 60)
			j.Choices += float64(part * minutes(p.Account.Choices))
			j.Luck += float64(part * minutes(p.Account.Luck))
			j.Score += float64(part * p.Score)
			j.Bare += float64(part * p.Bare)
		}
		par = minutes(plays[0].Account.Par)
		r.plays = append(r.plays, plays)
		r.series.minutes = append(r.series.minutes, x.minutes)
		r.series.ratio = append(r.series.ratio, x.minutes/par)
		r.series.score = append(r.series.score, x.score)
		r.series.bare = append(r.series.bare, x.bare)
		r.series.narrow = append(r.series.narrow, x.narrow)
		r.series.good = append(r.series.good, x.good)
		r.series.vain = append(r.series.vain, x.vain)
	}
	r.Jobs = jobs
	r.Spread = math.Sqrt(max(0, square-float64((100-mean)*(100-mean))))
	r.Minutes, r.Ratio = estimate(r.series.minutes), estimate(r.series.ratio)
	r.Score, r.Bare, r.Narrow = estimate(r.series.score), estimate(r.series.bare), estimate(r.series.narrow)
	r.Good, r.Vain = estimate(r.series.good), estimate(r.series.vain)
	return r, nil
}

// narrow is the bare score of what was to be found out alone.
func narrow(p *Play, unavoidable *big.Rat) float64 {
	all := new(big.Rat)
	for _, e := range p.Account.Entries {
		if e.Regret.Sign() > 0 {
			all.Add(all, e.Regret)
		}
	}
	out, _ := regret.Economy(new(big.Rat).Sub(p.Account.Par, unavoidable), all).Float64()
	return out
}

// unavoidable is the expected seconds of repairing and verifying what is wrong, from the start, for whoever knows it.
func (g *Ground) unavoidable() *big.Rat {
	var sum int64
	for _, h := range g.D.Hypotheses {
		sum += h.Weight * g.cure(g.D.Start, h.Unit, nil).Seconds
	}
	return big.NewRat(sum, g.D.Weight(g.all))
}

func minutes(seconds *big.Rat) float64 {
	f, _ := seconds.Float64()
	return f / 60
}

// exceeds says by how many weighted seconds the replicate's mean exceeds par; negative would break the theorem.
func (r *Rung) exceeds(g *Ground, replicate int, par plan.Bounds) int64 {
	var sum int64
	for h, p := range r.plays[replicate] {
		sum += g.D.Hypotheses[h].Weight * p.Seconds
	}
	return sum - par.Lo
}

// luck is the sum of the replicate's luck over the priors, and what its mean minutes differ from par plus its mean choices; both zero
// for every rule.
func (r *Rung) luck(g *Ground, replicate int) *big.Rat {
	sum := new(big.Rat)
	for h, p := range r.plays[replicate] {
		sum.Add(sum, new(big.Rat).Mul(p.Account.Luck, big.NewRat(g.D.Hypotheses[h].Weight, 1)))
	}
	return sum
}

func (r *Rung) exact() bool {
	for _, plays := range r.plays {
		for _, p := range plays {
			if !p.Account.Exact {
				return false
			}
		}
	}
	return true
}

// outscores is the chance that on one job of the order a beats b, with a bare score or as marked; equal scores count for nobody.
func (g *Ground) outscores(a, b *Rung, of func(*Play) float64) float64 {
	var out float64
	total := float64(g.D.Weight(g.all)) * float64(len(a.plays)) * float64(len(b.plays))
	for _, x := range a.plays {
		for _, y := range b.plays {
			for h := range x {
				if of(x[h]) > of(y[h])+1e-9 {
					out += float64(g.D.Hypotheses[h].Weight) / total
				}
			}
		}
	}
	return out
}
