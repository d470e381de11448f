package plan

import (
	"context"
)

// Act says what kind of thing a choice or a step is.
type Act string

// The acts of a plan.
const (
	// ActSetUp changes the configuration by a set-up of the dictionary.
	ActSetUp Act = "set-up"
	// ActMove runs a test only to change the configuration.
	ActMove Act = "move"
	// ActTest runs a test and reads it.
	ActTest Act = "test"
	// ActRepair repairs a unit.
	ActRepair Act = "repair"
	// ActVerify runs the verification of a repaired unit.
	ActVerify Act = "verify"
	// ActDone ends the job.
	ActDone Act = "done"
)

// Choice is something worth doing next.
type Choice struct {
	// Act is ActTest, ActRepair or ActDone.
	Act Act
	// Index is the test or the unit.
	Index int
	// At is the configuration it is done in, After the one it leaves (for a
	// repair: after its verification).
	At, After int
	// Value is P(S) times the expected seconds of choosing it.
	Value Bounds

	way option
}

// Best returns everything that is optimal at (s,q), in the order of the
// dictionary: each optimal test once, in its best configuration, or the repair
// that is due. complete is false when the limits ended the search before the
// list was proven; it then holds the first step of the best plan known. Set-up
// is part of a choice, never a choice of its own.
func (p *Planner) Best(ctx context.Context, s Set, q int) (choices []Choice, complete bool, err error) {
	if err := p.checkState(s, q); err != nil {
		return nil, false, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	choices = p.best(s, q, false)
	return choices, !p.s.ended, nil
}

// best lists optimal choices; with first it stops at the first of them.
func (p *Planner) best(s Set, q int, first bool) []Choice {
	m := p.m
	if s.Empty() {
		return []Choice{{Act: ActDone, At: q, After: q}}
	}
	if v, ok := m.leaf(s, q); ok {
		return []Choice{p.repairChoice(s, q, v)}
	}
	v := p.value(s, q)
	if !v.Exact() {
		return []Choice{p.known(s, q, v)}
	}
	var out []Choice
	for t := range m.d.Tests {
		p.s.breathe()
		if way, ok := p.attains(s, q, int32(t), v.Lo); ok {
			out = append(out, Choice{Act: ActTest, Index: t, At: int(way.pre), After: int(way.post), Value: v, way: way})
			if first {
				return out
			}
		}
	}
	if m.bound.economic {
		for u, in := range m.unitSet {
			if s.And(in).Empty() {
				continue
			}
			for _, o := range m.moves[q][u] {
				if m.weigh(s)*o.seconds+p.probe(s.Minus(in), int(o.post), v.Lo) <= v.Lo {
					out = append(out, Choice{Act: ActRepair, Index: u, At: int(o.pre), After: int(o.post), Value: v, way: o})
					break
				}
			}
		}
	}
	if p.s.ended || len(out) == 0 {
		return []Choice{p.known(s, q, v)}
	}
	return out
}

// probe returns W(s,q) if it is at most most, else something larger.
func (p *Planner) probe(s Set, q int, most int64) int64 {
	v := p.s.solve(s, q, most+1, p.s.every, 1)
	if p.s.ended {
		return infinity / 4
	}
	return v
}

// attains reports whether test t at (s,q) has value target, and how.
func (p *Planner) attains(s Set, q int, t int32, target int64) (option, bool) {
	m := p.m
	f := p.s.frame(0)
	m.split(s, []int32{t}, f)
	if len(f.useful) == 0 {
		return option{}, false
	}
	parts := append([]Set(nil), f.parts...)
	bounds := make([]int64, len(parts))
	weight := m.weigh(s)
	for _, o := range m.ways[q][t] {
		sum := weight * o.seconds
		for k, part := range parts {
			bounds[k] = p.s.lower(part, int(o.post), f)
			sum += bounds[k]
		}
		for k, part := range parts {
			if sum > target {
				break
			}
			sum += p.probe(part, int(o.post), target-(sum-bounds[k])) - bounds[k]
		}
		if sum <= target {
			return o, true
		}
	}
	return option{}, false
}

// known is the first step of the best plan in the memo.
func (p *Planner) known(s Set, q int, v Bounds) Choice {
	f := p.s.frame(0)
	act := noAction
	if e := p.s.memo.find(state{s, int32(q)}); e != nil {
		act = e.act
	}
	if act.test < 0 {
		// Two atoms left: the closed form keeps no step, and needs none kept.
		f.list = p.m.masses(s, f.list)
		act = p.pairAction(f.list[0], f.list[1], q)
	}
	if u := int(act.test) - len(p.d.Tests); u >= 0 {
		return Choice{Act: ActRepair, Index: u, At: int(act.way.pre), After: int(act.way.post), Value: v, way: act.way}
	}
	return Choice{Act: ActTest, Index: int(act.test), At: int(act.way.pre), After: int(act.way.post), Value: v, way: act.way}
}

func (p *Planner) pairAction(x, y mass, q int) action {
	m := p.m
	best, act := infinity, noAction
	for _, t := range m.bound.apart[int(x.atom)*m.bound.atoms+int(y.atom)] {
		for _, o := range m.ways[q][t] {
			v := (x.w+y.w)*o.seconds + x.w*m.finish[m.atoms[x.atom].unit][o.post] + y.w*m.finish[m.atoms[y.atom].unit][o.post]
			if v < best {
				best, act = v, action{t, o}
			}
		}
	}
	return act
}

// repairChoice is the first replacement at a leaf.
func (p *Planner) repairChoice(s Set, q int, v int64) Choice {
	u := int(p.m.unitOf[s.First()])
	way := p.m.moves[q][u][0]
	if !s.Within(p.m.unitSet[u]) {
		_, steps := p.m.groupPlan(s, q)
		u, way = steps[0].unit, steps[0].way
	}
	return Choice{Act: ActRepair, Index: u, At: int(way.pre), After: int(way.post), Value: Bounds{v, v}, way: way}
}
