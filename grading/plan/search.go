package plan

import (
	"cmp"
	"context"
	"slices"
)

// search is one planner's working state.
type search struct {
	m      *model
	memo   memo
	frames []*frame
	every  []int32 // all tests
	nodes  int64
	limit  int64 // nodes at which to stop
	share  int64 // nodes of one question
	ctx    context.Context
	recent []recent
	ended  bool // out of time or nodes: unwind, keep what is proven
	// breathe is called once for every state that is looked at closely, which takes a millisecond at most.
	breathe func()
	// tried are the nodes that questions about a state have been given and that did not settle it.
	tried map[state]int64
}

// recent is a slot of the small cache of pair bounds. No state has an empty
// set, so a zero slot matches none.
type recent struct {
	key   state
	bound int64
}

const recentBits = 15

func newSearch(m *model) *search {
	s := &search{m: m, recent: make([]recent, 1<<recentBits), tried: map[state]int64{}, breathe: func() {}}
	for t := range m.d.Tests {
		s.every = append(s.every, int32(t))
	}
	return s
}

func (s *search) frame(depth int) *frame {
	for len(s.frames) <= depth {
		s.frames = append(s.frames, &frame{})
	}
	return s.frames[depth]
}

// begin arms the limits for one question.
func (s *search) begin(ctx context.Context, nodes int64) {
	s.ctx, s.ended, s.limit, s.share = ctx, false, infinity, infinity
	if nodes > 0 {
		s.limit, s.share = s.nodes+nodes, nodes
	}
	s.ended = ctx.Err() != nil
}

func (s *search) tick() bool {
	s.nodes++
	s.breathe()
	if s.nodes > s.limit || s.nodes&31 == 0 && s.ctx.Err() != nil {
		s.ended = true
	}
	return s.ended
}

// lower returns a proven lower bound of W(set,q) without search.
func (s *search) lower(set Set, q int, f *frame) int64 {
	m := s.m
	if v, ok := m.leaf(set, q); ok {
		return v
	}
	var known int64
	key := state{set, int32(q)}
	hash := key.hash()
	if e := s.memo.findAt(&key, hash); e != nil {
		if e.lo == e.hi {
			return e.lo
		}
		known = e.lo
	}
	return max(known, s.static(&key, hash, f))
}

// static is the pair bound, or the closed form of two atoms, remembered for
// the states seen last: the climb comes back to the same children again and
// again.
func (s *search) static(key *state, hash uint64, f *frame) int64 {
	c := &s.recent[hash>>(64-recentBits)]
	if !c.key.is(key) {
		f.list = s.m.masses(key.set, f.list)
		c.key = *key
		if len(f.list) == 2 && !s.m.bound.economic {
			c.bound = s.m.pairLeaf(f.list[0], f.list[1], int(key.q))
		} else {
			c.bound = s.m.pairBound(f.list, int(key.q))
		}
	}
	return c.bound
}

// closed reports whether lower is already the exact value.
func (s *search) closed(set Set, q int, f *frame) (int64, bool) {
	if v, ok := s.m.leaf(set, q); ok {
		return v, true
	}
	if e := s.memo.find(state{set, int32(q)}); e != nil && e.lo == e.hi {
		return e.lo, true
	}
	f.list = s.m.masses(set, f.list)
	if len(f.list) == 2 && !s.m.bound.economic {
		return s.m.pairLeaf(f.list[0], f.list[1], q), true
	}
	return 0, false
}

// solve returns W(set,q) exactly when it is below budget, and otherwise a
// proven lower bound that is at least budget. After s.ended the returned
// bound is proven but may be below budget.
func (s *search) solve(set Set, q int, budget int64, candidates []int32, depth int) int64 {
	m, f := s.m, s.frame(depth)
	if v, ok := s.closed(set, q, f); ok {
		return v
	}
	key := state{set, int32(q)}
	bound := m.pairBound(f.list, q)
	if e := s.memo.find(key); e != nil {
		bound = max(bound, e.lo)
	}
	if bound < budget {
		bound = max(bound, s.across(set, q))
	}
	if bound >= budget || s.ended {
		return bound
	}
	if s.tick() {
		return bound
	}
	m.split(set, candidates, f)
	bound = max(bound, s.codeBound(f, q))
	if bound >= budget {
		e := s.memo.at(key)
		e.lo = max(e.lo, bound)
		return bound
	}
	s.price(set, q, f, depth)
	best, refused, act := infinity, infinity, noAction
	for k := range f.steps {
		st := &f.steps[k]
		most := min(best, budget)
		if st.f >= most {
			refused = min(refused, st.f)
			break
		}
		value := s.take(st, f, most, depth)
		if s.ended {
			return bound
		}
		if value < most {
			best, act = value, st.act
		} else {
			refused = min(refused, value)
		}
	}
	e := s.memo.at(key)
	if best < infinity {
		e.lo, e.hi, e.act = best, best, act
		return best
	}
	e.lo = max(e.lo, bound, refused)
	return e.lo
}

// across bounds W(set,q) by what is known of the same suspects in other
// configurations: whoever stands in one of them can set up q and go on from
// there, so W(set,p) <= P(set) d(p,q) + W(set,q).
func (s *search) across(set Set, q int) int64 {
	p := s.m.weigh(set)
	var best int64
	for c := range s.m.q {
		if c == q {
			continue
		}
		if e := s.memo.find(state{set, int32(c)}); e != nil {
			best = max(best, e.lo-p*s.m.close.dist[c][q])
		}
	}
	return best
}

// codeBound is the Huffman bound at a split set.
func (s *search) codeBound(f *frame, q int) int64 {
	arity := 0
	f.costs = f.costs[:0]
	for _, g := range f.groups {
		arity = max(arity, int(g.hi-g.lo))
		f.costs = append(f.costs, g.cost)
	}
	var v int64
	v, f.work = s.m.huffmanBound(f.list, q, arity, f.costs, f.work)
	return v
}

// price lists the options of a split set with their lower bounds, best first.
func (s *search) price(set Set, q int, f *frame, depth int) {
	m := s.m
	m.options(set, q, f)
	p := m.weigh(set)
	below := s.frame(depth + 1)
	for k := range f.steps {
		st := &f.steps[k]
		st.f, st.child = p*st.act.way.seconds, int32(len(f.child))
		g := f.groups[st.group]
		for _, part := range f.parts[g.lo:g.hi] {
			b := s.lower(part, int(st.act.way.post), below)
			f.child = append(f.child, b)
			st.f += b
		}
	}
	slices.SortFunc(f.steps, func(a, b step) int {
		if c := cmp.Compare(a.f, b.f); c != 0 {
			return c
		}
		return cmp.Compare(a.number, b.number)
	})
}

// take solves the children of one option, hardest first, until they are all
// exact or the option cannot stay below most. It returns the option's value or
// a bound that is at least most.
func (s *search) take(st *step, f *frame, most int64, depth int) int64 {
	g := f.groups[st.group]
	parts := f.parts[g.lo:g.hi]
	bounds := f.child[st.child:][:len(parts)]
	value := st.f
	// The largest bound first: it is the likeliest to rise past the budget.
	order := f.order[:0]
	for i := range parts {
		order = append(order, i)
		for j := i; j > 0 && bounds[order[j]] > bounds[order[j-1]]; j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	f.order = order
	for _, i := range order {
		v := s.solve(parts[i], int(st.act.way.post), most-(value-bounds[i]), f.useful, depth+1)
		if s.ended {
			return value
		}
		if v > bounds[i] {
			value += v - bounds[i]
		}
		if value >= most {
			break
		}
	}
	return value
}

// climb solves (set,q) as far as the limits allow: each failed budget proves a
// higher lower bound, and the greedy plans give the upper one. A state that has
// had the nodes of a whole question is not tried again: a grader asks for the
// value of what a step leaves both in pricing the step and after it.
func (s *search) climb(set Set, q int) (lo, hi int64) {
	f := s.frame(0)
	if v, ok := s.closed(set, q, f); ok {
		return v, v
	}
	key, begun := state{set, int32(q)}, s.nodes
	if s.tried[key] >= s.share {
		e := s.memo.at(key)
		return e.lo, e.hi
	}
	lo = s.lower(set, q, f)
	// What every plan pays in the end does not count in the steps of the climb.
	var base int64
	for i := range set.All() {
		base += s.m.weight[i] * s.m.bound.minBase[i]
	}
	width, widenAt := 0, s.nodes
	for !s.ended {
		if s.nodes >= widenAt && width < maxBeam {
			width++
			s.beam(set, q, width)
			widenAt = s.nodes + 400*int64(width*width*width)
		}
		e := s.memo.at(key)
		if lo >= e.hi {
			e.lo = e.hi
			break
		}
		budget := min(e.hi, base+(lo-base)*climbNumerator/climbDenominator+1)
		budget = max(budget, lo+1)
		lo = max(lo, s.solve(set, q, budget, s.every, 0))
	}
	if s.ended {
		s.tried[key] += s.nodes - begun
		// Someone must still have a plan to follow: the narrowest beam ends
		// quickly and needs no search.
		s.beam(set, q, 1)
	}
	e := s.memo.at(key)
	e.lo = max(e.lo, lo)
	return e.lo, e.hi
}

const (
	// Each failed budget is raised by this ratio of what the bound has above
	// the cures. Smaller steps repeat work, larger ones overshoot.
	climbNumerator, climbDenominator = 105, 100
	// maxBeam is the widest beam tried for an upper bound.
	maxBeam = 4
)
