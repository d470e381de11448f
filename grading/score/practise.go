package score

import (
	"cmp"
	"slices"
)

// Practise is what to practise next: which kind of decision cost most, where, and on which order it is needed most.
type Practise struct {
	Kind    string     `json:"kind"` // looking, electrics, vacuum, air, scan, parts, setup; empty when nothing cost more than the tolerance
	Name    string     `json:"name"`
	Minutes float64    `json:"minutes"` // what decisions of that kind cost, on average
	Says    string     `json:"says"`
	Kinds   []KindCost `json:"kinds"`   // all kinds that cost something, the dearest first
	Moments []Moment   `json:"moments"` // the three that cost most at the most
	Next    *Next      `json:"next,omitempty"`
}

// KindCost is what decisions of one kind cost.
type KindCost struct {
	Kind    string  `json:"kind"`
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"`
	Steps   int     `json:"steps"` // steps of the timeline that cost something
}

// Moment is a step that cost more than the tolerance.
type Moment struct {
	Seq     int     `json:"seq"`
	Kind    string  `json:"kind"`
	Minutes float64 `json:"minutes"`
	Did     string  `json:"did"`
	Better  string  `json:"better,omitempty"`
}

// Next is the order suggested for practice.
type Next struct {
	Order string `json:"order"`
	Title string `json:"title"`
	Says  string `json:"says"`
}

// Candidate is an order that may be suggested: how long its plan takes and how that divides into kinds, both on average over its suspects,
// so that nothing of its fault is given away.
type Candidate struct {
	Order   string
	Title   string             `json:"-"`
	Minutes float64            // par
	Kinds   map[string]float64 // minutes of the plan's steps by kind
}

// trifle is what a step may cost without being spoken of, minutes: it would be written as nothing.
const trifle = 0.05

// practise sums what was charged by kind of decision.
func (g *grader) practise() {
	p := &g.d.Practise
	p.Kinds, p.Moments = []KindCost{}, []Moment{}
	for _, k := range kinds {
		c := KindCost{Kind: k, Name: g.Words.T("grade.kind." + k)}
		for i, s := range g.d.Steps {
			if s.Charged >= trifle && g.kindOfCost(i) == k {
				c.Minutes += s.Charged
				c.Steps++
				p.Moments = append(p.Moments, Moment{Seq: s.Seq, Kind: k, Minutes: s.Charged, Did: s.Did, Better: s.Better})
			}
		}
		if c.Steps > 0 {
			p.Kinds = append(p.Kinds, c)
		}
	}
	slices.SortStableFunc(p.Kinds, func(a, b KindCost) int { return cmp.Compare(b.Minutes, a.Minutes) })
	slices.SortStableFunc(p.Moments, func(a, b Moment) int {
		return cmp.Or(cmp.Compare(b.Minutes, a.Minutes), cmp.Compare(a.Seq, b.Seq))
	})
	p.Moments = p.Moments[:min(3, len(p.Moments))]
	if len(p.Kinds) == 0 {
		p.Says = g.Words.T("grade.practise.none")
	} else {
		p.Kind, p.Name, p.Minutes = p.Kinds[0].Kind, p.Kinds[0].Name, p.Kinds[0].Minutes
		p.Says = g.Words.N("grade.practise.kind", p.Kinds[0].Steps, "kind", p.Name, "minutes", tenths(g.Words, p.Minutes))
	}
	p.Next = next(g.Words, g.Candidates, g.Config.Order.ID, p.Kind, g.d.Par.Minutes)
}

// next chooses among orders the one whose plan spends the largest share on a kind; without a kind, the one with the shortest par beyond
// the order that was done. Of equals the first listed is taken. Who mended too early is sent to where the plan spends most on readings
// before it mends.
func next(w Words, list []Candidate, done, kind string, par float64) *Next {
	spends := func(c *Candidate) float64 {
		if kind == KindParts {
			return max(0, c.Minutes-c.Kinds[kind])
		}
		return c.Kinds[kind]
	}
	var best *Candidate
	for i := range list {
		c := &list[i]
		switch {
		case c.Order == done || c.Minutes <= 0:
		case kind == "" && c.Minutes > par && (best == nil || c.Minutes < best.Minutes):
			best = c
		case kind != "" && spends(c) > 0 && (best == nil || spends(c)/c.Minutes > spends(best)/best.Minutes):
			best = c
		}
	}
	if best == nil {
		return nil
	}
	n := &Next{Order: best.Order, Title: best.Title, Says: w.T("grade.practise.par", "par", whole(best.Minutes))}
	switch kind {
	case "":
	case KindParts:
		n.Says = w.T("grade.practise.proof", "par", whole(best.Minutes), "minutes", tenths(w, spends(best)))
	default:
		n.Says = w.T("grade.practise.share", "par", whole(best.Minutes), "minutes", tenths(w, spends(best)), "kind", w.T("grade.kind."+kind))
	}
	return n
}
