package report

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// ErrPlan is wrapped when a plan's tree does not fit the dictionary it is said to be for.
var ErrPlan = errors.New("plan and dictionary don't belong together")

// card is one place in the plan: what was seen on the way to it, who is left, and what to do. A chain of doings without a reading
// in between is one card, and so are readings after which the same repair ends the job.
type card struct {
	N      int      // number, in the order of reading
	Seen   []string // what was seen, whichever; only what tells it from its neighbours; empty at the root
	Full   []string // the same in full
	Left   []string // names of the suspects left
	Do     []doing
	Ends   bool // a repair ends it
	ToGo   string
	Kids   []*card
	size   int // cards in its tree
	finish string
}

// doing is one line of what to do.
type doing struct {
	Says    string
	Seconds int64
}

// Clock is how long it takes.
func (d doing) Clock() string { return bench.Clock(float64(d.Seconds)) }

// deepest bounds the depth of a plan's tree; each level is a reading or a repair.
const deepest = 512

// deal makes cards of a plan.
func deal(msg *messages.Catalogue, d *plan.Dictionary, root *plan.Node) (*card, error) {
	switch {
	case d == nil || root == nil:
		return nil, fmt.Errorf("%w: there is no plan", ErrPlan)
	}
	if err := d.Validate(); err != nil {
		return nil, err
	}
	c, err := dealNode(msg, d, root, 0)
	if err != nil {
		return nil, err
	}
	n := 0
	c.count(&n)
	return c, nil
}

func dealNode(msg *messages.Catalogue, d *plan.Dictionary, n *plan.Node, depth int) (*card, error) {
	if depth > deepest {
		return nil, fmt.Errorf("%w: it is more than %d readings deep", ErrPlan, deepest)
	}
	if len(n.Do) == 0 {
		return nil, fmt.Errorf("%w: nothing is done for %s", ErrPlan, n.Left)
	}
	if !n.Left.Within(d.All()) || n.Left.Empty() {
		return nil, fmt.Errorf("%w: suspects %s", ErrPlan, n.Left)
	}
	weight := float64(d.Weight(n.Left)) * 60
	c := &card{Left: namesOf(d, n.Left), ToGo: minutes(msg, float64(n.Value.Hi)/weight)}
	if !n.Value.Exact() {
		c.ToGo = msg.T("report.key.range", "n", minutes(msg, float64(n.Value.Lo)/weight), "of", c.ToGo)
	}
	for _, s := range n.Do {
		says, err := stepSays(msg, d, s)
		if err != nil {
			return nil, err
		}
		c.Do = append(c.Do, doing{Says: says, Seconds: s.Seconds})
	}
	last := n.Do[len(n.Do)-1]
	if last.Act == plan.ActVerify {
		c.Ends = len(n.Branches) < 2
		c.finish = fmt.Sprint(c.Do)
	}
	var labels []string
	for _, b := range n.Branches {
		label, err := outcomeSays(msg, d, last, b.Outcome)
		if err != nil {
			return nil, err
		}
		labels = append(labels, label)
	}
	seen := apart(msg, labels)
	for i, b := range n.Branches {
		if b.Next == nil {
			continue
		}
		kid, err := dealNode(msg, d, b.Next, depth+1)
		if err != nil {
			return nil, err
		}
		kid.Seen, kid.Full = []string{seen[i]}, []string{labels[i]}
		c.adopt(kid)
	}
	return c, nil
}

// adopt takes a card in, or lays it on one after which the same repair ends the job.
func (c *card) adopt(kid *card) {
	for _, k := range c.Kids {
		if kid.Ends && k.Ends && k.finish == kid.finish {
			k.Full = append(k.Full, kid.Full...)
			if !slices.Contains(k.Seen, kid.Seen[0]) {
				k.Seen = append(k.Seen, kid.Seen...)
			}
			for _, n := range kid.Left {
				if !slices.Contains(k.Left, n) {
					k.Left = append(k.Left, n)
				}
			}
			return
		}
	}
	c.Kids = append(c.Kids, kid)
}

// count numbers the cards and sizes their trees.
func (c *card) count(n *int) {
	*n++
	c.N = *n
	c.size = 1
	for _, k := range c.Kids {
		k.count(n)
		c.size += k.size
	}
}

func namesOf(d *plan.Dictionary, s plan.Set) []string {
	var out []string
	for i := range s.All() {
		if n := d.Hypotheses[i].Name; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

func stepSays(msg *messages.Catalogue, d *plan.Dictionary, s plan.Step) (string, error) {
	bad := func(n int) bool { return s.Index < 0 || s.Index >= n }
	switch s.Act {
	case plan.ActSetUp:
		if !bad(len(d.SetUps)) {
			return d.SetUps[s.Index].Name, nil
		}
	case plan.ActMove:
		if !bad(len(d.Tests)) {
			return msg.T("grade.step.setup", "test", d.Tests[s.Index].Name), nil
		}
	case plan.ActTest:
		if !bad(len(d.Tests)) {
			return d.Tests[s.Index].Name, nil
		}
	case plan.ActRepair:
		if !bad(len(d.Units)) {
			return msg.T("report.key.repair", "unit", d.Units[s.Index].Name), nil
		}
	case plan.ActVerify:
		if !bad(len(d.Units)) {
			return msg.T("report.key.verify"), nil
		}
	}
	return "", fmt.Errorf("%w: step %q %d", ErrPlan, s.Act, s.Index)
}

func outcomeSays(msg *messages.Catalogue, d *plan.Dictionary, last plan.Step, outcome int) (string, error) {
	if last.Act != plan.ActTest {
		return msg.T(choose(outcome == 1, "report.key.cured", "report.key.uncured")), nil
	}
	if labels := d.Tests[last.Index].Outcomes; outcome >= 0 && outcome < len(labels) {
		return labels[outcome], nil
	}
	return "", fmt.Errorf("%w: outcome %d of %q", ErrPlan, outcome, d.Tests[last.Index].Name)
}

// between divides the readings within one outcome's label.
const between = "; "

// apart leaves of each label what not all of them say. A label of which nothing would be left stays whole.
func apart(msg *messages.Catalogue, labels []string) []string {
	if len(labels) < 2 {
		return slices.Clone(labels)
	}
	common := map[string]int{}
	for i, l := range labels {
		have := map[string]int{}
		for _, clause := range strings.Split(l, between) {
			have[clause]++
		}
		if i == 0 {
			common = have
			continue
		}
		for clause := range common {
			common[clause] = min(common[clause], have[clause])
		}
	}
	out := make([]string, len(labels))
	for i, l := range labels {
		drop := map[string]int{}
		var keep []string
		for _, clause := range strings.Split(l, between) {
			if drop[clause] < common[clause] {
				drop[clause]++
				continue
			}
			keep = append(keep, clause)
		}
		out[i] = l
		if len(keep) > 0 {
			out[i] = telescope(msg, keep)
		}
	}
	return out
}

// telescope joins clauses, naming a thing that is read several times in a row only once.
func telescope(msg *messages.Catalogue, clauses []string) string {
	var out []string
	subject := ""
	for i, c := range clauses {
		at := strings.LastIndex(c, ": ")
		if at > 0 && i > 0 && c[:at] == subject {
			value := c[at+2:]
			again := strings.HasSuffix(out[len(out)-1], " "+value)
			out[len(out)-1] = msg.T(choose(again, "report.key.again", "report.key.then"), "before", out[len(out)-1], "value", value)
			continue
		}
		subject = ""
		if at > 0 {
			subject = c[:at]
		}
		out = append(out, c)
	}
	return strings.Join(out, between)
}
