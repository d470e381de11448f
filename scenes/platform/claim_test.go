//go:build !js

package platform_test

import (
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/platform"
)

// An attempt has one writer; whoever dies lets go of it.
func TestClaim(t *testing.T) {
	if dir := os.Getenv("COLDBAY_CLAIM"); dir != "" {
		t.Setenv("XDG_CONFIG_HOME", dir)
		_, err := platform.Claim(t.Context(), "one")
		require.NoError(t, err)
		os.Exit(7) // without letting go
	}
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, "-test.run=^TestClaim$")
	cmd.Env = append(os.Environ(), "COLDBAY_CLAIM="+dir)
	require.ErrorContains(t, cmd.Run(), "exit status 7")

	let, err := platform.Claim(t.Context(), "one")
	require.NoError(t, err, "the one before is gone")
	_, err = platform.Claim(t.Context(), "one")
	require.ErrorIs(t, err, platform.ErrElsewhere)
	other, err := platform.Claim(t.Context(), "two")
	require.NoError(t, err)
	other()
	let()
	let, err = platform.Claim(t.Context(), "one")
	require.NoError(t, err)
	let()
	names, err := platform.List()
	require.NoError(t, err)
	require.Empty(t, names, "a claim is no attempt")
	_, err = platform.Claim(t.Context(), "../one")
	require.Error(t, err)
}
