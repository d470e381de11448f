package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// brokenSession can do nothing any more.
type brokenSession struct{ bench.Session }

func (brokenSession) Catalogue() bench.Catalogue { return bench.Catalogue{} }

func (brokenSession) Do(context.Context, bench.Action) (bench.Finding, error) {
	return bench.Finding{}, &bench.BrokenError{Line: 7, Err: errors.New(`electrical network at the element "w_feed": conductance = -1 S`)}
}

// A car that can't be worked out any further ends the prompt with a sentence that gives no hint; what follows is not asked for.
func TestPromptEndsOnABrokenAttempt(t *testing.T) {
	var out bytes.Buffer
	p := &Program{Stdin: strings.NewReader("hold 4000\nlook pump\n"), Stdout: &out}
	err := prompt(context.Background(), p, &bench.Runner{Session: brokenSession{}, Out: &out})
	require.EqualError(t, err, (&bench.BrokenError{Line: 7}).Sentence())
	var broken *bench.BrokenError
	require.ErrorAs(t, err, &broken)
	require.Equal(t, 1, strings.Count(out.String(), "> "))
	require.NotContains(t, out.String(), "w_feed")
}
