package bench_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// A log that went through an editor or a mail program is read all the same, or refused with what is wrong with it.
func TestAttemptsThatWentThroughAnEditor(t *testing.T) {
	data := recorded(t, someWork)
	for name, changed := range map[string][]byte{
		"CRLF":              bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")),
		"a byte order mark": append([]byte("\xef\xbb\xbf"), data...),
	} {
		a := read(t, changed)
		require.False(t, a.Torn, name)
		require.Equal(t, int64(len(changed)), a.Good, name)
		_, err := bench.Replay(context.Background(), config(t, "cold_whisper", "", 0), a)
		require.NoError(t, err, name)
	}
	for _, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		_, err := bench.ReadAttempt("mine.attempt", strings.NewReader(mark+"{\x00"))
		require.EqualError(t, err, "mine.attempt:1: the text is UTF-16, as an editor may have saved it; an attempt is UTF-8")
	}
}

// An attempt has an end: the bench takes no more lines but the finish, and a file with more is refused.
func TestAttemptsAreBounded(t *testing.T) {
	var log bytes.Buffer
	cfg := config(t, "cold_whisper", "", 0)
	cfg.Log = bench.NewLogWriter(&log, nil)
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	ctx := context.Background()
	note := bench.Action{Verb: bench.Note, Text: "one more"}
	for range bench.MaxActions - 1 {
		_, err := l.Do(ctx, note)
		require.NoError(t, err)
	}
	_, err = l.Do(ctx, note)
	require.ErrorContains(t, err, "an attempt has at most 5000 lines; only the finish is left")
	_, err = l.Do(ctx, bench.Action{Verb: bench.Finish, List: []string{"no_fault_found"}})
	require.NoError(t, err)
	a := read(t, log.Bytes())
	require.Len(t, a.Findings, bench.MaxActions)
	log.WriteString(`{"seq":5001,"action":{"do":"note","text":"x"},"start":0,"seconds":0,"cost":0,"percepts":[],"hazards":[]}` + "\n")
	_, err = bench.ReadAttempt("mine.attempt", &log)
	require.EqualError(t, err, "mine.attempt:5002: an attempt has at most 5000 actions, here are more")
}

// What is told of a controller output that died names its pin.
func TestDeadOutputHasAName(t *testing.T) {
	l, err := bench.NewLocal(config(t, "cold_whisper", "", 0))
	require.NoError(t, err)
	say := bench.NewSayer(l.Catalogue())
	require.Equal(t, "a controller output no longer works: ECM pin 12 (pump relay driver)",
		say.Hazard(bench.Hazard{Kind: "driver_killed", Of: "drv_relay", Grave: true}))
}
