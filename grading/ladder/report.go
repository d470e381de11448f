package ladder

import (
	"context"
	"fmt"

	"coldbay/grading/plan"
	"coldbay/grading/plan/certify"
)

// Options of a run.
type Options struct {
	// Plays is the number of replicates of students that draw lots; Seed starts their lots.
	Plays int
	Seed  uint64
}

// Report is the ladder on one order.
type Report struct {
	Order      string `json:"order"`
	Dictionary string `json:"dictionary"`
	// Sizes of the dictionary: suspects' cells, tests (a procedure counts once for the cold and once for the warm car), the
	// procedures among them, bench configurations.
	Cells      int `json:"cells"`
	Tests      int `json:"tests"`
	Procedures int `json:"procedures"`
	Configs    int `json:"configs"`
	// Par, Proof (the mean proof line of hindsight), Unavoidable (repair and verification for whoever knows), and Meter (par without the
	// scan tool; zero when the order has none), minutes.
	Par         float64 `json:"par"`
	Proof       float64 `json:"proof"`
	Unavoidable float64 `json:"unavoidable"`
	Meter       float64 `json:"meter"`
	// Exact says that every value behind the figures is proven.
	Exact     bool      `json:"exact"`
	Certified Certified `json:"certified"`
	Rungs     []Rung    `json:"rungs"`
	Chances   []Chance  `json:"chances"`
	Courses   []Course  `json:"courses"`
	// Sheet is the id of the trade's sheet with all tools that the order allows; "" when the car has none.
	Sheet string `json:"sheet"`
	// Broken are theorems that the plays contradict, in words; they must be empty.
	Broken []string `json:"broken"`
}

// Certified is the size of the proof of par, after an independent check.
type Certified struct {
	// Lower and Upper bound par, minutes; Gap is their difference over Lower, %.
	Lower float64 `json:"lower"`
	Upper float64 `json:"upper"`
	Gap   float64 `json:"gap"`
	// Nodes the planner expanded, states it remembers, claims and plan steps of the certificate.
	Nodes  int64 `json:"nodes"`
	Memo   int   `json:"memo"`
	Claims int   `json:"claims"`
	Plan   int   `json:"plan"`
}

// Chance is how often one student beats another on a single job: as marked, and without tolerance.
type Chance struct {
	Better string  `json:"better"`
	Worse  string  `json:"worse"`
	Score  float64 `json:"score"`
	Bare   float64 `json:"bare"`
}

// Certify proves par of a dictionary, or bounds of it if nodes ends the search, and has the proof checked by package certify.
func Certify(ctx context.Context, d *plan.Dictionary, nodes int64) (Certified, error) {
	p, err := plan.New(d, plan.Options{Nodes: nodes})
	if err != nil {
		return Certified{}, err
	}
	c, err := p.Certificate(ctx, d.All(), d.Start)
	if err != nil {
		return Certified{}, err
	}
	if err := certify.Check(d, c); err != nil {
		return Certified{}, err
	}
	w := float64(d.Weight(d.All())) * 60
	return Certified{Lower: float64(c.Lower) / w, Upper: float64(c.Upper) / w, Gap: 100 * float64(c.Upper-c.Lower) / float64(max(1, c.Lower)),
		Nodes: p.Stats().Nodes, Memo: p.Stats().Memo, Claims: len(c.Claims), Plan: len(c.Plan)}, nil
}

// Run plays all students on an order.
func (g *Ground) Run(ctx context.Context, sheets []Sheet, o Options) (*Report, error) {
	if o.Plays < 2 {
		return nil, fmt.Errorf("%d plays give no interval, want at least 2", o.Plays)
	}
	par, err := g.P.Par(ctx)
	if err != nil {
		return nil, err
	}
	w := float64(g.D.Weight(g.all)) * 60
	r := &Report{Order: g.Order, Dictionary: g.D.Name, Cells: len(g.D.Hypotheses), Tests: len(g.D.Tests), Procedures: distinct(g.proc),
		Configs: len(g.D.Configs), Par: float64(par.Hi) / w, Unavoidable: minutes(g.unavoidable()), Exact: par.Exact(), Broken: []string{},
		Chances: []Chance{}, Courses: []Course{}}
	if r.Certified, err = Certify(ctx, g.D, g.nodes); err != nil {
		return nil, fmt.Errorf("order %s: %w", g.Order, err)
	}
	if d := withoutScan(g.D); d != g.D {
		p, err := plan.New(d, plan.Options{Nodes: g.nodes})
		if err != nil {
			return nil, err
		}
		v, err := p.Par(ctx)
		if err != nil {
			return nil, err
		}
		r.Meter = float64(v.Hi) / w
		r.Exact = r.Exact && v.Exact()
	}
	proofs, err := g.proofs(ctx)
	if err != nil {
		return nil, err
	}
	for h, p := range proofs {
		r.Proof += float64(g.D.Hypotheses[h].Weight*p.Seconds) / w
		r.Exact = r.Exact && p.Exact
	}
	if len(sheets) > 0 {
		r.Sheet = sheets[0].ID
	}
	for _, s := range Students(sheets) {
		rung, err := g.play(ctx, s, o.Plays, o.Seed, g.unavoidable())
		if err != nil {
			return nil, err
		}
		r.Exact = r.Exact && rung.exact()
		r.Broken = append(r.Broken, g.broken(rung, par, proofs)...)
		r.Rungs = append(r.Rungs, *rung)
	}
	for i := range sheets {
		c, err := g.course(ctx, r.Rung(sheets[i].ID), &sheets[i])
		if err != nil {
			return nil, err
		}
		if !sheets[i].Scan && r.Meter > 0 {
			c.RatioMeter = r.Rung(sheets[i].ID).Minutes.Mean / r.Meter
		}
		r.Courses = append(r.Courses, c)
	}
	pairs := [][2]string{{Optimal, Greedy}, {Greedy, Cheapest}, {Optimal, Cheapest}, {Greedy, r.Sheet}, {Optimal, r.Sheet}, {Greedy, RandomTells},
		{RandomTells, RandomAny}, {RandomAny, Parts}}
	for _, p := range pairs {
		if a, b := r.Rung(p[0]), r.Rung(p[1]); a != nil && b != nil {
			r.Chances = append(r.Chances, Chance{p[0], p[1], g.outscores(a, b, func(p *Play) float64 { return p.Score }),
				g.outscores(a, b, func(p *Play) float64 { return p.Bare })})
		}
	}
	return r, nil
}

// Rung finds a student's rung; nil when it was not played.
func (r *Report) Rung(id string) *Rung {
	for i := range r.Rungs {
		if r.Rungs[i].ID == id {
			return &r.Rungs[i]
		}
	}
	return nil
}

func distinct(list []string) int {
	seen := map[string]bool{}
	for _, s := range list {
		seen[s] = true
	}
	return len(seen)
}

func (g *Ground) proofs(ctx context.Context) ([]plan.Proof, error) {
	var out []plan.Proof
	for h := range g.D.Hypotheses {
		p, err := g.P.ProofLine(ctx, h, g.D.Start)
		if err != nil {
			return nil, fmt.Errorf("proof line of order %s: %w", g.Order, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// broken checks what must hold for every student and every truth whatever the numbers are.
func (g *Ground) broken(r *Rung, par plan.Bounds, proofs []plan.Proof) []string {
	var out []string
	say := func(format string, a ...any) { out = append(out, r.ID+": "+fmt.Sprintf(format, a...)) }
	exact := r.exact()
	for k, plays := range r.plays {
		if !r.student.Gambles && r.exceeds(g, k, par) < 0 {
			say("replicate %d takes less than par in the mean", k)
		}
		if exact && r.luck(g, k).Sign() != 0 {
			say("luck of replicate %d sums to %s s", k, r.luck(g, k).FloatString(6))
		}
		for h, p := range plays {
			truth := g.D.Hypotheses[h].ID
			if p.Proven && p.Vain == 0 && p.Seconds < proofs[h].Least {
				say("proved %s in %d s, the proof line takes %d s", truth, p.Seconds, proofs[h].Least)
			}
			if r.ID == Optimal && exact && (p.Score != 100 || p.Bare != 100) {
				say("scores %g with %s", min(p.Score, p.Bare), truth)
			}
			for i, e := range p.Account.Entries {
				if !r.student.Gambles && e.Regret.Sign() < 0 {
					say("step %d with %s is %s s better than the best", i+1, truth, e.Regret.FloatString(3))
				}
				if !e.Left.Has(h) {
					say("the truth %s left the suspects at step %d", truth, i+1)
				}
			}
		}
	}
	return out
}
