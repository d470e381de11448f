package plan

import (
	"context"
	"errors"
	"fmt"
	"sync"
)

// Bounds enclose a value: Lo <= W <= Hi, in weight times seconds. Divide by
// P(S) for expected seconds.
type Bounds struct {
	Lo, Hi int64
}

// Exact reports whether the value is known.
func (b Bounds) Exact() bool { return b.Lo == b.Hi }

func (b Bounds) plus(o Bounds) Bounds { return Bounds{b.Lo + o.Lo, b.Hi + o.Hi} }

// Options change what a planner allows and how long it may think.
type Options struct {
	// Economic lets a part go on before it is proven.
	Economic bool
	// Nodes bounds the states expanded in answering one question; 0 is
	// unbounded. A state that has had as many without being settled is answered
	// with what is known of it whenever it is asked for again. Answers under a node bound are reproducible for the same
	// sequence of questions to a new planner; answers cut short by a context
	// are not, except that their bounds are always true.
	Nodes int64
	// Breathe is called between pieces of work of some milliseconds at most, so that a program with one thread can attend to
	// other things; nil: never. The planner's answers don't depend on it. It must not ask the planner anything.
	Breathe func()
}

// Effort bounds the states expanded for one question (see [Options.Nodes]) so
// that it takes seconds whatever the number of hypotheses: up to some eighty of
// them nearly every question is answered exactly, and with 242, a whole
// catalogue at all severities, par is known within 3 %. A state costs about as
// much as its pairs of hypotheses are many.
func (d *Dictionary) Effort() int64 {
	n := int64(max(1, len(d.Hypotheses)))
	return max(effortLeast, min(effortMost, effortPairs/(n*n)))
}

// Wide reports whether there are so many hypotheses that what has to be done
// for each of them, as in playing all students or laying out the whole plan,
// takes minutes: it is done when asked for, not by the way.
func (d *Dictionary) Wide() bool { return len(d.Hypotheses) > 120 }

const (
	effortMost  = 60_000
	effortLeast = 2_000
	effortPairs = 480_000_000
)

// Stats counts a planner's work so far.
type Stats struct {
	// Nodes is the number of states expanded.
	Nodes int64
	// Memo is the number of states remembered.
	Memo int
}

// ErrQuestion is wrapped when a question does not fit the dictionary.
var ErrQuestion = errors.New("planner question")

// Planner answers questions about one dictionary and remembers what it found.
// Methods may be called from several goroutines; they take turns.
type Planner struct {
	mu   sync.Mutex
	d    *Dictionary
	m    *model
	s    *search
	opts Options
}

// New validates the dictionary and compiles it. The dictionary must not be
// changed afterwards.
func New(d *Dictionary, opts Options) (*Planner, error) {
	if err := d.Validate(); err != nil {
		return nil, err
	}
	if opts.Breathe == nil {
		opts.Breathe = func() {}
	}
	m := compile(d, opts)
	s := newSearch(m)
	s.breathe = opts.Breathe
	return &Planner{d: d, m: m, s: s, opts: opts}, nil
}

// Dictionary returns the dictionary the planner was made for.
func (p *Planner) Dictionary() *Dictionary { return p.d }

// Stats returns the work done so far.
func (p *Planner) Stats() Stats {
	p.mu.Lock()
	defer p.mu.Unlock()
	return Stats{Nodes: p.s.nodes, Memo: len(p.s.memo.keys)}
}

func (p *Planner) checkState(s Set, q int) error {
	if !s.Within(p.m.all) {
		return fmt.Errorf("%w: suspects %s are not all among the %d of the dictionary", ErrQuestion, s, p.m.n)
	}
	if q < 0 || q >= p.m.q {
		return fmt.Errorf("%w: configuration %d is not among 0 to %d", ErrQuestion, q, p.m.q-1)
	}
	return nil
}

// Par returns the bounds of W for all hypotheses at the start configuration.
func (p *Planner) Par(ctx context.Context) (Bounds, error) {
	return p.Value(ctx, p.m.all, p.d.Start)
}

// Value returns bounds of W(s,q): P(s) times the expected seconds to prove,
// repair and verify when the suspects s are left and the bench is in q. It is
// exact unless the context or the node bound ended the search. The empty set
// has value zero.
func (p *Planner) Value(ctx context.Context, s Set, q int) (Bounds, error) {
	if err := p.checkState(s, q); err != nil {
		return Bounds{}, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	return p.value(s, q), nil
}

// Cure is the part of Value that no diagnosis can save: P(s) times the seconds
// of repairing and verifying, were the fault known at (s,q).
func (p *Planner) Cure(s Set, q int) (int64, error) {
	if err := p.checkState(s, q); err != nil {
		return 0, err
	}
	var sum int64
	for i := range s.All() {
		sum += p.m.weight[i] * p.m.finish[p.m.unitOf[i]][q]
	}
	return sum, nil
}

func (p *Planner) value(s Set, q int) Bounds {
	lo, hi := p.s.climb(s, q)
	return Bounds{lo, hi}
}

// Q returns bounds of P(s) times the expected seconds of doing dictionary test
// t next, in the best admissible configuration, and going on optimally. The
// test need not split s.
func (p *Planner) Q(ctx context.Context, s Set, q, t int) (Bounds, error) {
	if err := p.checkState(s, q); err != nil {
		return Bounds{}, err
	}
	if t < 0 || t >= len(p.d.Tests) {
		return Bounds{}, fmt.Errorf("%w: test %d is not among 0 to %d", ErrQuestion, t, len(p.d.Tests)-1)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	return p.testValue(s, q, t), nil
}

func (p *Planner) testValue(s Set, q, t int) Bounds {
	var parts []Set
	for _, mask := range p.m.masks[t] {
		if part := s.And(mask); !part.Empty() {
			parts = append(parts, part)
		}
	}
	out := Bounds{infinity, infinity}
	if s.Empty() {
		return Bounds{}
	}
	weight := p.m.weigh(s)
	for _, o := range p.m.ways[q][t] {
		low := weight * o.seconds
		f := p.s.frame(0)
		for _, part := range parts {
			low += p.s.lower(part, int(o.post), f)
		}
		if low >= out.Hi {
			out.Lo = min(out.Lo, low)
			continue
		}
		v := Bounds{weight * o.seconds, weight * o.seconds}
		for _, part := range parts {
			v = v.plus(p.value(part, int(o.post)))
		}
		out = Bounds{min(out.Lo, v.Lo), min(out.Hi, v.Hi)}
	}
	return out
}

// Part is what one outcome of a step leaves.
type Part struct {
	// Left are the suspects that would have shown this outcome.
	Left Set
	// Config is the configuration the bench is then in.
	Config int
	// Done says that with this outcome the job is over: cured and verified.
	Done bool
	// Rest is seconds still certain to be spent before the plan goes on, or,
	// when Done, before the job ends (such as a verification still to run).
	Rest int64
}

// QPartition values any step, in the dictionary or not, by its replay in all
// suspects: seconds*P(s) + sum over the parts of W(part, after). The parts
// must be disjoint and make up s.
func (p *Planner) QPartition(ctx context.Context, s Set, q int, seconds int64, parts []Set, after int) (Bounds, error) {
	list := make([]Part, len(parts))
	for k, part := range parts {
		list[k] = Part{Left: part, Config: after}
	}
	return p.QParts(ctx, s, q, seconds, list)
}

// QParts is QPartition where outcomes may leave the bench differently or end
// the job.
func (p *Planner) QParts(ctx context.Context, s Set, q int, seconds int64, parts []Part) (Bounds, error) {
	if err := p.checkState(s, q); err != nil {
		return Bounds{}, err
	}
	var seen Set
	for _, part := range parts {
		if err := p.checkState(part.Left, part.Config); err != nil {
			return Bounds{}, err
		}
		if err := p.checkStep(part.Rest); err != nil {
			return Bounds{}, err
		}
		if !seen.And(part.Left).Empty() {
			return Bounds{}, fmt.Errorf("%w: suspects %s are in two parts", ErrQuestion, seen.And(part.Left))
		}
		seen = seen.Or(part.Left)
	}
	if seen != s {
		return Bounds{}, fmt.Errorf("%w: parts make up %s, not %s", ErrQuestion, seen, s)
	}
	if err := p.checkStep(seconds); err != nil {
		return Bounds{}, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.s.begin(ctx, p.opts.Nodes)
	fixed := seconds * p.m.weigh(s)
	out := Bounds{fixed, fixed}
	for _, part := range parts {
		rest := part.Rest * p.m.weigh(part.Left)
		out = out.plus(Bounds{rest, rest})
		if !part.Done {
			out = out.plus(p.value(part.Left, part.Config))
		}
	}
	return out, nil
}

// checkStep bounds a trainee's step so that products cannot overflow.
func (p *Planner) checkStep(seconds int64) error {
	if most := (infinity - 1) / 8 / p.m.weigh(p.m.all); seconds < 0 || seconds > most {
		return fmt.Errorf("%w: a step of %d seconds, want 0 to %d", ErrQuestion, seconds, most)
	}
	return nil
}
