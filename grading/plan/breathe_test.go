package plan_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/plan"
)

// A planner breathes with every state that it looks at, while it is made and while it lays out a proof line too; that changes no answer, and
// whoever stops it in a breath is answered before many more.
func TestBreathe(t *testing.T) {
	ctx := context.Background()
	d := structured(3, 5, 30, 30)
	breaths := 0
	p, err := plan.New(d, plan.Options{Breathe: func() { breaths++ }})
	require.NoError(t, err)
	require.GreaterOrEqual(t, breaths, len(d.Hypotheses), "while it is made")
	still := planner(t, d)

	breaths = 0
	got, err := p.Par(ctx)
	require.NoError(t, err)
	want, err := still.Par(ctx)
	require.NoError(t, err)
	require.Equal(t, want, got)
	require.Equal(t, still.Stats(), p.Stats())
	require.Greater(t, p.Stats().Nodes, int64(20), "too easy a question to tell anything")
	require.GreaterOrEqual(t, int64(breaths), p.Stats().Nodes)

	breaths = 0
	line, err := p.ProofLine(ctx, 0, d.Start)
	require.NoError(t, err)
	other, err := still.ProofLine(ctx, 0, d.Start)
	require.NoError(t, err)
	require.Equal(t, other, line)
	require.Positive(t, breaths)

	ctx, stop := context.WithCancel(ctx)
	breaths = 0
	p, err = plan.New(d, plan.Options{Breathe: func() {
		if breaths++; breaths == 400 {
			stop()
		}
	}})
	require.NoError(t, err)
	cut, err := p.Par(ctx)
	require.NoError(t, err)
	require.Less(t, p.Stats().Nodes, still.Stats().Nodes)
	require.LessOrEqual(t, cut.Lo, want.Lo)
	require.GreaterOrEqual(t, cut.Hi, want.Hi)
}
