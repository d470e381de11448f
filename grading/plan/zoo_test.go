package plan_test

import (
	"context"
	"testing"

	"coldbay/grading/plan"

	"github.com/stretchr/testify/require"
)

// zooDictionary is the Zoo data set as a game of questions.
func zooDictionary(t testing.TB) *plan.Dictionary { return weighed(t, "zoo", "zoo", 59) }

// The value 492/101 and the values of the first questions were worked out in
// the design note by three independent programs.
func TestZoo(t *testing.T) {
	ctx := context.Background()
	d := zooDictionary(t)
	require.Len(t, d.Hypotheses, 59)
	require.Equal(t, int64(101), d.Weight(d.All()))
	p := planner(t, d)
	b, err := p.Par(ctx)
	require.Equal(t, int64(492), exact(t, b, err))
	t.Logf("%+v", p.Stats())
	best, complete, err := p.Best(ctx, d.All(), 0)
	require.NoError(t, err)
	require.True(t, complete)
	require.Len(t, best, 1)
	const legs, predator, catsize = 12, 6, 15
	require.Equal(t, legs, best[0].Index)
	for q, want := range map[int]int64{predator: 498, catsize: 503, legs: 492} {
		b, err := p.Q(ctx, d.All(), 0, q)
		require.Equal(t, want, exact(t, b, err))
	}
	t.Logf("%+v", p.Stats())
}
