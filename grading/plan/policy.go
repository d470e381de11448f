package plan

import (
	"context"
	"fmt"
)

// Step is one thing done on a path.
type Step struct {
	Act Act
	// Index is the set-up (ActSetUp), test (ActMove, ActTest) or unit.
	Index int
	// From and To are the configurations before and after.
	From, To int
	Seconds  int64
	// Outcome is the outcome class seen (ActTest), or for ActVerify 1 when
	// cured and 0 when not; -1 otherwise.
	Outcome int
	// Left are the suspects left after the step.
	Left Set
}

// Node is a state of the best plan, for a key sheet.
type Node struct {
	Left   Set
	Config int
	// Value is W(Left, Config).
	Value Bounds
	// Do are the steps taken here: set-ups, then a test, or a repair and its
	// verification. Outcomes and what is left are in Branches.
	Do []Step
	// Branches are what the last step of Do can show, in the order of outcomes.
	Branches []Branch
}

// Branch is one outcome and what follows. Next is nil when the job is over.
type Branch struct {
	Outcome int
	Left    Set
	Next    *Node
}

// Policy returns the best plan from (s,q) as a tree. Of several optimal
// choices it follows the one listed first in the dictionary, so that the tree
// does not depend on what was asked before. exact is false when some value in
// it could only be bounded.
func (p *Planner) Policy(ctx context.Context, s Set, q int) (root *Node, exact bool, err error) {
	if err := p.checkState(s, q); err != nil {
		return nil, false, err
	}
	if s.Empty() {
		return nil, false, fmt.Errorf("%w: no suspects to plan for", ErrQuestion)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	exact = true
	return p.node(s, q, &exact), exact && !p.s.ended, nil
}

func (p *Planner) node(s Set, q int, exact *bool) *Node {
	c := p.best(s, q, true)[0]
	if !c.Value.Exact() {
		*exact = false
	}
	n := &Node{Left: s, Config: q, Value: c.Value, Do: p.steps(c, s, q)}
	for _, b := range p.branches(c, s) {
		if !b.Left.Empty() && !(c.Act == ActRepair && b.Outcome == 1) {
			b.Next = p.node(b.Left, c.After, exact)
		}
		n.Branches = append(n.Branches, b)
	}
	return n
}

// branches lists the outcomes of a choice at s.
func (p *Planner) branches(c Choice, s Set) []Branch {
	var out []Branch
	if c.Act == ActRepair {
		cured := s.And(p.m.unitSet[c.Index])
		out = append(out, Branch{Outcome: 1, Left: cured})
		if rest := s.Minus(cured); !rest.Empty() {
			out = append(out, Branch{Outcome: 0, Left: rest})
		}
		return out
	}
	for k, mask := range p.m.masks[c.Index] {
		if part := s.And(mask); !part.Empty() {
			out = append(out, Branch{Outcome: int(p.m.label[c.Index][k]), Left: part})
		}
	}
	return out
}

// setUps are the steps from configuration a to b.
func (p *Planner) setUps(a, b int, left Set) []Step {
	var out []Step
	for _, e := range p.m.close.way(a, b) {
		st := Step{Act: ActSetUp, Index: e.setUp, From: e.from, To: e.to, Seconds: e.seconds, Outcome: -1, Left: left}
		if e.setUp < 0 {
			st.Act, st.Index = ActMove, e.test
		}
		out = append(out, st)
	}
	return out
}

// steps spells a choice out, without its outcome.
func (p *Planner) steps(c Choice, s Set, q int) []Step {
	out := p.setUps(q, c.At, s)
	if c.Act == ActTest {
		return append(out, Step{Act: ActTest, Index: c.Index, From: c.At, To: c.After,
			Seconds: p.d.Tests[c.Index].Seconds, Outcome: -1, Left: s})
	}
	unit := p.d.Units[c.Index]
	done := c.At
	for _, a := range unit.RepairAt {
		if a.Pre == c.At {
			done = a.Post
		}
	}
	via := int(c.way.via)
	out = append(out, Step{Act: ActRepair, Index: c.Index, From: c.At, To: done, Seconds: unit.Repair, Outcome: -1, Left: s})
	out = append(out, p.setUps(done, via, s)...)
	return append(out, Step{Act: ActVerify, Index: c.Index, From: via, To: c.After, Seconds: unit.Verify, Outcome: -1, Left: s})
}

// Path is a plan played against one truth.
type Path struct {
	Steps   []Step
	Seconds int64
	// Exact is false when the plan followed is only the best one known.
	Exact bool
}

// PathFor plays the plan of Policy from all hypotheses at the start
// configuration with hypothesis h as the truth: "par for this fault". The mean
// of Seconds over the priors is par.
func (p *Planner) PathFor(ctx context.Context, h int) (Path, error) {
	return p.PathFrom(ctx, p.m.all, p.d.Start, h)
}

// PathFrom is PathFor from another state; h must be in s.
func (p *Planner) PathFrom(ctx context.Context, s Set, q, h int) (Path, error) {
	if err := p.checkState(s, q); err != nil {
		return Path{}, err
	}
	if !s.Has(h) {
		return Path{}, fmt.Errorf("%w: hypothesis %d is not among the suspects %s", ErrQuestion, h, s)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	path := Path{Exact: true}
	for {
		c := p.best(s, q, true)[0]
		path.Exact = path.Exact && c.Value.Exact() && !p.s.ended
		steps := p.steps(c, s, q)
		over := false
		for _, b := range p.branches(c, s) {
			if b.Left.Has(h) {
				last := &steps[len(steps)-1]
				last.Outcome, last.Left = b.Outcome, b.Left
				over = c.Act == ActRepair && b.Outcome == 1
				s = b.Left
			}
		}
		for _, st := range steps {
			path.Seconds += st.Seconds
		}
		path.Steps = append(path.Steps, steps...)
		if over {
			return path, nil
		}
		q = c.After
	}
}
