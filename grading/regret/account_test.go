package regret_test

import (
	"context"
	"math/big"
	"math/rand/v2"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/regret"

	"github.com/stretchr/testify/require"
)

// identify is a dictionary with one unit per suspect and no repair time.
func identify(weights, costs []int64, rows [][]int, outcomes int) *plan.Dictionary {
	d := &plan.Dictionary{Configs: []plan.Config{{}}}
	for i, w := range weights {
		d.Units = append(d.Units, plan.Unit{})
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: i, Weight: w})
	}
	for t, row := range rows {
		d.Tests = append(d.Tests, plan.Test{Seconds: costs[t], Row: row, Outcomes: make([]string, outcomes)})
	}
	return d
}

// sixStates is the example of Pattipati and Alexandridis (1990), recalled from
// memory; the accounts below were worked out in the design note.
func sixStates() *plan.Dictionary {
	return identify([]int64{70, 1, 2, 10, 5, 12}, []int64{1, 1, 1, 1, 1}, [][]int{
		{0, 0, 0, 1, 1, 1}, {0, 1, 0, 0, 1, 1}, {0, 0, 1, 0, 0, 1}, {0, 0, 1, 1, 0, 1}, {0, 1, 0, 1, 0, 0},
	}, 2)
}

// play runs tests, done on the spot, against a truth.
func play(d *plan.Dictionary, s plan.Set, truth int, tests ...int) (out []regret.Step) {
	for _, t := range tests {
		st := regret.Step{Seconds: d.Tests[t].Seconds}
		for o := range d.Tests[t].Outcomes {
			var part plan.Set
			for i := range s.All() {
				if d.Tests[t].Row[i] == o {
					part = part.With(i)
				}
			}
			if part.Has(truth) {
				st.Seen = len(st.Parts)
			}
			if !part.Empty() {
				st.Parts = append(st.Parts, plan.Part{Left: part})
			}
		}
		s = st.Parts[st.Seen].Left
		out = append(out, st)
	}
	return out
}

func planner(t *testing.T, d *plan.Dictionary) *plan.Planner {
	t.Helper()
	p, err := plan.New(d, plan.Options{})
	require.NoError(t, err)
	return p
}

func float(r *big.Rat) float64 { f, _ := r.Float64(); return f }

// closes checks seconds + to do = par + choices + luck, exactly.
func closes(t *testing.T, a *regret.Account) {
	t.Helper()
	left := new(big.Rat).SetInt64(a.Seconds)
	left.Add(left, a.ToDo)
	right := new(big.Rat).Add(a.Par, a.Choices)
	right.Add(right, a.Luck)
	require.Zero(t, left.Cmp(right), "%v against %v", left, right)
}

// The worked grading traces of the design note on the six states.
func TestWorkedTraces(t *testing.T) {
	ctx := context.Background()
	d := sixStates()
	p := planner(t, d)
	all := d.All()
	for _, c := range []struct {
		truth  int
		tests  []int
		regret []float64
		luck   []float64
		score  float64
	}{
		{0, []int{2, 4}, []float64{0, 0}, []float64{-.0337, -.1463}, 1},
		{0, []int{4, 2}, []float64{0, 0}, []float64{-.1011, -.0789}, 1},
		{0, []int{1, 4, 2}, []float64{.68, 0, 0}, []float64{.1126, .0274, 0}, .7622},
		{5, []int{1, 3}, []float64{.68, 0}, []float64{-.3044, -.5556}, .7622},
		{5, []int{4, 2, 4, 3}, []float64{0, 0, 1, 1}, []float64{.32, -.5, 0, 0}, .5215},
	} {
		tests := make([]int, len(c.tests))
		for k, n := range c.tests {
			tests[k] = n - 1
		}
		a, err := regret.Decompose(ctx, p, all, 0, play(d, all, c.truth, tests...))
		require.NoError(t, err)
		require.True(t, a.Exact)
		require.Zero(t, a.Par.Cmp(big.NewRat(218, 100)))
		require.Zero(t, a.ToDo.Sign())
		closes(t, a)
		for k, e := range a.Entries {
			require.InDelta(t, c.regret[k], float(e.Regret), 5e-5, "s%d step %d", c.truth, k+1)
			require.InDelta(t, c.luck[k], float(e.Luck), 5.1e-5, "s%d step %d", c.truth, k+1)
			require.Equal(t, c.regret[k] == 0, e.Optimal())
		}
		// Costs of one second are far inside the tolerance: the note's score
		// charges every regret.
		require.InDelta(t, 100*c.score, float(regret.Economy(a.Par, a.Choices)), 5e-3)
		require.Equal(t, 100, regret.Points(a.Score()))
	}
}

// bench is a random dictionary with set-ups and repairs; all numbers invented.
func bench(seed uint64) *plan.Dictionary {
	r := rand.New(rand.NewPCG(seed, 9))
	d := &plan.Dictionary{Configs: make([]plan.Config, 3)}
	for q := range 3 {
		d.SetUps = append(d.SetUps, plan.SetUp{From: q, To: (q + 1) % 3, Seconds: 60 + r.Int64N(300)})
	}
	for range 5 {
		d.Units = append(d.Units, plan.Unit{Repair: 60 * r.Int64N(20), Verify: 300})
	}
	for i := range 9 {
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: i % 5, Weight: 1 + r.Int64N(9)})
	}
	for range 9 {
		row := make([]int, 9)
		for i := range row {
			row[i] = r.IntN(3)
		}
		q := r.IntN(3)
		d.Tests = append(d.Tests, plan.Test{Seconds: 30 + 30*r.Int64N(20), Row: row, Outcomes: make([]string, 3),
			At: []plan.Placement{{Pre: q, Post: r.IntN(3)}}})
	}
	return d
}

// stepOf is a whole step done from configuration q: the planner's choice c
// spelled out by hand, with its outcome parts.
func stepOf(d *plan.Dictionary, s plan.Set, q, truth int, dist [][]int64, c plan.Choice) regret.Step {
	if c.Act == plan.ActRepair {
		u := d.Units[c.Index]
		cured := s.And(d.InUnit(c.Index))
		st := regret.Step{Seconds: u.Repair + u.Verify, Parts: []plan.Part{{Left: cured, Config: q, Done: true}}}
		if rest := s.Minus(cured); !rest.Empty() {
			st.Parts = append(st.Parts, plan.Part{Left: rest, Config: q})
			if rest.Has(truth) {
				st.Seen = 1
			}
		}
		return st
	}
	at := d.Tests[c.Index].At[0]
	st := play(d, s, truth, c.Index)[0]
	st.Seconds += dist[q][at.Pre]
	for k := range st.Parts {
		st.Parts[k].Config = at.Post
	}
	return st
}

func distances(d *plan.Dictionary) [][]int64 {
	out := make([][]int64, len(d.Configs))
	for a := range out {
		out[a] = make([]int64, len(out))
		for b := range out {
			if a != b {
				out[a][b] = 1 << 40
			}
		}
		for range out {
			for _, e := range d.SetUps {
				out[a][e.To] = min(out[a][e.To], out[a][e.From]+e.Seconds)
			}
			for _, t := range d.Tests {
				for _, p := range t.At {
					out[a][p.Post] = min(out[a][p.Post], out[a][p.Pre]+t.Seconds)
				}
			}
		}
	}
	return out
}

// Random plays of random steps, useless ones too: the account closes to the
// last digit, the regret of a test is zero exactly on the optimal set and else
// positive, and over all truths luck sums to nothing for a fixed policy.
func TestRandomPlays(t *testing.T) {
	ctx := context.Background()
	for seed := range uint64(25) {
		d := bench(seed)
		p := planner(t, d)
		dist := distances(d)
		luck := new(big.Rat)
		for truth := range d.Hypotheses {
			// The policy may depend on the belief and the step's number only.
			r := rand.New(rand.NewPCG(seed, 1))
			s, q := d.All(), d.Start
			var path []regret.Step
			var optimal []bool
			for range 6 {
				c := plan.Choice{Act: plan.ActTest, Index: r.IntN(len(d.Tests))}
				if r.IntN(4) == 0 {
					c = plan.Choice{Act: plan.ActRepair, Index: int(d.Hypotheses[s.First()].Unit)}
				}
				st := stepOf(d, s, q, truth, dist, c)
				best, complete, err := p.Best(ctx, s, q)
				require.NoError(t, err)
				require.True(t, complete)
				ok := false
				for _, b := range best {
					ok = ok || b.Act == c.Act && b.Index == c.Index
				}
				path, optimal = append(path, st), append(optimal, ok)
				seen := st.Parts[st.Seen]
				require.True(t, seen.Left.Has(truth))
				if seen.Done {
					break
				}
				s, q = seen.Left, seen.Config
			}
			a, err := regret.Decompose(ctx, p, d.All(), d.Start, path)
			require.NoError(t, err)
			closes(t, a)
			for k, e := range a.Entries {
				require.GreaterOrEqual(t, e.Charged.Sign(), 0)
				if optimal[k] {
					require.Zero(t, e.Regret.Sign(), "seed %d truth %d step %d", seed, truth, k)
				} else if !path[k].Parts[0].Done {
					require.Positive(t, e.Regret.Sign(), "seed %d truth %d step %d", seed, truth, k)
				}
			}
			luck.Add(luck, new(big.Rat).Mul(a.Luck, big.NewRat(d.Hypotheses[truth].Weight, 1)))
		}
		require.Zero(t, luck.Sign(), "seed %d", seed)
	}
}

// A player that picks at random among the optimal choices scores exactly 100
// for every truth; a useless step, then, costs exactly its seconds.
func TestOptimalPlayers(t *testing.T) {
	ctx := context.Background()
	for seed := range uint64(15) {
		d := bench(seed)
		p := planner(t, d)
		dist := distances(d)
		r := rand.New(rand.NewPCG(seed, 2))
		for truth := range d.Hypotheses {
			s, q := d.All(), d.Start
			var path []regret.Step
			for {
				best, _, err := p.Best(ctx, s, q)
				require.NoError(t, err)
				st := stepOf(d, s, q, truth, dist, best[r.IntN(len(best))])
				path = append(path, st)
				seen := st.Parts[st.Seen]
				if s, q = seen.Left, seen.Config; seen.Done {
					break
				}
			}
			a, err := regret.Decompose(ctx, p, d.All(), d.Start, path)
			require.NoError(t, err)
			closes(t, a)
			require.Zero(t, a.Choices.Sign())
			require.Zero(t, a.Score().Cmp(big.NewRat(100, 1)))

			idle := regret.Step{Seconds: 900, Parts: []plan.Part{{Left: d.All(), Config: d.Start}}}
			b, err := regret.Decompose(ctx, p, d.All(), d.Start, append([]regret.Step{idle}, path...))
			require.NoError(t, err)
			require.Zero(t, b.Choices.Cmp(big.NewRat(900, 1)))
			require.Less(t, b.Score().Cmp(a.Score()), 0)
			require.Zero(t, b.Luck.Cmp(a.Luck))
		}
	}
}

func TestToleranceAndPoints(t *testing.T) {
	require.Zero(t, regret.Tolerance(big.NewRat(600, 1)).Cmp(big.NewRat(60, 1)))
	require.Zero(t, regret.Tolerance(big.NewRat(10_000, 1)).Cmp(big.NewRat(300, 1)))
	require.Equal(t, 50, regret.Points(regret.Economy(big.NewRat(7, 1), big.NewRat(7, 1))))
	require.Equal(t, 99, regret.Points(regret.Economy(big.NewRat(100_000, 1), big.NewRat(1, 1))))
	require.Equal(t, 100, regret.Points(regret.Economy(new(big.Rat), big.NewRat(1, 1))))
}

// Joined steps are charged as one, with one tolerance, on the first of them; the account is the same.
func TestJoinedSteps(t *testing.T) {
	ctx := context.Background()
	// Both tests are done in the first configuration; the way back to it is long.
	d := identify([]int64{1, 1, 1}, []int64{600, 600}, [][]int{{0, 0, 1}, {0, 1, 1}}, 2)
	d.Configs = make([]plan.Config, 2)
	d.SetUps = []plan.SetUp{{From: 0, To: 1, Seconds: 60}, {From: 1, To: 0, Seconds: 900}}
	d.Tests[0].At = []plan.Placement{{Pre: 0, Post: 0}}
	d.Tests[1].At = []plan.Placement{{Pre: 0, Post: 0}}
	p := planner(t, d)
	two := plan.Set{}.With(0).With(1)
	leave := regret.Step{Seconds: 120, Parts: []plan.Part{{Left: two, Config: 1}, {Left: plan.Set{}.With(2), Config: 1}}}
	test := play(d, two, 0, 1)[0]
	for k := range test.Parts {
		test.Parts[k].Config = 1
	}
	test.Seconds += 2000
	apart, err := regret.Decompose(ctx, p, d.All(), 0, []regret.Step{leave, test})
	require.NoError(t, err)
	test.Joined = true
	joined, err := regret.Decompose(ctx, p, d.All(), 0, []regret.Step{leave, test})
	require.NoError(t, err)
	closes(t, joined)
	require.Zero(t, apart.Choices.Cmp(joined.Choices))
	require.Positive(t, apart.Entries[0].Regret.Sign())
	require.Positive(t, apart.Entries[1].Regret.Sign())
	sum := new(big.Rat).Add(apart.Entries[0].Regret, apart.Entries[1].Regret)
	require.Zero(t, new(big.Rat).Sub(sum, big.NewRat(3*60, 1)).Cmp(apart.Charged), "a tolerance each and one for the job")
	require.Zero(t, new(big.Rat).Sub(sum, big.NewRat(2*60, 1)).Cmp(joined.Charged))
	require.Zero(t, joined.Entries[1].Charged.Sign())
	require.Zero(t, joined.Entries[0].Charged.Cmp(joined.Charged))
}

// However many short steps tell nothing, they share what tolerance has been saved; a longer one bears more.
func TestIdleStepsBringNoTolerance(t *testing.T) {
	ctx := context.Background()
	d := sixStates()
	p := planner(t, d)
	best, _, err := p.Best(ctx, d.All(), d.Start)
	require.NoError(t, err)
	require.NotEmpty(t, best)
	last := play(d, d.All(), 0, best[0].Index)[0]
	charged := func(path ...regret.Step) *regret.Account {
		a, err := regret.Decompose(ctx, p, d.All(), d.Start, path)
		require.NoError(t, err)
		closes(t, a)
		return a
	}
	idle := func(seconds int64, left plan.Set) regret.Step {
		return regret.Step{Seconds: seconds, Parts: []plan.Part{{Left: left, Config: d.Start}}}
	}
	for _, n := range []int64{0, 1, 3, 20} {
		var path []regret.Step
		for range n {
			path = append(path, idle(30, d.All()))
		}
		a := charged(append(path, last)...)
		require.Zero(t, a.Choices.Cmp(big.NewRat(30*n, 1)))
		require.Zero(t, a.Charged.Cmp(big.NewRat(max(0, 30*n-60), 1)), "%d idle steps: %s s", n, a.Charged.FloatString(1))
	}
	// After the reading, or a repair in vain, it is the same: one tolerance serves the job, one the repair.
	after := last.Parts[last.Seen].Left
	require.Zero(t, charged(idle(50, d.All()), last, idle(50, after), idle(50, after)).Charged.Cmp(big.NewRat(90, 1)))
	vain := idle(200, d.All())
	vain.Repair = true
	a := charged(vain, idle(90, d.All()), last)
	require.Zero(t, a.Charged.Cmp(big.NewRat(200-60+90-60, 1)))
	require.Positive(t, a.Entries[0].Charged.Cmp(a.Entries[1].Charged))
	require.Zero(t, new(big.Rat).Add(a.Entries[0].Charged, a.Entries[1].Charged).Cmp(a.Charged))
}

// A set-up that its reading pays back is charged to nobody, whatever other reading lies between.
func TestReadingsPayForTheirSetUp(t *testing.T) {
	ctx := context.Background()
	// The one test of the dictionary takes ten minutes; this player does it in two steps of four.
	d := identify([]int64{1, 1}, []int64{600}, [][]int{{0, 1}}, 2)
	p := planner(t, d)
	hook := regret.Step{Seconds: 240, Parts: []plan.Part{{Left: d.All(), Config: d.Start}}}
	read := play(d, d.All(), 0, 0)[0]
	read.Seconds = 240
	look := regret.Step{Seconds: 200, Parts: hook.Parts}
	for n, want := range []int64{0, 200 - 120 - 60, 400 - 120 - 60, 600 - 120 - 60} {
		path := []regret.Step{hook, read}
		for range n {
			path = append([]regret.Step{look}, path...)
		}
		a, err := regret.Decompose(ctx, p, d.All(), d.Start, path)
		require.NoError(t, err)
		closes(t, a)
		require.Zero(t, a.Charged.Cmp(big.NewRat(want, 1)), "%d looks: %s s", n, a.Charged.FloatString(1))
		require.Zero(t, a.Entries[n].Charged.Sign(), "hooking up was paid back")
	}
	// A gamble on a part that pays on average pays for nothing else.
	gamble := regret.Step{Seconds: 1, Repair: true, Parts: []plan.Part{{Left: plan.Set{}.With(0), Done: true}, {Left: plan.Set{}.With(1)}}}
	a, err := regret.Decompose(ctx, p, d.All(), d.Start, []regret.Step{look, gamble})
	require.NoError(t, err)
	require.Negative(t, a.Entries[1].Regret.Sign())
	require.Zero(t, a.Charged.Cmp(big.NewRat(200-60, 1)))
}

// What was taken off before the repair, and is put back by it, is not charged: the putting back was counted when it came off, and the
// repair, which every suspect left asks for, takes so much less.
func TestRepairPaysForWhatItPutsBack(t *testing.T) {
	ctx := context.Background()
	d := identify([]int64{1, 1}, []int64{600}, [][]int{{0, 1}}, 2)
	d.Units[0].Repair = 1200
	p := planner(t, d)
	proof := play(d, d.All(), 0, 0)[0]
	left := proof.Parts[proof.Seen].Left
	off := regret.Step{Seconds: 300 + 900, Parts: []plan.Part{{Left: left, Config: d.Start}}}
	repair := regret.Step{Seconds: 1200 - 900, Repair: true, Parts: []plan.Part{{Left: left, Config: d.Start, Done: true}}}
	a, err := regret.Decompose(ctx, p, d.All(), d.Start, []regret.Step{proof, off, repair})
	require.NoError(t, err)
	closes(t, a)
	require.Zero(t, a.Choices.Cmp(big.NewRat(300, 1)))
	require.Zero(t, a.Charged.Cmp(big.NewRat(300-60, 1)), "%s s", a.Charged.FloatString(1))
}

// A suspect cut into more cells weighs no more among equals, and its cells share its weight as before.
func TestEqualPriorsWeighSuspects(t *testing.T) {
	d := &plan.Dictionary{}
	for _, h := range []struct {
		id string
		w  int64
	}{{"a@0.3", 20}, {"a@0.6", 40}, {"b@1.000", 7}, {"c@0.5", 30}, {"a@1", 60}, {"c@1", 30}} {
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{ID: h.id, Weight: h.w})
	}
	var got []int64
	for _, h := range regret.EqualPriors(d).Hypotheses {
		got = append(got, h.Weight)
	}
	require.Equal(t, []int64{1, 2, 6, 3, 3, 3}, got)
	// Shares too fine to be kept are rounded, and none is lost.
	d.Hypotheses[0].Weight, d.Hypotheses[1].Weight = 1, 1<<39
	e := regret.EqualPriors(d)
	require.Equal(t, int64(1), e.Hypotheses[0].Weight)
	require.InDelta(t, 1<<16, float64(e.Hypotheses[1].Weight+e.Hypotheses[4].Weight), 2)
	require.Equal(t, int64(1<<16), e.Hypotheses[2].Weight)
}

// Under equal priors another step may be best; the smaller charge counts.
func TestEqualPriors(t *testing.T) {
	ctx := context.Background()
	d := sixStates()
	for k := range d.Tests {
		d.Tests[k].Seconds = 600
	}
	equal := regret.EqualPriors(d)
	require.Equal(t, int64(70), d.Hypotheses[0].Weight)
	require.Equal(t, int64(6), equal.Weight(equal.All()))
	path := play(d, d.All(), 0, 0, 3, 1)
	a, err := regret.Decompose(ctx, planner(t, d), d.All(), 0, path)
	require.NoError(t, err)
	b, err := regret.Decompose(ctx, planner(t, equal), d.All(), 0, path)
	require.NoError(t, err)
	require.Zero(t, a.Choices.Cmp(big.NewRat(408, 1)))
	require.Zero(t, b.Choices.Sign(), "with equal priors t1 is one of the best")
	alone := a.Score()
	both, err := a.ScoreWith(b)
	require.NoError(t, err)
	require.Equal(t, 82, regret.Points(alone)) // 408 less a tolerance for the reading and one for the job: 100*1308/1596
	require.Equal(t, 100, regret.Points(both))
}

// An unfinished search gives bounds; the account still closes and charges no
// more than the exact one.
func TestBenefitOfTheDoubt(t *testing.T) {
	ctx := context.Background()
	d := bench(3)
	path := play(d, d.All(), 0, 4)
	path[0].Seconds += 2000
	full, err := regret.Decompose(ctx, planner(t, d), d.All(), 0, path)
	require.NoError(t, err)
	p, err := plan.New(d, plan.Options{Nodes: 1})
	require.NoError(t, err)
	a, err := regret.Decompose(ctx, p, d.All(), 0, path)
	require.NoError(t, err)
	closes(t, a)
	require.LessOrEqual(t, a.Choices.Cmp(full.Choices), 0)
}

func TestPathsThatDoNotFit(t *testing.T) {
	ctx := context.Background()
	d := sixStates()
	p := planner(t, d)
	all := d.All()
	done := regret.Step{Parts: []plan.Part{{Left: all, Done: true}}}
	for name, path := range map[string][]regret.Step{
		"unseen outcome":   {{Parts: []plan.Part{{Left: all}}, Seen: 1}},
		"suspects missing": {{Parts: []plan.Part{{Left: plan.SetOf(1, 2)}}}},
		"suspect twice":    {{Parts: []plan.Part{{Left: all}, {Left: plan.SetOf(1)}}}},
		"negative time":    {{Seconds: -1, Parts: []plan.Part{{Left: all}}}},
		"after the end":    {done, done},
		"unspent time":     {{Parts: []plan.Part{{Left: all, Rest: 5}}}},
	} {
		_, err := regret.Decompose(ctx, p, all, 0, path)
		require.Error(t, err, name)
	}
	_, err := regret.Decompose(ctx, p, plan.Set{}, 0, nil)
	require.ErrorIs(t, err, regret.ErrPath)
}

// Who stands in the middle of a test may go on with it for what is left of it, or leave it when its first reading told enough; and who
// carries it out all the same owes nothing for it, where it was the best to begin with.
func TestInTheMiddleOfATest(t *testing.T) {
	ctx := context.Background()
	// One test in two readings, the first of which tells the third suspect. It begins on the cold car, and a night lies before the next.
	d := identify([]int64{1, 1, 1}, []int64{1000}, [][]int{{0, 1, 2}}, 3)
	d.Configs = make([]plan.Config, 2)
	d.SetUps = []plan.SetUp{{From: 1, To: 0, Seconds: 9000}, {From: 0, To: 1, Seconds: 300}}
	d.Tests[0].At = []plan.Placement{{Pre: 0, Post: 1}}
	p := planner(t, d)
	two, third := plan.SetOf(0, 1), plan.SetOf(2)
	begin := func(seen int) regret.Step {
		return regret.Step{Seconds: 400, Seen: seen, Parts: []plan.Part{{Left: two, Config: 1}, {Left: third, Config: 1}},
			Within: []regret.Within{{Rest: 600, Post: 1}}}
	}
	end := regret.Step{Seconds: 600, Joined: true, Parts: []plan.Part{{Left: plan.SetOf(0), Config: 1}, {Left: plan.SetOf(1), Config: 1}},
		Within: []regret.Within{{Post: 1, Over: true}}}
	idle := func(seconds int64) regret.Step {
		return regret.Step{Seconds: seconds, Joined: true, Parts: []plan.Part{{Left: third, Config: 1}}, Within: []regret.Within{{Post: 1, Over: true}}}
	}
	account := func(path ...regret.Step) *regret.Account {
		a, err := regret.Decompose(ctx, p, d.All(), 0, path)
		require.NoError(t, err)
		closes(t, a)
		return a
	}
	a := account(begin(0), end)
	require.Negative(t, a.Choices.Sign(), "a reading that may be enough is better than the whole test, which is all that the plan knows")
	require.Zero(t, a.Entries[1].Regret.Sign())
	require.Zero(t, a.Charged.Sign())
	a = account(begin(1))
	require.Zero(t, a.Choices.Cmp(big.NewRat(-200, 1)), "a third of the cars are spared 600 s")
	require.Zero(t, a.Charged.Sign())
	// Carried out to its end in vain.
	a = account(begin(1), idle(600))
	require.Zero(t, a.Entries[1].Regret.Cmp(big.NewRat(600, 1)))
	require.Zero(t, a.Charged.Sign())
	// The same time spent outside the test is charged.
	alone := idle(600)
	alone.Joined, alone.Within = false, nil
	require.Positive(t, account(begin(1), alone).Charged.Sign())
	// Left in the middle, with the suspects that it would have told apart: that step pays for the night, not the first.
	again := regret.Step{Seconds: 9000 + 400, Parts: []plan.Part{{Left: two, Config: 1}}, Within: []regret.Within{{First: 1, Rest: 600, Lead: 9000, Post: 1}}}
	a = account(begin(0), again, end)
	require.Negative(t, a.Entries[0].Regret.Sign())
	require.Zero(t, a.Entries[1].Regret.Cmp(big.NewRat(9000+400, 1)))
	require.Positive(t, a.Charged.Sign())
	// A test that tells nothing any more is charged in full, however it is cut.
	twice := []regret.Step{begin(1), {Seconds: 9400, Parts: []plan.Part{{Left: third, Config: 1}}, Within: []regret.Within{{First: 1, Rest: 600, Lead: 9000, Post: 1}}}, idle(600)}
	twice[2].Within[0].First, twice[2].Within[0].Lead = 1, 9000
	a = account(twice...)
	require.Zero(t, a.Charged.Cmp(big.NewRat(9400+600-200-60, 1)), a.Charged.FloatString(1))
	// Luck has mean zero, whichever way is taken.
	luck := new(big.Rat)
	luck.Add(luck, new(big.Rat).Mul(account(begin(0), end).Luck, big.NewRat(2, 1)))
	require.Zero(t, luck.Add(luck, account(begin(1)).Luck).Sign())

	bad := begin(0)
	bad.Within[0].First = 1
	_, err := regret.Decompose(ctx, p, d.All(), 0, []regret.Step{bad})
	require.ErrorIs(t, err, regret.ErrPath)
}
