//go:build !js

package prefs_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/platform"
	"coldbay/scenes/prefs"
	"coldbay/sim/units"
)

// Settings come back as they were kept; what is damaged or out of range gives the usual ones and keeps nobody out.
func TestKeepAndLoad(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	p, err := prefs.Load()
	require.NoError(t, err)
	require.Equal(t, prefs.Usual(), p)
	p.Text, p.Contrast, p.Inches, p.Lang, p.Motion = 200, true, true, "de", prefs.Less
	require.NoError(t, p.Save())
	again, err := prefs.Load()
	require.NoError(t, err)
	require.Equal(t, p, again)
	require.Equal(t, units.InHg, again.Units().Vacuum)
	require.NoError(t, again.Units().Check())

	require.NoError(t, platform.Keep("settings", []byte(`{"text": 999, "lang": "xx", "motion": "wild", "sound": {"volume": 7}}`)))
	odd, err := prefs.Load()
	require.NoError(t, err)
	require.Equal(t, prefs.Usual().Text, odd.Text)
	require.Equal(t, "en", odd.Lang)
	require.Equal(t, prefs.System, odd.Motion)
	require.LessOrEqual(t, odd.Sound.Volume, 1.0)

	require.NoError(t, platform.Keep("settings", []byte("{")))
	broken, err := prefs.Load()
	require.Error(t, err)
	require.Equal(t, prefs.Usual(), broken)
}
