package dictionary

import (
	"slices"
	"strings"

	"coldbay/grading/plan"
)

// Length is how many steps a plan takes to its end, along its tree: tests and repairs, without what sets them up and without verifying.
// The mean is over the suspects by their weights.
type Length struct {
	Least int     `json:"least"`
	Mean  float64 `json:"mean"`
	Most  int     `json:"most"`
}

// Steps measures a plan of d from its root.
func Steps(d *plan.Dictionary, root *plan.Node) Length {
	l := Length{Least: -1}
	sum, weight := int64(0), int64(0)
	ends := func(n int, s plan.Set) {
		if l.Least < 0 || n < l.Least {
			l.Least = n
		}
		l.Most = max(l.Most, n)
		w := d.Weight(s)
		sum, weight = sum+int64(n)*w, weight+w
	}
	var walk func(n *plan.Node, done int)
	walk = func(n *plan.Node, done int) {
		for _, s := range n.Do {
			if s.Act == plan.ActTest || s.Act == plan.ActRepair && d.Units[s.Index].Repair > 0 {
				done++
			}
		}
		if len(n.Branches) == 0 {
			ends(done, n.Left)
		}
		for _, b := range n.Branches {
			if b.Next == nil {
				ends(done, b.Left)
				continue
			}
			walk(b.Next, done)
		}
	}
	walk(root, 0)
	l.Least = max(0, l.Least)
	if weight > 0 {
		l.Mean = float64(sum) / float64(weight)
	}
	return l
}

// Hidden lists the suspects that can't be found with the tools that are allowed: at none of their severities does any test tell them from
// all suspects of other units.
func Hidden(d *plan.Dictionary) []string {
	alike := slices.Concat(Alike(d)...)
	var out []string
	seen := map[string]bool{} // suspects, and whether a cell of theirs can be found
	for _, h := range d.Hypotheses {
		id, _, _ := strings.Cut(h.ID, "@")
		seen[id] = seen[id] || !slices.Contains(alike, h.ID)
	}
	for _, h := range d.Hypotheses {
		if id, _, _ := strings.Cut(h.ID, "@"); !seen[id] && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}
