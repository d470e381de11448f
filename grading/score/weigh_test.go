package score

import (
	"context"
	"runtime"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/regret"

	"github.com/stretchr/testify/require"
)

// A grader in a program with one thread works in one goroutine, breathes between small pieces, and says the same as one with two
// threads; what it tells of its progress only goes up.
func TestGradingInOneThread(t *testing.T) {
	x := script(t, "quiet_pump_good")
	c := *x.c
	c.Belief = x.c.Belief.Clone()
	inside, breaths := 0, 0
	c.Config.Breathe = func() {
		breaths++
		inside++
		runtime.Gosched()
		require.Equal(t, 1, inside, "another goroutine works while one rests")
		inside--
	}
	var told []Progress
	c.Progress = func(p Progress) { told = append(told, p) }
	d, err := Grade(context.Background(), c, x.findings)
	require.NoError(t, err)
	require.Equal(t, x.d, d)
	require.Greater(t, breaths, 500)

	parts := []Part{}
	for i, p := range told {
		if i == 0 || told[i-1].Part != p.Part {
			parts = append(parts, p.Part)
		} else {
			require.Greater(t, p.Done, told[i-1].Done)
		}
		require.True(t, p.Of == 0 || p.Done < p.Of, "%+v", p)
	}
	require.Equal(t, []Part{PartReplay, PartWeigh, PartPlan, PartThought}, parts)
}

// A grader that is stopped gives no marks: the planner would answer with what it knows by then.
func TestStoppedGradingGivesNoMarks(t *testing.T) {
	x := script(t, "quiet_pump_good")
	for _, threads := range []int{1, 2} {
		c := *x.c
		c.Belief = x.c.Belief.Clone()
		ctx, stop := context.WithCancel(context.Background())
		if threads == 1 {
			c.Config.Breathe = func() {}
		}
		c.Progress = func(p Progress) {
			if p.Part == PartWeigh {
				stop()
			}
		}
		d, err := Grade(ctx, c, x.findings)
		require.ErrorIs(t, err, context.Canceled)
		require.Nil(t, d)
	}
}

// The account under equal priors counts only where it charges less, so none is made for a path that is charged nothing, and none is missed.
func TestOneAccountIsEnoughForAPathWithoutCharges(t *testing.T) {
	ctx := context.Background()
	c := open(t, "quiet_pump")
	p, err := c.planner(c.Dictionary)
	require.NoError(t, err)
	all, start := c.Dictionary.All(), c.Dictionary.Start
	best, _, err := p.Best(ctx, all, start)
	require.NoError(t, err)
	first := best[0]
	require.Equal(t, plan.ActTest, first.Act)
	split := func(late int64) []regret.Step {
		test := c.Dictionary.Tests[first.Index]
		parts := make([]plan.Part, len(test.Outcomes))
		for k := range parts {
			parts[k].Config = first.After
		}
		for i, o := range test.Row {
			parts[o].Left = parts[o].Left.With(i)
		}
		return []regret.Step{{Seconds: test.Seconds + late, Parts: parts, Seen: test.Row[0]}}
	}
	for _, breathe := range []func(){nil, func() {}} {
		c.Config.Breathe = breathe
		own, other, err := c.accounts(ctx, p, split(0))
		require.NoError(t, err)
		require.Zero(t, own.Charged.Sign())
		require.Same(t, own, other)
		own, other, err = c.accounts(ctx, p, split(1000))
		require.NoError(t, err)
		require.Positive(t, own.Charged.Sign())
		require.NotEqual(t, own.Par, other.Par)
	}
}
