package ladder

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"coldbay/grading/plan"
)

// Course is how a sheet compares with the plan on one order.
type Course struct {
	Sheet string `json:"sheet"`
	Name  string `json:"name"`
	// Ratio of its mean minutes to par, and to par of the order without the scan tool, for a sheet that goes without.
	Ratio      float64 `json:"ratio"`
	RatioMeter float64 `json:"ratioMeter,omitempty"`
	// Divergences are all standings at which the sheet does something worse than the plan, the earliest first, of those equally early
	// the most frequent. Their Costs sum to the mean minutes beyond par.
	Divergences []Divergence `json:"divergences"`
}

// Divergence is one standing at which a student did something worse than the plan would have.
type Divergence struct {
	// Step is how many steps were done before, Share the share of jobs that come here.
	Step  int     `json:"step"`
	Share float64 `json:"share"`
	// Suspects and Cells are left; Bench is the configuration.
	Suspects int    `json:"suspects"`
	Cells    int    `json:"cells"`
	Bench    string `json:"bench"`
	// Stage of the sheet that the test stands in; "" beyond the sheet.
	Stage  string `json:"stage"`
	Chosen Doing  `json:"chosen"`
	Plan   Doing  `json:"plan"`
	// Saved is the expected minutes that the plan saves here; Cost is Saved times Share.
	Saved float64 `json:"saved"`
	Cost  float64 `json:"cost"`
	Why   string  `json:"why"`
}

// Doing is one choice with its price.
type Doing struct {
	Name string `json:"name"`
	// SetUp and Seconds (set-up included) of doing it; ToGo is the minutes expected afterwards, the plan followed.
	SetUp   int64   `json:"setUp"`
	Seconds int64   `json:"seconds"`
	ToGo    float64 `json:"toGo"`
	// Bits is the information about the unit that it is expected to give.
	Bits float64 `json:"bits"`
	// Leaves is the configuration it leaves.
	Leaves string `json:"leaves"`
}

// course finds where a student that draws no lots leaves the plan.
func (g *Ground) course(ctx context.Context, r *Rung, sheet *Sheet) (Course, error) {
	out := Course{Sheet: r.ID, Name: r.Name, Ratio: r.Ratio.Mean, Divergences: []Divergence{}}
	seen := map[state]bool{}
	all := float64(g.D.Weight(g.all))
	for _, p := range r.plays[0] {
		for k, e := range p.Account.Entries {
			key := state{e.Left, e.Config}
			if e.Regret.Sign() <= 0 || seen[key] {
				continue
			}
			seen[key] = true
			c, err := g.best(ctx, e.Left, e.Config)
			if err != nil {
				return out, err
			}
			did, would := p.Moves[k], g.move(e.Config, c[0])
			d := Divergence{Step: k, Share: float64(e.Weight) / all, Suspects: g.suspects(e.Left), Cells: e.Left.Count(),
				Bench: g.D.Configs[e.Config].Name, Chosen: g.doing(e.Left, did, e.Q.Hi), Plan: g.doing(e.Left, would, e.V.Hi), Saved: minutes(e.Regret)}
			if did.Act == plan.ActTest {
				d.Stage = sheet.Stage(g.proc[did.Index])
			}
			d.Cost = float64(d.Share * d.Saved)
			d.Why = why(d)
			out.Divergences = append(out.Divergences, d)
		}
	}
	slices.SortStableFunc(out.Divergences, func(a, b Divergence) int {
		return cmp.Or(cmp.Compare(a.Step, b.Step), cmp.Compare(b.Share, a.Share))
	})
	return out, nil
}

func (g *Ground) suspects(s plan.Set) int {
	var names []string
	for i := range s.All() {
		if n := g.D.Hypotheses[i].Name; !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return len(names)
}

func (g *Ground) doing(left plan.Set, m Move, value int64) Doing {
	w := g.D.Weight(left)
	d := Doing{SetUp: m.SetUp, Seconds: m.Seconds, ToGo: float64(value-w*m.Seconds) / float64(w) / 60, Leaves: g.D.Configs[m.After].Name}
	if m.Act == plan.ActTest {
		d.Name, d.Bits = g.D.Tests[m.Index].Name, g.gain(m.Index, left, g.byUnit)
	} else {
		d.Name = "repair of " + g.D.Units[m.Index].Name
	}
	return d
}

// why says in words what makes the plan's choice the better one.
func why(d Divergence) string {
	quicker := float64(d.Chosen.Seconds-d.Plan.Seconds) / 60
	lighter := d.Chosen.ToGo - d.Plan.ToGo
	var s string
	switch {
	case quicker > 0 && lighter >= 0:
		s = fmt.Sprintf("it is %.1f min quicker and leaves %.1f min less to do", quicker, lighter)
	case quicker > 0:
		s = fmt.Sprintf("it leaves %.1f min more to do, but is %.1f min quicker", -lighter, quicker)
	case quicker == 0:
		s = fmt.Sprintf("it takes as long and leaves %.1f min less to do", lighter)
	default:
		s = fmt.Sprintf("it takes %.1f min longer, but leaves %.1f min less to do", -quicker, lighter)
	}
	if d.Chosen.Bits < grain {
		s += "; the other tells nothing that is still open about the unit"
	}
	if d.Chosen.Leaves != d.Plan.Leaves {
		s += fmt.Sprintf("; the other leaves the %s instead of the %s", d.Chosen.Leaves, d.Plan.Leaves)
	}
	return s
}
