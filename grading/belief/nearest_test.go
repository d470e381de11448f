package belief

import (
	"testing"

	"coldbay/grading/plan"

	"github.com/stretchr/testify/require"
)

// Before anything was read every suspect still fits, at the severity asked for; one that fell is told by the line and the world of its
// strike.
func TestNearest(t *testing.T) {
	cfg := config(t, "cold_whisper")
	b := play(t, cfg, Options{Workers: 2}, actions(t, "note begun", "look valve bend")...)
	fell := map[int]Strike{}
	for _, s := range b.Steps()[1].Strikes {
		fell[s.Suspect] = s
	}
	require.NotEmpty(t, fell)
	for i, s := range b.Suspects() {
		require.Equal(t, i, b.Find(s.ID))
		w, at := b.Nearest(i, 0.6)
		strike, out := fell[i]
		require.Equal(t, !out, b.Fits(i))
		switch {
		case out:
			require.Equal(t, 2, at)
			require.Equal(t, plan.World{Severity: strike.Severity, Draw: strike.Draw}, w)
		case s.ID == cfg.Order.Truth.Fault:
			require.Zero(t, at)
			require.Positive(t, w.Severity)
		default:
			require.Zero(t, at)
		}
	}
	require.Equal(t, -1, b.Find("ghost"))
	all := play(t, cfg, Options{Workers: 2})
	for i, s := range all.Suspects() {
		mid := all.worlds[i][0].Severity
		if !s.Fixed {
			mid = all.worlds[i][2].Severity
		}
		w, at := all.Nearest(i, mid+1e-4)
		require.Zero(t, at)
		require.Equal(t, plan.World{Severity: mid}, w, s.ID)
	}
}
