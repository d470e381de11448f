package ladder

import (
	"bytes"
	"compress/gzip"
	"context"
	"flag"
	"math/big"
	"os"
	"sync"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"

	"github.com/stretchr/testify/require"
)

// shipped is the ladder over all orders of the program, played once for all tests.
var shipped = sync.OnceValues(func() (all climbed, err error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return all, err
	}
	all.options = Options{Plays: 40, Seed: 1}
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		if err != nil {
			return all, err
		}
		_, packed, err := scenarios.DictionaryFile(id)
		if err != nil {
			return all, err
		}
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			return all, err
		}
		d, err := plan.Decode(z)
		if err != nil {
			return all, err
		}
		if d.Wide() {
			continue // tens of minutes of play; named to the command, it is played all the same
		}
		sheets, err := SheetsFor(o.Order)
		if err != nil {
			return all, err
		}
		g, err := NewGround(id, d, d.Effort())
		if err != nil {
			return all, err
		}
		r, err := g.Run(context.Background(), sheets, all.options)
		if err != nil {
			return all, err
		}
		all.grounds, all.reports = append(all.grounds, g), append(all.reports, r)
	}
	all.summary = Sum(all.reports, all.options)
	return all, nil
})

type climbed struct {
	options Options
	grounds []*Ground
	reports []*Report
	summary *Summary
}

func climb(t *testing.T) climbed {
	t.Helper()
	all, err := shipped()
	require.NoError(t, err)
	require.NotEmpty(t, all.reports)
	return all
}

// On every order, for every student, truth and replicate: nobody proves in less than the proof line, nobody who proves first needs
// less than par in the mean, luck sums to nothing, no step is better than the best, the truth never leaves the suspects.
func TestTheorems(t *testing.T) {
	for _, r := range climb(t).reports {
		require.Empty(t, r.Broken, r.Order)
		require.LessOrEqual(t, r.Proof, r.Par+1e-9)
		require.Less(t, r.Unavoidable, r.Proof)
		if r.Meter > 0 {
			require.GreaterOrEqual(t, r.Meter, r.Par-1e-9, "a tool more makes no job longer")
		}
	}
}

// Whoever follows the plan scores exactly 100 whatever the ties, with every truth.
func TestThePlanScoresFull(t *testing.T) {
	for _, r := range climb(t).reports {
		x := r.Rung(Optimal)
		if !x.exact() {
			t.Logf("%s: some values are only bounded", r.Order)
			continue
		}
		require.Equal(t, 100.0, x.Least, r.Order)
		require.Zero(t, x.Spread)
		for _, plays := range x.plays {
			for _, p := range plays {
				require.Equal(t, 100.0, p.Score)
				require.Equal(t, 100.0, p.Bare)
				require.Zero(t, p.Account.Choices.Sign())
			}
		}
	}
}

// In the mean over the orders the students come in the order of their skill, beyond the intervals.
func TestLadder(t *testing.T) {
	asked := 0
	for _, c := range climb(t).summary.Claims {
		if c.Kind == Ladder {
			asked++
			require.True(t, c.Holds, "%s: %s", c.Text, c.Says)
		}
	}
	require.Equal(t, 8, asked)
}

// For each fixed rule the mean minutes are par plus the mean regrets, to the last digit.
func TestMinutesAreParPlusRegrets(t *testing.T) {
	all := climb(t)
	for k, r := range all.reports {
		g := all.grounds[k]
		for _, x := range r.Rungs {
			if !x.exact() {
				continue
			}
			for n, plays := range x.plays {
				sum := new(big.Rat)
				for h, p := range plays {
					w := big.NewRat(g.D.Hypotheses[h].Weight, g.D.Weight(g.all))
					d := new(big.Rat).SetInt64(p.Seconds)
					d.Sub(d, p.Account.Par).Sub(d, p.Account.Choices)
					sum.Add(sum, d.Mul(d, w))
					require.Zero(t, p.Account.ToDo.Sign())
				}
				require.Zero(t, sum.Sign(), "%s, %s, replicate %d: %s s", r.Order, x.ID, n, sum.FloatString(9))
			}
		}
	}
}

// What a sheet's departures from the plan cost is what it takes beyond par.
func TestDivergencesAccountForTheExcess(t *testing.T) {
	for _, r := range climb(t).reports {
		require.Equal(t, r.Sheet, r.Courses[0].Sheet)
		for _, c := range r.Courses {
			x := r.Rung(c.Sheet)
			if !x.exact() {
				continue
			}
			var cost float64
			for k, d := range c.Divergences {
				cost += d.Cost
				require.Positive(t, d.Saved)
				require.InDelta(t, d.Saved, float64(d.Chosen.Seconds-d.Plan.Seconds)/60+d.Chosen.ToGo-d.Plan.ToGo, 1e-9)
				require.True(t, k == 0 || c.Divergences[k-1].Step <= d.Step)
			}
			require.InDelta(t, x.Minutes.Mean-r.Par, cost, 1e-9, "%s, %s", r.Order, c.Sheet)
		}
	}
}

// Par of each shipped dictionary is proven, by a certificate that package certify accepts.
func TestParIsCertified(t *testing.T) {
	for _, r := range climb(t).reports {
		c := r.Certified
		t.Logf("%s: %d cells, %d procedures, %d tests, %d configurations; %d nodes, %d states, %d claims, %d plan steps, par %.4f to %.4f min, gap %.3g %%",
			r.Order, r.Cells, r.Procedures, r.Tests, r.Configs, c.Nodes, c.Memo, c.Claims, c.Plan, c.Lower, c.Upper, c.Gap)
		require.Less(t, c.Gap, 5.0)
		require.Positive(t, c.Claims)
		require.LessOrEqual(t, c.Lower, r.Par+1e-9)
		require.GreaterOrEqual(t, c.Upper, r.Par-1e-9)
	}
}

var update = flag.Bool("update", false, "write the page of results again")

// The page in the tree is what the students do today with the dictionaries that are shipped. -update writes it.
func TestResultIsFresh(t *testing.T) {
	all := climb(t)
	if *update {
		require.NoError(t, os.WriteFile("../../testdata/ladder/RESULT.md", Page(all.summary, all.reports), 0o644))
	}
	got, err := os.ReadFile("../../testdata/ladder/RESULT.md")
	require.NoError(t, err)
	const how = "write it again: go test ./grading/ladder -update"
	require.Contains(t, string(got), Digests(all.reports), "made from other dictionaries; "+how)
	require.True(t, string(Page(all.summary, all.reports)) == string(got), how)
}
