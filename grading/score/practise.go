package score

import (
	"cmp"
	"slices"
)

// Practise is what to practise next: which kind of decision cost most, where, and on which order it is needed most.
type Practise struct {
	Kind    string     `json:"kind"` // looking, electrics, vacuum, air, scan, parts, setup; empty when nothing cost more than the tolerance
	Name    string     `json:"name"`
	Minutes float64    `json:"minutes"` // what of decisions of that kind counts, the sum of the tenths of their steps
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
				// In tenths, as it is written, so that what is written adds up.
				n := tenth(s.Charged)
				c.Minutes += n
				c.Steps++
				p.Moments = append(p.Moments, Moment{Seq: s.Seq, Kind: k, Minutes: n, Did: s.Did, Better: s.Better})
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

// What a plan must spend on a kind of decision for its order to be suggested for practice of it: less would hardly be met there.
const (
	worthMinutes = 0.5
	worthShare   = 0.1 // of the minutes of finding out
)

// findingOut are the minutes of a plan without its repairs and their verification, which nobody is spared.
func (c *Candidate) findingOut() float64 {
	sum := 0.0
	for _, k := range kinds { // in a fixed order, so that the sum is the same each time
		if k != KindParts {
			sum += c.Kinds[k]
		}
	}
	return sum
}

// share is how much an order has to practise a kind on: that kind's part of finding out; for parts, which went on unproven, the part
// that finding out has of the whole plan. It is 0 where that is too little to be met.
func (c *Candidate) share(kind string) float64 {
	of, whole := c.Kinds[kind], c.findingOut()
	if kind == KindParts {
		of, whole = whole, c.Minutes
	}
	if whole <= 0 || of < worthMinutes || of/whole < worthShare {
		return 0
	}
	return of / whole
}

// next chooses among orders the one whose plan, in finding out, spends the largest share on a kind, and none where all spend next to
// nothing on it; without a kind, the one with the shortest par beyond the order that was done. Of equals the first listed is taken.
func next(w Words, list []Candidate, done, kind string, par float64) *Next {
	var best *Candidate
	for i := range list {
		c := &list[i]
		switch {
		case c.Order == done || c.Minutes <= 0:
		case kind == "" && c.Minutes > par && (best == nil || c.Minutes < best.Minutes):
			best = c
		case kind != "" && c.share(kind) > 0 && (best == nil || c.share(kind) > best.share(kind)):
			best = c
		}
	}
	if best == nil {
		return nil
	}
	n := &Next{Order: best.Order, Title: best.Title, Says: w.T("grade.practise.par", "par", tenths(w, best.Minutes))}
	switch kind {
	case "":
	case KindParts:
		n.Says = w.T("grade.practise.proof", "par", tenths(w, best.Minutes), "of", tenths(w, best.findingOut()))
	default:
		n.Says = w.T("grade.practise.share", "of", tenths(w, best.findingOut()), "minutes", tenths(w, best.Kinds[kind]), "kind", w.T("grade.kind."+kind))
	}
	return n
}
