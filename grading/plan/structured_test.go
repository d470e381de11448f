package plan_test

import (
	"context"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/plan/certify"

	"github.com/stretchr/testify/require"
)

// Vehicle-like instances with a bench of thirty configurations: solved to
// optimality, certified, and the references in their order: the mean of the
// proof lines is at most par, the mean of the plan's paths is par.
func TestStructured(t *testing.T) {
	ctx := context.Background()
	for seed := range uint64(4) {
		d := structured(50+seed, 10, 60, 30)
		p := planner(t, d)
		v, err := p.Par(ctx)
		par := exact(t, v, err)
		c, err := p.Certificate(ctx, d.All(), d.Start)
		require.NoError(t, err)
		require.Equal(t, par, c.Lower)
		require.Equal(t, par, c.Upper)
		require.NoError(t, certify.Check(d, c))
		c.Lower++
		require.ErrorIs(t, certify.Check(d, c), certify.ErrRejected)

		var paths, proofs int64
		for h, x := range d.Hypotheses {
			path, err := p.PathFor(ctx, h)
			require.NoError(t, err)
			proof, err := p.ProofLine(ctx, h, d.Start)
			require.NoError(t, err)
			require.True(t, proof.Exact)
			if repairs(path) == 1 {
				require.LessOrEqual(t, proof.Seconds, path.Seconds)
			}
			paths += x.Weight * path.Seconds
			proofs += x.Weight * proof.Seconds
		}
		require.Equal(t, par, paths)
		require.Less(t, proofs, par)

		gamble, err := plan.New(d, plan.Options{Economic: true, Nodes: 300})
		require.NoError(t, err)
		g, err := gamble.Par(ctx)
		require.NoError(t, err)
		require.LessOrEqual(t, g.Lo, par, "more is allowed, so it can't take longer")
	}
}

// A proof line that may not search is still a proof, and says it may be long.
func TestProofLineCutShort(t *testing.T) {
	d := structured(60, 10, 60, 30)
	p := planner(t, d)
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	for h := range d.Hypotheses {
		full, err := p.ProofLine(context.Background(), h, d.Start)
		require.NoError(t, err)
		cut, err := p.ProofLine(gone, h, d.Start)
		require.NoError(t, err)
		require.False(t, cut.Exact)
		require.LessOrEqual(t, cut.Least, full.Seconds)
		require.GreaterOrEqual(t, cut.Seconds, full.Seconds)
		last := cut.Steps[len(cut.Steps)-1]
		require.Equal(t, plan.ActVerify, last.Act)
		require.True(t, last.Left.Has(h))
		require.True(t, last.Left.Within(d.InUnit(d.Hypotheses[h].Unit)))
		var sum int64
		q := d.Start
		for _, st := range cut.Steps {
			require.Equal(t, q, st.From)
			q = st.To
			sum += st.Seconds
		}
		require.Equal(t, sum, cut.Seconds)
	}
}

// More than sixty-four suspects use more than one word of a set.
func TestManySuspects(t *testing.T) {
	n := 200
	var rows [][]int
	for bit := range 8 {
		row := make([]int, n)
		for i := range row {
			row[i] = i >> bit & 1
		}
		rows = append(rows, row)
	}
	d := table("binary numbers", ones(n), ones(8), rows)
	// With equal weights and one test for each binary digit, a plan may stop
	// early only where a digit is already settled: the optimal code has 56
	// words of 7 digits and 144 of 8.
	require.Equal(t, int64(56*7+144*8), par(t, d))
}

func TestEconomicPlansAreNotCertified(t *testing.T) {
	p, err := plan.New(twoModes(), plan.Options{Economic: true})
	require.NoError(t, err)
	_, err = p.Certificate(context.Background(), plan.FirstN(5), 0)
	require.ErrorIs(t, err, plan.ErrCertificate)
}
