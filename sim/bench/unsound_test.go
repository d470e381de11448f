package bench_test

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"coldbay/sim"
	"coldbay/sim/bench"
	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// unsound is the order on a car whose equations lose their solution when its engine is held above 2800 rpm: a fault takes the feed's resistance
// below nothing there, where no car file can take it.
func unsound(t *testing.T) bench.Config {
	t.Helper()
	cfg := config(t, "cold_whisper", "pump_feed_loose", 1)
	text, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	c, err := car.Parse("car_a.yaml", text)
	require.NoError(t, err)
	f, ok := c.Fault("pump_feed_loose")
	require.True(t, ok)
	f.Changes[0].To, f.Changes[0].Onset.Rpm = -1, 2800
	cfg.Car = c
	cfg.Layout, err = bench.NewLayout(c)
	require.NoError(t, err)
	return cfg
}

// An attempt that meets a state without a solution: the action gives a sentence, nothing is done any more, the log is whole to the line
// before, and the attempt can be taken up again from there, where the same action meets the same state.
func TestNoSolutionEndsTheAttempt(t *testing.T) {
	ctx := context.Background()
	var log bytes.Buffer
	cfg := unsound(t)
	cfg.Log = bench.NewLogWriter(&log, nil)
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	play(t, s, "look valve\nmeter volts bat_pos pump_1h\nstart\nwatch 12.5\nlisten pump\nhold 2500\nread meter")
	whole, ledger := strings.Clone(log.String()), s.Ledger()

	rev := bench.Action{Verb: bench.Hold, N: 4000}
	_, err = s.Do(ctx, rev)
	require.ErrorIs(t, err, sim.ErrDiverged)
	var broken *bench.BrokenError
	require.ErrorAs(t, err, &broken)
	require.Equal(t, 7, broken.Line)
	require.Regexp(t, `^the attempt can't go on after line 7: at \d+\.\d s: the car's equations have no solution any more: `+
		`electrical network at the element "w_feed": conductance = -1\.\d* S$`, err.Error())
	require.Equal(t, "the program can't work this car out any further, so what was tried last is not done; everything up to line 7 stands and is kept",
		broken.Sentence(), "no word of what is at fault")

	// The session has ended: every further action gives the same, and whatever only looks still works.
	for _, line := range []string{"look valve", "stop", "hold 0", "finish pump_feed_loose"} {
		a, err := bench.ParseLine(line)
		require.NoError(t, err)
		_, again := s.Do(ctx, a)
		require.Same(t, broken, again, line)
	}
	require.Equal(t, ledger, s.Ledger())
	require.Equal(t, whole, log.String(), "not a byte more, nor less")
	require.False(t, s.Closed())
	require.False(t, s.View().Closed)
	require.NotEmpty(t, s.Catalogue().Places)

	// Taken up again it stands where it stood, goes on, and meets the same state again.
	a := read(t, log.Bytes())
	require.False(t, a.Torn)
	require.Equal(t, ledger, a.Findings)
	cfg.Log = nil
	other, err := bench.Resume(ctx, cfg, a, bench.ContinueLog(&log, nil))
	require.NoError(t, err)
	require.Equal(t, ledger, other.Ledger())
	_, err = other.Clone().Do(ctx, rev)
	require.EqualError(t, err, broken.Error())
	do(t, other, "stop")
	require.Len(t, read(t, log.Bytes()).Findings, 8)
	require.True(t, strings.HasPrefix(log.String(), whole))
}

// A script stops at the line that met it, with the cause for its author.
func TestNoSolutionEndsTheScript(t *testing.T) {
	s, err := bench.NewLocal(unsound(t))
	require.NoError(t, err)
	var out bytes.Buffer
	r := &bench.Runner{Session: s, Out: &out}
	err = r.Script(context.Background(), "rev.txt", strings.NewReader("start\nhold 4000\nstop\n"))
	require.ErrorContains(t, err, "rev.txt:2: the attempt can't go on after line 1: at ")
	require.ErrorIs(t, err, sim.ErrDiverged)
	require.NotContains(t, out.String(), "stop")
}
