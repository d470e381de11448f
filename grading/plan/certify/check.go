// Package certify checks a certificate of the planner against the dictionary.
//
// It shares nothing with the search but the dictionary's and the certificate's
// data types, works its own set-up times, bounds and leaves out from scratch,
// and trusts no claim that does not follow from claims on smaller sets. All
// arithmetic is on integers, so there is no tolerance.
//
// Lower side: a claim W(S,q) >= u holds when u is at most the value of the
// leaf, or at most a bound recomputed here, or when for every test that splits
// S, in every configuration a where it may be done (see needed),
//
//	P(S) (d(q,a) + c) + sum over parts of bound(part, post) >= u
//
// where bound is the largest of the recomputed bound, and u' - P d(q',post)
// over the claims W(part,q') >= u'. Upper side: the plan is priced forwards.
package certify

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"coldbay/grading/plan"
)

// ErrRejected is wrapped by every refusal of Check.
var ErrRejected = errors.New("certificate rejected")

// Check verifies c against d. Nil means that c.Lower <= W(c.Root, c.Config) <=
// c.Upper is proven.
func Check(d *plan.Dictionary, c *plan.Certificate) error {
	if err := d.Validate(); err != nil {
		return fmt.Errorf("%w: %w", ErrRejected, err)
	}
	digest, err := d.Digest()
	if err != nil {
		return fmt.Errorf("%w: %w", ErrRejected, err)
	}
	if digest != c.Digest {
		return fmt.Errorf("%w: it is for dictionary %s, not %s", ErrRejected, c.Digest, digest)
	}
	if c.Config < 0 || c.Config >= len(d.Configs) || !c.Root.Within(d.All()) {
		return fmt.Errorf("%w: its root is not in the dictionary", ErrRejected)
	}
	k := &checker{d: d, claims: map[plan.Set][]plan.Claim{}, moves: map[place]plan.Move{}, priced: map[place]int64{},
		bounds: map[place]int64{}, inVain: map[plan.Set]int64{}}
	k.measure()
	for _, x := range c.Claims {
		if x.Config < 0 || x.Config >= len(d.Configs) || !x.Left.Within(d.All()) {
			return fmt.Errorf("%w: a claim is not in the dictionary", ErrRejected)
		}
		k.claims[x.Left] = append(k.claims[x.Left], x)
	}
	for _, x := range c.Claims {
		if err := k.claim(x); err != nil {
			return err
		}
	}
	if got := max(k.bound(c.Root, c.Config), k.code(c.Root, c.Config)); got < c.Lower {
		return fmt.Errorf("%w: lower bound %d claimed, %d proven", ErrRejected, c.Lower, got)
	}
	for _, x := range c.Plan {
		k.moves[place{x.Left, x.Config}] = x
	}
	got, err := k.price(c.Root, c.Config)
	if err != nil {
		return err
	}
	if got > c.Upper {
		return fmt.Errorf("%w: upper bound %d claimed, the plan takes %d", ErrRejected, c.Upper, got)
	}
	return nil
}

type place struct {
	set plan.Set
	q   int
}

type checker struct {
	d      *plan.Dictionary
	dist   [][]int64 // cheapest set-up
	cure   [][]int64 // cure[u][q]: set-up, repair, set-up, verification
	claims map[plan.Set][]plan.Claim
	moves  map[place]plan.Move
	priced map[place]int64
	bounds map[place]int64
	need   map[int][]int64 // need[q][i*n+j]
	// free[i]: set-up on a path into hypothesis i, other steps moving the
	// bench for nothing; base[i][q]: least time to its cure.
	free   [][][]int64
	base   [][]int64
	mixed  bool               // some suspects of different units no test tells apart
	inVain map[plan.Set]int64 // vain, which is the same in every configuration
	apart  [][]int            // tests that tell i*n+j apart
}

// parts divides s by test t.
func (k *checker) parts(s plan.Set, t int) []plan.Set {
	by := make([]plan.Set, len(k.d.Tests[t].Outcomes))
	for i := range s.All() {
		o := k.d.Tests[t].Row[i]
		by[o] = by[o].With(i)
	}
	out := by[:0]
	for _, part := range by {
		if !part.Empty() {
			out = append(out, part)
		}
	}
	return out
}

// where lists the admissible placements.
func (k *checker) where(at []plan.Placement) []plan.Placement {
	if len(at) > 0 {
		return at
	}
	for q := range k.d.Configs {
		at = append(at, plan.Placement{Pre: q, Post: q})
	}
	return at
}

// claim checks one claim.
func (k *checker) claim(x plan.Claim) error {
	if k.simple(x.Left, x.Config) >= x.Value {
		return nil
	}
	if _, ok := k.leaf(x.Left, x.Config); ok {
		return fmt.Errorf("%w: W(%s, %d) >= %d is more than the leaf", ErrRejected, x.Left, x.Config, x.Value)
	}
	weight := k.d.Weight(x.Left)
	for t, test := range k.d.Tests {
		parts := k.parts(x.Left, t)
		if len(parts) < 2 {
			continue
		}
		for _, p := range k.needed(x.Config, k.where(test.At)) {
			sum := weight * (k.dist[x.Config][p.Pre] + test.Seconds)
			for _, part := range parts {
				if sum >= x.Value {
					break
				}
				sum += k.bound(part, p.Post)
			}
			for _, part := range parts {
				if sum >= x.Value {
					break
				}
				sum += max(0, k.code(part, p.Post)-k.bound(part, p.Post))
			}
			if sum < x.Value {
				if k.code(x.Left, x.Config) >= x.Value {
					return nil
				}
				return fmt.Errorf("%w: W(%s, %d) >= %d does not follow: test %q in %q could do it in %d",
					ErrRejected, x.Left, x.Config, x.Value, test.ID, k.d.Configs[p.Pre].ID, sum)
			}
		}
	}
	return nil
}

// needed drops placements that need no check of their own. When a test can be
// done in b, with the bench then set up from b's end to a's, in no more time
// than doing it in a takes, then what is proven for b holds for a, because
// W(S,q') <= P d(q',q") + W(S,q").
func (k *checker) needed(q int, all []plan.Placement) []plan.Placement {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b plan.Placement) int { return cmp.Compare(k.dist[q][a.Pre], k.dist[q][b.Pre]) })
	var out []plan.Placement
	for _, a := range all {
		if !slices.ContainsFunc(out, func(b plan.Placement) bool {
			return k.dist[q][b.Pre]+k.dist[b.Post][a.Post] <= k.dist[q][a.Pre]
		}) {
			out = append(out, a)
		}
	}
	return out
}

// bound is what may be used of a set without the code bound, which is tried
// only where this is not enough: recomputed, or claimed here or in another
// configuration.
func (k *checker) bound(s plan.Set, q int) int64 {
	b, ok := k.bounds[place{s, q}]
	if ok {
		return b
	}
	b = k.simple(s, q)
	weight := k.d.Weight(s)
	for _, x := range k.claims[s] {
		b = max(b, x.Value-weight*k.dist[x.Config][q])
	}
	k.bounds[place{s, q}] = b
	return b
}

// price follows the plan forwards.
func (k *checker) price(s plan.Set, q int) (int64, error) {
	if v, ok := k.leaf(s, q); ok {
		return v, nil
	}
	if v, ok := k.priced[place{s, q}]; ok {
		return v, nil
	}
	mv, ok := k.moves[place{s, q}]
	if !ok || mv.Test < 0 || mv.Test >= len(k.d.Tests) {
		return 0, fmt.Errorf("%w: the plan does not say what to do at (%s, %d)", ErrRejected, s, q)
	}
	test := k.d.Tests[mv.Test]
	for _, p := range k.where(test.At) {
		if p.Pre != mv.At {
			continue
		}
		parts := k.parts(s, mv.Test)
		if len(parts) < 2 {
			return 0, fmt.Errorf("%w: the plan's test %q does not split %s", ErrRejected, test.ID, s)
		}
		sum := k.d.Weight(s) * (k.dist[q][p.Pre] + test.Seconds)
		for _, part := range parts {
			v, err := k.price(part, p.Post)
			if err != nil {
				return 0, err
			}
			sum += v
		}
		k.priced[place{s, q}] = sum
		return sum, nil
	}
	return 0, fmt.Errorf("%w: the plan's test %q may not be done in configuration %d", ErrRejected, test.ID, mv.At)
}
