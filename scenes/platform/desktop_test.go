//go:build !js

package platform_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/platform"
)

func TestAttemptsAreKept(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	_, err := platform.Load("one")
	require.ErrorIs(t, err, platform.ErrNoAttempt)
	require.ErrorIs(t, platform.MoveAside("one", "two"), platform.ErrNoAttempt)
	require.NoError(t, platform.Append("one", []byte("a\n")))
	require.NoError(t, platform.Append("one", []byte("b\n")))
	got, err := platform.Load("one")
	require.NoError(t, err)
	require.Equal(t, "a\nb\n", string(got))
	require.NoError(t, platform.Replace("one", []byte("c\n")))
	require.NoError(t, platform.MoveAside("one", "two"))
	names, err := platform.List()
	require.NoError(t, err)
	require.Equal(t, []string{"two"}, names)
	got, err = platform.Load("two")
	require.NoError(t, err)
	require.Equal(t, "c\n", string(got))
}

// What several windows add at once is all there, each piece whole.
func TestAdd(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	const writers, pieces = 4, 12
	done := make(chan error)
	for w := range writers {
		go func() {
			var err error
			for n := range pieces {
				err = errors.Join(err, platform.Add("one", fmt.Appendf(nil, "%d %d %s\n", w, n, strings.Repeat("x", 300))))
			}
			done <- err
		}()
	}
	for range writers {
		require.NoError(t, <-done)
	}
	got, err := platform.Load("one")
	require.NoError(t, err)
	require.Equal(t, writers*pieces, strings.Count(string(got), "\n"))
	for w := range writers {
		for n := range pieces {
			require.Contains(t, string(got), fmt.Sprintf("%d %d %s\n", w, n, strings.Repeat("x", 300)))
		}
	}
}

func TestBadNames(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for _, name := range []string{"", "../x", "a/b", `a\b`, ".hidden", "c:d"} {
		require.Error(t, platform.Append(name, nil), name)
		_, err := platform.Load(name)
		require.Error(t, err, name)
	}
}
