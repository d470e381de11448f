package belief

import (
	"testing"

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
		severity, at := b.Nearest(i, 0.6)
		strike, out := fell[i]
		require.Equal(t, !out, b.Fits(i))
		switch {
		case out:
			require.Equal(t, 2, at)
			require.Equal(t, strike.Severity, severity)
		case s.ID == cfg.Order.Truth.Fault:
			require.Zero(t, at)
			require.Positive(t, severity)
		default:
			require.Zero(t, at)
		}
	}
	require.Equal(t, -1, b.Find("ghost"))
	all := play(t, cfg, Options{Workers: 2})
	for i, s := range all.Suspects() {
		severity, at := all.Nearest(i, 0.6)
		require.Zero(t, at)
		require.Equal(t, map[bool]float64{true: 1, false: 0.6}[s.Fixed], severity, s.ID)
	}
}
