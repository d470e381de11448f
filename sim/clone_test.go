package sim

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Copies share what neither has changed since: whatever one of them goes through, the other and the original go on to the same bits as if
// they were alone.
func TestCopiesDoNotDisturbEachOther(t *testing.T) {
	alone := newWorld(t)
	start(t, alone)
	alone.Step(300)
	base := newWorld(t)
	start(t, base)
	one, two := base.Clone(), base.Clone()
	require.NoError(t, one.PullEnd("line_supply.b"))
	one.SetKey(false)
	for i := range 300 {
		if i%40 == 20 {
			one.SetKey(i%80 == 20)
			require.NoError(t, one.SetElementOut("fuse15", i%80 == 20))
		}
		one.Step(1)
		two.Step(1)
		base.Step(1)
		if i == 100 {
			one.Clone().Step(50)
			two.Clone().Soak(1)
		}
	}
	require.Equal(t, alone.Hash(), two.Hash())
	require.Equal(t, alone.Hash(), base.Hash())
	require.NotEqual(t, alone.Hash(), one.Hash())
}

// A whole cold start allocates nothing but the copy itself and what it no longer shares once something switches: a matrix and a list of
// ways.
func TestColdStartAllocates(t *testing.T) {
	base := newWorld(t)
	start(t, base)
	run := func() { base.Clone().Step(1200) }
	run() // the elimination orders of this car's topologies are made once
	require.LessOrEqual(t, testing.AllocsPerRun(3, run), 3.0)
	w := base.Clone()
	w.Step(1)
	require.Zero(t, testing.AllocsPerRun(3, func() { w.Step(300) }))
}
