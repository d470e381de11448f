package ladder

import (
	"fmt"
	"slices"
)

// Summary is the ladder in the mean over orders.
type Summary struct {
	Orders []string `json:"orders"`
	Plays  int      `json:"plays"`
	Seed   uint64   `json:"seed"`
	// Means are of the students that every order has, in the order of the ladder.
	Means  []Mean  `json:"means"`
	Claims []Claim `json:"claims"`
}

// Mean is a student's mean over the orders.
type Mean struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Ratio  Estimate `json:"ratio"`
	Score  Estimate `json:"score"`
	Bare   Estimate `json:"bare"`
	Narrow Estimate `json:"narrow"`
	Good   Estimate `json:"good"`
}

// Claim is something that the score has to show if it is to be trusted.
type Claim struct {
	Text string `json:"text"`
	// Kind is "theorem" (holds whatever the numbers), "ladder" (has to hold in the mean over the orders), or "watched" (told, not asked
	// for).
	Kind  string `json:"kind"`
	Holds bool   `json:"holds"`
	Says  string `json:"says"`
}

// Kinds of claims.
const (
	Theorem = "theorem"
	Ladder  = "ladder"
	Watched = "watched"
)

// main stands for the trade's sheet that an order's tools allow, and printed for the same with no line skipped.
const (
	mainSheet    = "sheet"
	printedSheet = "sheet_all"
)

func (r *Report) role(id string) *Rung {
	switch id {
	case mainSheet:
		return r.Rung(r.Sheet)
	case printedSheet:
		return r.Rung(r.Sheet + "_all")
	}
	return r.Rung(id)
}

// over is the mean of one figure of a student over the orders that have the student, replicate by replicate.
func over(reports []*Report, id string, of func(*Rung) []float64) (Estimate, bool) {
	var sum []float64
	n := 0
	for _, r := range reports {
		rung := r.role(id)
		if rung == nil {
			continue
		}
		n++
		x := of(rung)
		if len(x) > len(sum) {
			longer := make([]float64, len(x))
			for k := range longer {
				if len(sum) > 0 {
					longer[k] = sum[min(k, len(sum)-1)]
				}
			}
			sum = longer
		}
		for k := range sum {
			sum[k] += x[min(k, len(x)-1)]
		}
	}
	for k := range sum {
		sum[k] /= float64(n)
	}
	if n == 0 {
		return Estimate{}, false
	}
	return estimate(sum), true
}

func ofRatio(r *Rung) []float64  { return r.series.ratio }
func ofScore(r *Rung) []float64  { return r.series.score }
func ofBare(r *Rung) []float64   { return r.series.bare }
func ofNarrow(r *Rung) []float64 { return r.series.narrow }
func ofGood(r *Rung) []float64   { return r.series.good }

// Sum takes the mean of reports made with the same options.
func Sum(reports []*Report, o Options) *Summary {
	s := &Summary{Orders: []string{}, Plays: o.Plays, Seed: o.Seed}
	for _, r := range reports {
		s.Orders = append(s.Orders, r.Order)
	}
	if len(reports) == 0 {
		return s
	}
	ids := []Mean{}
	for _, rung := range reports[0].Rungs {
		ids = append(ids, Mean{ID: rung.ID, Name: rung.Name})
		if rung.ID == Cheapest {
			ids = append(ids, Mean{ID: mainSheet, Name: "the trade's sheet, with what tools there are"},
				Mean{ID: printedSheet, Name: "the trade's sheet, with what tools there are, no line skipped"})
		}
	}
	for _, m := range ids {
		if slices.ContainsFunc(reports, func(r *Report) bool { return r.role(m.ID) == nil }) {
			continue
		}
		m.Ratio, _ = over(reports, m.ID, ofRatio)
		m.Score, _ = over(reports, m.ID, ofScore)
		m.Bare, _ = over(reports, m.ID, ofBare)
		m.Narrow, _ = over(reports, m.ID, ofNarrow)
		m.Good, _ = over(reports, m.ID, ofGood)
		s.Means = append(s.Means, m)
	}
	s.claim(reports)
	return s
}

func (s *Summary) claim(reports []*Report) {
	broken := []string{}
	for _, r := range reports {
		for _, b := range r.Broken {
			broken = append(broken, r.Order+": "+b)
		}
	}
	says := "no exception"
	if len(broken) > 0 {
		says = fmt.Sprintf("%d exceptions, the first: %s", len(broken), broken[0])
	}
	s.Claims = append(s.Claims, Claim{Text: "proof line at most any path that proves, par at most any mean, luck sums to nothing, the plan scores 100 whatever " +
		"its ties, no regret below nothing", Kind: Theorem, Holds: len(broken) == 0, Says: says})
	above := func(kind, a, b, text string, of func(*Rung) []float64) {
		var both []*Report // a car without a sheet has no say about sheets
		for _, r := range reports {
			if r.role(a) != nil && r.role(b) != nil {
				both = append(both, r)
			}
		}
		if len(both) == 0 {
			return
		}
		x, _ := over(both, a, of)
		y, _ := over(both, b, of)
		s.Claims = append(s.Claims, Claim{text, kind, x.Above(y), fmt.Sprintf("%s against %s; order by order in %d of %d", x.text(3), y.text(3), times(both, a, b, of), len(both))})
	}
	above(Ladder, Greedy, mainSheet, "most information per minute outscores the trade's sheet, dead lines skipped", ofScore)
	above(Ladder, Greedy, mainSheet, "the same without tolerance", ofBare)
	above(Ladder, Greedy, printedSheet, "most information per minute outscores the trade's sheet, no line skipped", ofScore)
	above(Ladder, mainSheet, RandomTells, "the trade's sheet outscores a telling test by lot", ofScore)
	above(Ladder, printedSheet, RandomTells, "the trade's sheet, no line skipped, outscores a telling test by lot", ofScore)
	above(Ladder, RandomTells, RandomAny, "a telling test by lot outscores any test by lot", ofScore)
	best, _ := over(reports, Optimal, ofScore)
	swap, _ := over(reports, Parts, ofScore)
	s.Claims = append(s.Claims, Claim{"who replaces the likeliest part scores at least 50 below the plan", Ladder, best.Low-swap.High >= 50, fmt.Sprintf("%s against %s", best.text(3), swap.text(3))})
	most := 0.0
	for _, r := range reports {
		most = max(most, r.Rung(Parts).Good.High)
	}
	s.Claims = append(s.Claims, Claim{"who replaces the likeliest part never scores 90", Ladder, most == 0, fmt.Sprintf("at most %.0f %% of the jobs", 100*most)})
	above(Watched, Greedy, Cheapest, "most information per minute outscores the quickest telling test", ofScore)
	above(Watched, Greedy, Cheapest, "the same without tolerance", ofBare)
	above(Watched, mainSheet, Cheapest, "the trade's sheet outscores the quickest telling test, without tolerance", ofBare)
	above(Watched, mainSheet, Curious, "the trade's sheet outscores most information whatever it takes", ofScore)
	above(Watched, Optimal, Dawdler, "time wasted in small pieces costs points", ofScore)
	above(Watched, Optimal, Dawdler, "the same without tolerance", ofBare)
	for _, of := range []struct {
		name string
		of   func(Chance) float64
	}{{"as marked", func(c Chance) float64 { return c.Score }}, {"without tolerance", func(c Chance) float64 { return c.Bare }}} {
		lowest, says := 1.0, ""
		for _, r := range reports {
			for _, c := range r.Chances {
				if c.Better == Optimal && c.Worse == Greedy {
					lowest = min(lowest, of.of(c))
					says += fmt.Sprintf("%s %.2f ", r.Order, of.of(c))
				}
			}
		}
		s.Claims = append(s.Claims, Claim{"on a single job the plan outscores most information per minute with a chance of .6 or more, " + of.name, Watched, lowest >= .6, says[:max(0, len(says)-1)]})
	}
}

// times counts the orders in which a is above b.
func times(reports []*Report, a, b string, of func(*Rung) []float64) int {
	n := 0
	for _, r := range reports {
		if estimate(of(r.role(a))).Above(estimate(of(r.role(b)))) {
			n++
		}
	}
	return n
}

// String is the mean, with its interval where it is not exact.
func (e Estimate) String() string { return e.text(2) }

func (e Estimate) text(digits int) string {
	if e.Exact() {
		return fmt.Sprintf("%.*f", digits, e.Mean)
	}
	return fmt.Sprintf("%.*f (%.*f to %.*f)", digits, e.Mean, digits, e.Low, digits, e.High)
}
