package display_test

import (
	"errors"
	"testing"

	"coldbay/cmd/bay/start/display"

	"github.com/stretchr/testify/require"
)

func TestLacking(t *testing.T) {
	away := errors.New("nobody there")
	for name, c := range map[string]struct {
		reached int // -1: not asked for
		err     error
		want    string
	}{
		"":              {-1, nil, "DISPLAY is not set"},
		":7":            {7, nil, ""},
		":7.1":          {7, nil, ""},
		"unix:12":       {12, nil, ""},
		":8":            {8, away, "no screen answers on DISPLAY :8 (nobody there)"},
		"elsewhere:3.0": {-1, away, ""},
		"/private/a:0":  {-1, away, ""},
		"rubbish":       {-1, nil, `DISPLAY is "rubbish"`},
		":x":            {-1, nil, `DISPLAY is ":x"`},
		":-1":           {-1, nil, `DISPLAY is ":-1"`},
	} {
		reached := -1
		err := display.Lacking(name, func(n int) error { reached = n; return c.err })
		require.Equal(t, c.reached, reached, name)
		if c.want == "" {
			require.NoError(t, err, name)
			continue
		}
		require.ErrorContains(t, err, c.want, name)
		require.ErrorContains(t, err, "coldbay", name)
	}
}

// A number that no server can have: ports end at 65535, and no socket has it.
func TestReachNothing(t *testing.T) { require.Error(t, display.Reach(59535)) }
