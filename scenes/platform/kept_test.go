//go:build !js

package platform_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/platform"
)

func TestKeep(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	_, err := platform.Kept("settings")
	require.ErrorIs(t, err, platform.ErrNotKept)
	require.NoError(t, platform.Keep("settings", []byte("one")))
	require.NoError(t, platform.Keep("settings", []byte("two")))
	got, err := platform.Kept("settings")
	require.NoError(t, err)
	require.Equal(t, "two", string(got))
	for _, bad := range []string{"", "a/b", ".hidden"} {
		require.Error(t, platform.Keep(bad, nil), bad)
	}
	list, err := platform.List()
	require.NoError(t, err)
	require.Empty(t, list, "a kept value is no attempt")
}
