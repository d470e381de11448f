package plan

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
)

// Certificate proves Lower <= W(Root, Config) <= Upper to a reader who trusts
// neither the search nor its bounds: package certify checks it against the
// dictionary alone.
type Certificate struct {
	// Digest is that of the dictionary.
	Digest string `json:"digest"`
	Root   Set    `json:"root"`
	Config int    `json:"config"`
	Lower  int64  `json:"lower"`
	Upper  int64  `json:"upper"`
	// Claims are lower bounds, each of which follows from those on smaller
	// sets: they are a feasible point of the dual of the linear program
	// "largest W(root) with every W(S,q) at most each of its options".
	Claims []Claim `json:"claims"`
	// Plan is a policy whose value is at most Upper.
	Plan []Move `json:"plan"`
}

// Claim says W(Left, Config) >= Value.
type Claim struct {
	Left   Set   `json:"left"`
	Config int   `json:"config"`
	Value  int64 `json:"value"`
}

// Move says: at (Left, Config) do Test in configuration At.
type Move struct {
	Left   Set `json:"left"`
	Config int `json:"config"`
	Test   int `json:"test"`
	At     int `json:"at"`
}

// ErrCertificate is wrapped when no certificate can be written.
var ErrCertificate = errors.New("certificate")

// Certificate answers Value(s,q) with its proof. An inexact answer has a
// certificate too: of its bounds.
func (p *Planner) Certificate(ctx context.Context, s Set, q int) (*Certificate, error) {
	if err := p.checkState(s, q); err != nil {
		return nil, err
	}
	if p.opts.Economic {
		return nil, fmt.Errorf("%w: only plans with proof before parts are certified", ErrCertificate)
	}
	digest, err := p.d.Digest()
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	v := p.value(s, q)
	w := &prover{p: p, cert: &Certificate{Digest: digest, Root: s, Config: q, Lower: v.Lo, Upper: v.Hi},
		claimed: map[state]bool{}, planned: map[state]bool{}, asked: map[state]bool{}}
	if err := w.claim(s, q, v.Lo, w.p.s.every); err != nil {
		return nil, err
	}
	w.plan(s, q)
	return w.cert, nil
}

type prover struct {
	p       *Planner
	cert    *Certificate
	claimed map[state]bool
	planned map[state]bool
	asked   map[state]bool // states for which another configuration is being asked
}

// claim justifies W(s,q) >= value, adding what it rests on. Tests that do not
// split a set do not split its parts, so the candidates thin out with depth.
func (w *prover) claim(s Set, q int, value int64, candidates []int32) error {
	if w.claimed[state{s, int32(q)}] || w.p.m.pairOrLeaf(s, q) >= value {
		return nil
	}
	m, f := w.p.m, &frame{}
	f.list = m.masses(s, nil)
	m.split(s, candidates, f)
	if w.p.s.codeBound(f, q) >= value {
		return nil
	}
	m.options(s, q, f)
	if test, short := w.short(s, value, f); short {
		// What the search knew from another configuration need not follow
		// from the tests one by one: there it may have been a code's bound.
		if done, err := w.elsewhere(s, q, value, candidates); done || err != nil {
			return err
		}
		return fmt.Errorf("%w: W(%s, %d) >= %d is not justified by test %d", ErrCertificate, s, q, value, test)
	}
	w.list(s, q, value)
	weight := m.weigh(s)
	type gap struct {
		part        Set
		at          int
		known, self int64
	}
	for _, st := range f.steps {
		g := f.groups[st.group]
		post := int(st.act.way.post)
		sum := weight * st.act.way.seconds
		var gaps []gap
		for _, part := range f.parts[g.lo:g.hi] {
			known := w.known(part, post)
			self := known
			if !w.claimed[state{part, int32(post)}] {
				self = m.pairOrLeaf(part, post)
			}
			sum += self
			gaps = append(gaps, gap{part, post, known, self})
		}
		// Rest on as few claims as will do.
		slices.SortStableFunc(gaps, func(a, b gap) int { return cmp.Compare(b.known-b.self, a.known-a.self) })
		for _, c := range gaps {
			if sum >= value {
				break
			}
			if err := w.claim(c.part, c.at, c.known, f.useful); err != nil {
				return err
			}
			sum += c.known - c.self
		}
	}
	return nil
}

// known is the best bound of W(s,q) without search. A state is always claimed
// for this value, so that one claim serves whoever rests on it.
func (w *prover) known(s Set, q int) int64 {
	return max(w.p.s.lower(s, q, w.p.s.frame(0)), w.p.s.across(s, q))
}

// short finds a test whose parts are not known to take long enough.
func (w *prover) short(s Set, value int64, f *frame) (test int, short bool) {
	weight := w.p.m.weigh(s)
	for _, st := range f.steps {
		g := f.groups[st.group]
		sum := weight * st.act.way.seconds
		for _, part := range f.parts[g.lo:g.hi] {
			sum += w.known(part, int(st.act.way.post))
		}
		if sum < value {
			return int(st.act.test), true
		}
	}
	return 0, false
}

// elsewhere justifies W(s,q) >= value by a claim on the same suspects in
// another configuration, from which q can be set up. That claim is listed even
// when it is a bound that the reader forms himself, since only listed claims
// are carried over.
func (w *prover) elsewhere(s Set, q int, value int64, candidates []int32) (done bool, err error) {
	m := w.p.m
	weight := m.weigh(s)
	key := state{s, int32(q)}
	if w.asked[key] {
		return false, nil // in a ring of configurations none is the reason
	}
	w.asked[key] = true
	defer delete(w.asked, key)
	for c := range m.q {
		if c == q {
			continue
		}
		there := w.known(s, c)
		if there-weight*m.close.dist[c][q] < value {
			continue
		}
		if err = w.claim(s, c, there, candidates); err != nil {
			continue
		}
		w.list(s, c, there)
		return true, nil
	}
	return false, err
}

// list adds a claim, unless the state has one.
func (w *prover) list(s Set, q int, value int64) {
	key := state{s, int32(q)}
	if w.claimed[key] {
		return
	}
	w.claimed[key] = true
	w.cert.Claims = append(w.cert.Claims, Claim{s, q, value})
}

// pairOrLeaf is the cheap part of static.
func (m *model) pairOrLeaf(s Set, q int) int64 {
	if v, ok := m.leaf(s, q); ok {
		return v
	}
	return m.pairBound(m.masses(s, nil), q)
}

// plan lists the moves of the best plan known.
func (w *prover) plan(s Set, q int) {
	key := state{s, int32(q)}
	if _, leaf := w.p.m.leaf(s, q); leaf || w.planned[key] {
		return
	}
	w.planned[key] = true
	c := w.p.known(s, q, Bounds{})
	w.cert.Plan = append(w.cert.Plan, Move{s, q, c.Index, c.At})
	for _, b := range w.p.branches(c, s) {
		w.plan(b.Left, c.After)
	}
}
