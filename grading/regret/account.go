package regret

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"slices"

	"coldbay/grading/plan"
)

// ErrPath is wrapped when a played path does not fit together.
var ErrPath = errors.New("played path")

// Step is everything between two percepts, whatever the hands did.
type Step struct {
	// Seconds it took, set-up included.
	Seconds int64
	// Parts is how its outcomes divide the suspects that were left, found by
	// replaying it in each.
	Parts []plan.Part
	// Seen is the index of the part that was seen.
	Seen int
	// Joined says that the step goes on with what the one before has begun, in the middle of something that the plan knows
	// only as a whole, such as a cold run. What it began to cost may be paid back by its next reading, so the regrets of
	// joined steps are charged as one, on the first of them.
	Joined bool
	// Repair says that a part went on.
	Repair bool
	// Within are the tests of the dictionary that the step stands in the middle of.
	Within []Within
}

// Within is a test of the dictionary that a path has carried out up to a step, so that going on with it takes what is left of it only.
type Within struct {
	// Test of the dictionary, and the configuration that it leaves.
	Test, Post int
	// First is the step of the path in which it was begun, Lead the seconds of that step before it was.
	First int
	Lead  int64
	// Rest is the seconds that it still takes. Over: nothing of it is left.
	Rest int64
	Over bool
}

// gambles reports whether the step is a repair that some suspect left has no use for.
func (st *Step) gambles() bool {
	return st.Repair && slices.ContainsFunc(st.Parts, func(p plan.Part) bool { return !p.Done && !p.Left.Empty() })
}

// tells reports whether the step could have ruled something out, was a repair, or ended the job.
func (st *Step) tells() bool {
	n := 0
	for _, p := range st.Parts {
		if !p.Left.Empty() {
			n++
		}
	}
	return n > 1 || st.Repair || st.Parts[st.Seen].Done
}

// Entry is the account of one step. Values in seconds are exact.
type Entry struct {
	// Left and Config are the belief before the step.
	Left   plan.Set
	Config int
	// Weight is P(Left); V and Q are Weight times expected seconds.
	Weight int64
	V, Q   plan.Bounds
	// Regret is (Q-V)/Weight in seconds, or the value nearest to zero where
	// bounds are open; Luck what the outcome added (positive) or saved. Regret
	// is negative only for steps that the plan may not take: a gamble on parts
	// that would pay, or a reading that no test of the dictionary gives. It
	// then lessens Choices, so that luck still has mean zero, but never what
	// is charged.
	Regret, Luck *big.Rat
	// Tolerance is the regret nobody is charged for at this belief, for a step that could tell something. Charged is this
	// entry's share of what the path is charged, the regrets of the steps joined to this one included.
	Tolerance, Charged *big.Rat
}

// Optimal reports whether the step was as good as the plan's best.
func (e Entry) Optimal() bool { return e.Regret.Sign() <= 0 }

// Account is a path split into par, choices and luck, in exact seconds:
// Seconds + ToDo = Par + Choices + Luck.
type Account struct {
	Entries []Entry
	// Seconds is what the path took.
	Seconds int64
	// Par is the expected time of the best plan from the start.
	Par *big.Rat
	// Choices is the sum of regrets, Charged that of regrets beyond tolerance.
	Choices, Charged *big.Rat
	Luck             *big.Rat
	// ToDo is the expected time to finish when the path ends early; zero when
	// the job was done.
	ToDo *big.Rat
	// Exact is false when some value could only be bounded.
	Exact bool
}

// Decompose accounts for a path played from belief (s,q). The planner's answers
// may be bounds when ctx or its node limit ends a search.
func Decompose(ctx context.Context, p *plan.Planner, s plan.Set, q int, path []Step) (*Account, error) {
	return Follow(ctx, p, s, q, path, func(int) {})
}

// Follow is Decompose that tells how many steps are accounted for, beginning with none.
func Follow(ctx context.Context, p *plan.Planner, s plan.Set, q int, path []Step, tell func(done int)) (*Account, error) {
	if s.Empty() {
		return nil, fmt.Errorf("%w: no suspects at its start", ErrPath)
	}
	v, err := p.Value(ctx, s, q)
	if err != nil {
		return nil, fmt.Errorf("par of a played path: %w", err)
	}
	weight := p.Dictionary().Weight(s)
	a := &Account{Par: big.NewRat(v.Hi, weight), Choices: new(big.Rat), Charged: new(big.Rat), Luck: new(big.Rat), Exact: v.Exact()}
	rest := new(big.Rat).Set(a.Par)
	over := false
	for k, st := range path {
		tell(k)
		if over {
			return nil, fmt.Errorf("%w: step %d comes after the job was done", ErrPath, k+1)
		}
		if st.Seen < 0 || st.Seen >= len(st.Parts) || st.Parts[st.Seen].Left.Empty() {
			return nil, fmt.Errorf("%w: step %d shows outcome %d, which no suspect would show", ErrPath, k+1, st.Seen)
		}
		if seen := st.Parts[st.Seen]; !seen.Done && seen.Rest > 0 {
			// Time spent before the next percept belongs to the next step.
			return nil, fmt.Errorf("%w: step %d leaves %d seconds unspent in the middle", ErrPath, k+1, seen.Rest)
		}
		cost, worth, err := value(ctx, p, s, q, st)
		if err != nil {
			return nil, fmt.Errorf("step %d of a played path: %w", k+1, err)
		}
		e := Entry{Left: s, Config: q, Weight: weight, V: v, Q: cost,
			Regret: big.NewRat(nearest(cost, v), weight)}
		cure, err := p.Cure(s, q)
		if err != nil {
			return nil, fmt.Errorf("step %d of a played path: %w", k+1, err)
		}
		e.Tolerance = Tolerance(new(big.Rat).Sub(rest, big.NewRat(cure, weight)))
		seen := st.Parts[st.Seen]
		s, q, over = seen.Left, seen.Config, seen.Done
		weight = p.Dictionary().Weight(s)
		next := new(big.Rat).SetInt64(seen.Rest)
		v = plan.Bounds{}
		if !over {
			v = worth
			next.Add(next, big.NewRat(v.Hi, weight))
		}
		// Luck is what makes the account close: seconds plus what is left now,
		// against what was left before and the regret.
		e.Luck = new(big.Rat).SetInt64(st.Seconds)
		e.Luck.Add(e.Luck, next).Sub(e.Luck, rest).Sub(e.Luck, e.Regret)
		rest = next
		a.Exact = a.Exact && cost.Exact() && v.Exact()
		a.Seconds += st.Seconds
		a.Choices.Add(a.Choices, e.Regret)
		a.Luck.Add(a.Luck, e.Luck)
		a.Entries = append(a.Entries, e)
	}
	a.ToDo = rest
	whole, err := a.wholes(ctx, p, path)
	if err != nil {
		return nil, err
	}
	a.charge(path, whole)
	return a, nil
}

// value is what a step costs, the best way on included, and what that way is worth where the step's own outcome was seen. Whoever stands in the
// middle of a test may go on with it or leave it, whichever is the better.
func value(ctx context.Context, p *plan.Planner, s plan.Set, q int, st Step) (cost, seen plan.Bounds, err error) {
	if cost, err = p.QParts(ctx, s, q, st.Seconds, st.Parts); err != nil {
		return cost, seen, err
	}
	for k, part := range st.Parts {
		if part.Done || part.Left.Empty() {
			continue
		}
		leave, err := p.Value(ctx, part.Left, part.Config)
		if err != nil {
			return cost, seen, err
		}
		best := leave
		for _, w := range st.Within {
			if w.Over {
				continue
			}
			on, err := p.QParts(ctx, part.Left, part.Config, w.Rest, outcomes(p.Dictionary(), w, part.Left))
			if err != nil {
				return cost, seen, err
			}
			best = plan.Bounds{Lo: min(best.Lo, on.Lo), Hi: min(best.Hi, on.Hi)}
		}
		cost.Lo -= leave.Lo - best.Lo
		cost.Hi -= leave.Hi - best.Hi
		if k == st.Seen {
			seen = best
		}
	}
	return cost, seen, nil
}

// outcomes are what a test makes of the suspects left.
func outcomes(d *plan.Dictionary, w Within, left plan.Set) []plan.Part {
	row := d.Tests[w.Test].Row
	parts := make([]plan.Part, len(d.Tests[w.Test].Outcomes))
	for i := range left.All() {
		parts[row[i]].Left = parts[row[i]].Left.With(i)
	}
	parts = slices.DeleteFunc(parts, func(part plan.Part) bool { return part.Left.Empty() })
	for k := range parts {
		parts[k].Config = w.Post
	}
	return parts
}

// wholes are, by step, the first step of a test that the path has carried out up to there, and the regret of having chosen that test; of
// several the one with the least regret.
func (a *Account) wholes(ctx context.Context, p *plan.Planner, path []Step) (map[int]whole, error) {
	out := map[int]whole{}
	for k, st := range path {
		for _, w := range st.Within {
			if w.First < 0 || w.First > k {
				return nil, fmt.Errorf("%w: step %d stands in a test that was begun in step %d", ErrPath, k+1, w.First+1)
			}
			e := &a.Entries[w.First]
			q, err := p.QParts(ctx, e.Left, e.Config, w.Lead+p.Dictionary().Tests[w.Test].Seconds, outcomes(p.Dictionary(), w, e.Left))
			if err != nil {
				return nil, fmt.Errorf("step %d of a played path: %w", k+1, err)
			}
			r := big.NewRat(nearest(q, e.V), e.Weight)
			if r.Sign() < 0 {
				r = new(big.Rat)
			}
			if o, ok := out[k]; !ok || w.First < o.first || w.First == o.first && r.Cmp(o.regret) < 0 {
				out[k] = whole{w.First, r}
			}
		}
	}
	return out, nil
}

// whole is the regret, at least 0, of a test of the dictionary that began in a step.
type whole struct {
	first  int
	regret *big.Rat
}

// cost is a run of joined steps that is still to be paid for.
type cost struct {
	head int
	left *big.Rat // its regret, less what later readings saved
	told bool
}

// charge says what the path owes, and shares it out among its steps.
//
// What a reading saves against the plan's own way to it (the plan knows whole tests, hooked up and undone) pays first for
// what led up to it, the latest first, then for anything else; gambles that would pay save nothing. A repair that every suspect left
// asks for is no gamble: what it saves is putting back that was counted before and that it does itself. Of what is left a
// tolerance is forgiven to each step that could tell something, and one to the whole job. Steps that tell nothing have none
// of their own, or any number of short ones would be free.
//
// Who carries a test of the dictionary out to its end, though its first readings told enough already, owes no more for it than for having
// chosen it.
func (a *Account) charge(path []Step, wholes map[int]whole) {
	var costs []cost
	saved := new(big.Rat)
	for k := 0; k < len(path); {
		c, gamble := cost{head: k}, false
		for ; k == c.head || k < len(path) && path[k].Joined; k++ {
			c.told, gamble = c.told || path[k].tells(), gamble || path[k].gambles()
			a.Entries[k].Charged = new(big.Rat)
		}
		c.left = a.asWholes(c.head, k, wholes)
		switch {
		case c.left.Sign() > 0:
			costs = append(costs, c)
		case !gamble:
			saved.Add(saved, payBack(costs, c.left.Neg(c.left)))
		}
	}
	owed := new(big.Rat)
	for i, c := range costs {
		if c.told {
			costs[i].left = beyond(c.left, a.Entries[c.head].Tolerance)
		}
		owed.Add(owed, costs[i].left)
	}
	if owed.Sign() == 0 {
		return
	}
	a.Charged = beyond(owed, saved.Add(saved, a.Entries[0].Tolerance))
	for _, c := range costs {
		share := a.Entries[c.head].Charged.Mul(a.Charged, c.left)
		share.Quo(share, owed)
	}
}

// asWholes is the regret of the steps from first up to end, of those that are one test no more than that of having chosen it.
func (a *Account) asWholes(first, end int, wholes map[int]whole) *big.Rat {
	sum := new(big.Rat)
	for k := first; k < end; k++ {
		part, most, last := new(big.Rat), (*big.Rat)(nil), k
		for j, own := k, new(big.Rat); j < end; j++ {
			own.Add(own, a.Entries[j].Regret)
			if w, ok := wholes[j]; ok && w.first == k {
				part.Set(own)
				most, last = w.regret, j
			}
		}
		switch {
		case most == nil:
			part.Set(a.Entries[k].Regret)
		case part.Cmp(most) > 0:
			part.Set(most)
		}
		sum.Add(sum, part)
		k = last
	}
	return sum
}

// payBack lessens the latest costs by what was saved, and returns what is over.
func payBack(costs []cost, saved *big.Rat) *big.Rat {
	for i := len(costs) - 1; i >= 0 && saved.Sign() > 0; i-- {
		paid := costs[i].left
		if paid.Cmp(saved) > 0 {
			paid = saved
		}
		costs[i].left, saved = new(big.Rat).Sub(costs[i].left, paid), new(big.Rat).Sub(saved, paid)
	}
	return saved
}

// nearest is the difference q-v, or of those that open bounds allow the one
// nearest to zero.
func nearest(q, v plan.Bounds) int64 {
	switch {
	case q.Lo >= v.Hi:
		return q.Lo - v.Hi
	case q.Hi <= v.Lo:
		return q.Hi - v.Lo
	}
	return 0
}

// beyond is max(0, x-t).
func beyond(x, t *big.Rat) *big.Rat {
	d := new(big.Rat).Sub(x, t)
	if d.Sign() < 0 {
		return new(big.Rat)
	}
	return d
}
