package ladder

import (
	"context"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// identify is a dictionary with one unit per suspect, no repair time and tests that take a minute.
func identify(weights []int64, rows ...[]int) *plan.Dictionary {
	d := &plan.Dictionary{Name: "made up", Configs: []plan.Config{{ID: "bench"}}}
	for i, w := range weights {
		d.Units = append(d.Units, plan.Unit{ID: fmt.Sprintf("u%d", i), Name: fmt.Sprintf("unit %d", i)})
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{ID: fmt.Sprintf("s%d", i), Name: fmt.Sprintf("suspect %d", i), Unit: i, Weight: w})
	}
	for t, row := range rows {
		d.Tests = append(d.Tests, plan.Test{ID: fmt.Sprintf("t%d", t+1), Name: fmt.Sprintf("test %d", t+1), Seconds: 60, Row: row, Outcomes: []string{"no", "yes"}})
	}
	return d
}

// sixStates is the example of K. Pattipati and M. Alexandridis, IEEE Trans. SMC 20(4), 1990, from memory: the plan takes 2.18 tests in
// the mean, most information first 2.86 (both worked out here by enumeration; 2.18 is the published value, from memory).
func sixStates() *plan.Dictionary {
	return identify([]int64{70, 1, 2, 10, 5, 12}, []int{0, 0, 0, 1, 1, 1}, []int{0, 1, 0, 0, 1, 1}, []int{0, 0, 1, 0, 0, 1},
		[]int{0, 0, 1, 1, 0, 1}, []int{0, 1, 0, 1, 0, 0})
}

func ground(t *testing.T, d *plan.Dictionary) *Ground {
	t.Helper()
	g, err := NewGround("made_up", d, 0)
	require.NoError(t, err)
	return g
}

func find(t *testing.T, id string) Student {
	t.Helper()
	for _, s := range Students(nil) {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no student %q", id)
	return Student{}
}

func rung(t *testing.T, g *Ground, id string, n int) *Rung {
	t.Helper()
	r, err := g.play(context.Background(), find(t, id), n, 1, new(big.Rat))
	require.NoError(t, err)
	return r
}

func TestSixStates(t *testing.T) {
	g := ground(t, sixStates())
	require.InDelta(t, 2.18, rung(t, g, Optimal, 20).Minutes.Mean, 1e-12)
	require.True(t, rung(t, g, Optimal, 20).Minutes.Exact())
	require.InDelta(t, 2.86, rung(t, g, Curious, 1).Minutes.Mean, 1e-12)
	require.InDelta(t, 2.86, rung(t, g, Greedy, 1).Minutes.Mean, 1e-12, "all tests take a minute")
	// Twenty times the first test, then the plan.
	d := rung(t, g, Dawdler, 1)
	require.Greater(t, d.Minutes.Mean, 20.0)
	require.Less(t, d.Bare.Mean, 100.0)
	// Information of the five tests, bit (design note, section 2; worked out there independently).
	for k, want := range []float64{0.8415, 0.6801, 0.5842, 0.7950, 0.4999} {
		require.InDelta(t, want, g.gain(k, g.all, g.byUnit), 5e-5)
	}
	x := rung(t, g, RandomTells, 50)
	require.Greater(t, x.Minutes.Low, 2.18)
	require.Greater(t, rung(t, g, RandomAny, 50).Minutes.Low, x.Minutes.High)
}

// The lots of a telling test show the ties of the plan: two first tests are equally good.
func TestTiesAreDrawn(t *testing.T) {
	g := ground(t, sixStates())
	first := map[int]int{}
	for k := range 40 {
		p, err := g.Play(context.Background(), find(t, Optimal), 0, dice(1, g.Order, Optimal, k))
		require.NoError(t, err)
		require.Equal(t, 100.0, p.Score)
		first[p.Moves[0].Index]++
	}
	require.Len(t, first, 2)
	require.Contains(t, first, 1)
	require.Contains(t, first, 3)
}

// Priors .4 .3 .2 .1 (the "light print" example of J. Vomlel, slides, 2007) with repairs of 20, 10, 5, 2 (made up): the likeliest first
// takes 27.7, the worst of all 24 orders.
func TestLikeliestPart(t *testing.T) {
	d := identify([]int64{4, 3, 2, 1}, []int{0, 0, 1, 1})
	for u, m := range []int64{20, 10, 5, 2} {
		d.Units[u].Repair = m * 60
	}
	g := ground(t, d)
	r := rung(t, g, Parts, 1)
	require.InDelta(t, 27.7, r.Minutes.Mean, 1e-12)
	require.InDelta(t, .3+2*.2+3*.1, r.Vain.Mean, 1e-12)
	for h, p := range r.plays[0] {
		require.False(t, p.Proven && h < 3, "proven only where nobody else is left")
	}
}

// Two modes: cold to hot 8, hot to cold 40 (design note F5): the plan from cold takes 10.
func TestSetUpCounts(t *testing.T) {
	d := identify([]int64{6, 5, 4, 3, 2}, []int{0, 0, 0, 1, 1}, []int{0, 1, 0, 0, 1}, []int{0, 1, 1, 0, 1}, []int{1, 1, 0, 0, 0}, []int{0, 0, 1, 2, 3})
	d.Configs = []plan.Config{{ID: "cold"}, {ID: "hot"}}
	d.SetUps = []plan.SetUp{{From: 0, To: 1, Seconds: 480}, {From: 1, To: 0, Seconds: 2400}}
	for k, m := range []int64{2, 3, 2, 2, 12} {
		d.Tests[k].Seconds = m * 60
		if k < 4 {
			d.Tests[k].At = []plan.Placement{{Pre: k / 2, Post: k / 2}}
		}
	}
	d.Tests[4].Outcomes = []string{"a", "b", "c", "d"}
	g := ground(t, d)
	require.InDelta(t, 10, rung(t, g, Optimal, 5).Minutes.Mean, 1e-12)
	require.Equal(t, Move{Act: plan.ActTest, Index: 2, At: 1, After: 1, SetUp: 480, Seconds: 600}, g.way(0, 2))
	require.Equal(t, Move{Act: plan.ActTest, Index: 4, At: 1, After: 1, Seconds: 720}, g.way(1, 4))
	m, err := cheapest(context.Background(), g, Standing{Left: g.all, Config: 1}, nil)
	require.NoError(t, err)
	require.Equal(t, 2, m.Index)
}

// The checks of theorems notice a play that took less than it can.
func TestBrokenTheoremsAreNoticed(t *testing.T) {
	ctx := context.Background()
	g := ground(t, sixStates())
	par, err := g.P.Par(ctx)
	require.NoError(t, err)
	proofs, err := g.proofs(ctx)
	require.NoError(t, err)
	var mean int64
	for h, p := range proofs {
		mean += g.D.Hypotheses[h].Weight * p.Seconds
	}
	require.EqualValues(t, 2*60*100, mean, "in hindsight two tests prove each state")
	require.Empty(t, g.broken(rung(t, g, Greedy, 1), par, proofs))

	r := rung(t, g, Greedy, 1)
	r.plays[0][0].Seconds = 60
	require.Contains(t, strings.Join(g.broken(r, par, proofs), "\n"), "greedy: proved s0 in 60 s, the proof line takes 120 s")
	require.Contains(t, strings.Join(g.broken(r, par, proofs), "\n"), "less than par in the mean")

	r = rung(t, g, Greedy, 1)
	r.plays[0][3].Account.Luck.Add(r.plays[0][3].Account.Luck, big.NewRat(1, 1000))
	require.Contains(t, strings.Join(g.broken(r, par, proofs), "\n"), "luck of replicate 0 sums to 0.010000 s")

	r = rung(t, g, Optimal, 2)
	r.plays[1][5].Score = 99
	require.Equal(t, []string{"optimal: scores 99 with s5"}, g.broken(r, par, proofs))
}

// A rule that draws lots is a fixed rule within a replicate: the same seen, the same done.
func TestLotsDoNotKnowTheTruth(t *testing.T) {
	g := ground(t, sixStates())
	for k := range 20 {
		r := map[state]Move{}
		for h := range g.D.Hypotheses {
			p, err := g.Play(context.Background(), find(t, RandomTells), h, dice(7, g.Order, RandomTells, k))
			require.NoError(t, err)
			for i, e := range p.Account.Entries {
				key := state{e.Left, i}
				if m, ok := r[key]; ok {
					require.Equal(t, m, p.Moves[i])
				}
				r[key] = p.Moves[i]
			}
		}
	}
}

func TestDice(t *testing.T) {
	a, b := dice(1, "order", "student", 0), dice(1, "order", "student", 0)
	count := make([]int, 6)
	for range 6000 {
		x := a(6)
		require.Equal(t, x, b(6))
		count[x]++
	}
	for _, n := range count {
		require.InDelta(t, 1000, n, 150) // five standard deviations
	}
	seen := map[int]bool{}
	for _, roll := range []Dice{dice(1, "order", "student", 1), dice(2, "order", "student", 0), dice(1, "other", "student", 0), dice(1, "order", "other", 0)} {
		seen[roll(1<<40)] = true
	}
	require.Len(t, seen, 4)
}

// Points of Student's t from M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, table 26.10 (from memory).
func TestEstimates(t *testing.T) {
	for nu, want := range map[float64]float64{5: 2.571, 10: 2.228, 20: 2.086, 40: 2.021, 120: 1.980} {
		require.InDelta(t, want, student(nu), 8e-4)
	}
	require.Equal(t, Estimate{7, 7, 7}, estimate([]float64{7}))
	require.True(t, estimate([]float64{.1 + .2, .3, .3, .3}).Exact(), "rounding is no spread")
	e := estimate([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}) // mean 6, s 3.3166, s/sqrt(11) = 1
	require.InDelta(t, 6, e.Mean, 1e-12)
	require.InDelta(t, 6-2.228, e.Low, 1e-3)
	require.InDelta(t, 6+2.228, e.High, 1e-3)
	require.True(t, Estimate{5, 4, 6}.Above(Estimate{2, 1, 3.9}))
	require.False(t, Estimate{5, 4, 6}.Above(Estimate{3, 2, 4}))
}

func TestTooFewPlays(t *testing.T) {
	_, err := ground(t, sixStates()).Run(context.Background(), nil, Options{Plays: 1})
	require.ErrorContains(t, err, "1 plays give no interval")
}

// A car without a sheet climbs the ladder without those rungs.
func TestWithoutSheets(t *testing.T) {
	r, err := ground(t, sixStates()).Run(context.Background(), nil, Options{Plays: 4, Seed: 1})
	require.NoError(t, err)
	require.Empty(t, r.Broken)
	require.Empty(t, r.Courses)
	require.Zero(t, r.Meter)
	s := Sum([]*Report{r}, Options{Plays: 4, Seed: 1})
	require.True(t, s.Claims[0].Holds)
	require.Contains(t, string(Page(s, []*Report{r})), "| the plan, ties by lot | 2.18 | 1.000 |")
	sheets, err := SheetsFor(&bench.Order{})
	require.NoError(t, err)
	require.Empty(t, sheets)
}

func TestParseTrade(t *testing.T) {
	name, data, err := scenarios.ProceduresFile("car_a")
	require.NoError(t, err)
	procs, err := dictionary.Parse(name, data)
	require.NoError(t, err)
	name, good, err := scenarios.TradeFile("car_a")
	require.NoError(t, err)
	trade, err := ParseTrade(name, good, procs)
	require.NoError(t, err)
	require.Len(t, trade.For(true), 2)
	require.Len(t, trade.For(false), 1)
	s := trade.Sheets[0]
	require.Equal(t, "electrics", s.Stage("fuse_lamp"))
	require.Empty(t, s.Stage("run_contact"))
	for _, tt := range []struct{ old, new, want string }{
		{"coldbay-trade/1", "coldbay-trade/9", `found "coldbay-trade/9", allowed is "coldbay-trade/1"`},
		{"car: car_a", "car: car_b", `found "car_b"`},
		{"look_front", "look_moon", `there is no procedure "look_moon"`},
		{"look_valve, look_solenoid", "look_valve, look_valve", `"look_valve" stands twice`},
		{"procedures: [bridge_listen]", "procedures: [codes]", `"codes" needs the scan tool`},
		{"id: trade_meter", "id: trade_scan", `"trade_scan" stands twice`},
		{"scan: true", "scam: true", "scam"},
	} {
		bad := strings.Replace(string(good), tt.old, tt.new, 1)
		require.NotEqual(t, string(good), bad, tt.old)
		_, err := ParseTrade(name, []byte(bad), procs)
		require.ErrorContains(t, err, tt.want)
		require.ErrorContains(t, err, "car_a_trade.yaml")
	}
}

// The sheets of every car fit its procedures.
func TestEveryCarsSheets(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.CarIDs() {
		if _, _, err := scenarios.TradeFile(id); err != nil {
			continue
		}
		sheets, err := SheetsFor(&bench.Order{Car: id})
		require.NoError(t, err)
		require.NotEmpty(t, sheets)
		for _, s := range sheets {
			require.NotEmpty(t, s.lines())
		}
	}
}

// BenchmarkLadder plays all students against the six states.
func BenchmarkLadder(b *testing.B) {
	for range b.N {
		g, err := NewGround("made_up", sixStates(), 0)
		require.NoError(b, err)
		_, err = g.Run(context.Background(), nil, Options{Plays: 10, Seed: 1})
		require.NoError(b, err)
	}
}
