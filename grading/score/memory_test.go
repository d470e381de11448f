package score

import (
	"context"
	"runtime"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// What the grader keeps and allocates of an attempt grows as its lines do, and not as their square: twice the notes and glances ask for
// at most two and a half times the bytes.
func TestMemoryGrowsWithTheLines(t *testing.T) {
	c := open(t, "quiet_pump")
	attempt := func(lines int) []bench.Finding {
		l, err := bench.NewLocal(c.Config)
		require.NoError(t, err)
		for k := range lines {
			a := bench.Action{Verb: bench.Note, Text: "nothing new"}
			if k%10 == 9 {
				a = bench.Action{Verb: bench.Look, On: "dash"}
			}
			_, err := l.Do(context.Background(), a)
			require.NoError(t, err)
		}
		return l.Ledger()
	}
	bytes := func(findings []bench.Finding) uint64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, err := watchTruth(context.Background(), c.Config, findings)
		require.NoError(t, err)
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	few, many := bytes(attempt(2000)), bytes(attempt(4000))
	t.Logf("%d bytes for 2000 lines, %d for 4000", few, many)
	require.LessOrEqual(t, 2*many, 5*few)
}
