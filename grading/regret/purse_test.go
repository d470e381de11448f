package regret_test

import (
	"context"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/regret"

	"github.com/stretchr/testify/require"
)

// Two readings that tell nothing are forgiven; a string of them is charged, though each alone is within the tolerance of a step.
func TestUselessReadingsShareOnePurse(t *testing.T) {
	d := sixStates()
	p := planner(t, d)
	useless := regret.Step{Seconds: 50, Parts: []plan.Part{{Left: d.All()}}}
	charged := func(n int) float64 {
		var path []regret.Step
		for range n {
			path = append(path, useless)
		}
		a, err := regret.Decompose(context.Background(), p, d.All(), 0, path)
		require.NoError(t, err)
		return float(a.Charged)
	}
	require.Zero(t, charged(2))
	require.InDelta(t, 180, charged(6), 1e-9, "six of 50 s less the purse of 120 s")
}
