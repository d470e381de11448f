package bench_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// recorded is an attempt of some length as it stands in a file.
func recorded(t testing.TB, lines string) []byte {
	t.Helper()
	var log bytes.Buffer
	cfg := config(t, "cold_whisper", "", 0)
	cfg.Log = bench.NewLogWriter(&log, nil)
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	play(t, s, lines)
	return log.Bytes()
}

const someWork = `look valve
scan on
key on
codes
data
meter volts bat_pos pump_1h
clamp w_feed
actuator both
watch 3.3
feel tailpipe
actuator off
key off
note the valve gets no vacuum
jump bat_pos pump_1h 18awg none
watch 5
unjump
start
watch 30
listen valve
stop`

func read(t testing.TB, data []byte) *bench.Attempt {
	t.Helper()
	a, err := bench.ReadAttempt("attempt.jsonl", bytes.NewReader(data))
	require.NoError(t, err)
	return a
}

func TestAttemptReplaysToTheBit(t *testing.T) {
	data := recorded(t, someWork)
	a := read(t, data)
	require.False(t, a.Torn)
	require.Empty(t, a.Notice())
	require.Equal(t, int64(len(data)), a.Good)
	require.Equal(t, "cold_whisper", a.Header.Order)
	require.Len(t, a.Findings, 20)
	s, err := bench.Replay(context.Background(), config(t, "cold_whisper", "", 0), a)
	require.NoError(t, err)
	require.Equal(t, a.Findings, s.Ledger())
	require.NotContains(t, string(data), "valve_line_split", "the log does not name the fault")
}

// A watch that was cut short replays as it went.
func TestCutWatchReplays(t *testing.T) {
	var log bytes.Buffer
	cfg := config(t, "cold_whisper", "", 0)
	cfg.Log = bench.NewLogWriter(&log, nil)
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	play(t, s, "meter volts bat_pos body\nstart")
	ctx, cancel := context.WithCancel(context.Background())
	_, err = s.Do(&cutAfter{Context: ctx, n: 77, cancel: cancel}, bench.Action{Verb: bench.Watch, N: 600})
	require.NoError(t, err)
	do(t, s, "read meter")
	_, err = bench.Replay(context.Background(), config(t, "cold_whisper", "", 0), read(t, log.Bytes()))
	require.NoError(t, err)
}

func TestReplayTellsTheFirstDifference(t *testing.T) {
	data := recorded(t, someWork)
	lines := strings.SplitAfter(string(data), "\n")
	require.Contains(t, lines[6], `"key":"volts"`)
	lines[6] = strings.Replace(lines[6], `"unit":"V"`, `"unit":"W"`, 1)
	_, err := bench.Replay(context.Background(), config(t, "cold_whisper", "", 0), read(t, []byte(strings.Join(lines, ""))))
	var diff *bench.MismatchError
	require.ErrorAs(t, err, &diff)
	require.Equal(t, 7, diff.Line)
	require.Contains(t, err.Error(), "attempt.jsonl:7: replay differs")
	require.Contains(t, diff.Recorded, `"unit":"W"`)

	// Another car under the same actions differs as soon as a percept does.
	_, err = bench.Replay(context.Background(), config(t, "cold_whisper", "pump_fuse_blown", 1), read(t, data))
	require.ErrorAs(t, err, &diff)
	require.Equal(t, 9, diff.Line, "the pump does not whine")

	// An attempt of another order, car or model is refused before anything is played.
	_, err = bench.Replay(context.Background(), config(t, "quiet_pump", "", 0), read(t, data))
	require.ErrorContains(t, err, `attempt.jsonl:1: key "order": found "cold_whisper"`)
}

// Killed at any byte: what is whole is read, the rest is told, and the attempt goes on to the same end as if nothing had happened.
func TestResumeAfterAKill(t *testing.T) {
	whole := recorded(t, someWork)
	ends := []int{}
	for i, b := range whole {
		if b == '\n' {
			ends = append(ends, i+1)
		}
	}
	rest := strings.Split(someWork, "\n")
	for _, cut := range []int{ends[0], ends[0] + 5, ends[4], ends[9] - 1, ends[9] - 40, len(whole) - 1} {
		data := bytes.Clone(whole[:cut])
		a := read(t, data)
		require.Equal(t, whole[cut-1] != '\n', a.Torn)
		if a.Torn {
			require.Contains(t, a.Notice(), "torn and was dropped")
		}
		file := bytes.NewBuffer(data[:a.Good])
		s, err := bench.Resume(context.Background(), config(t, "cold_whisper", "", 0), a, bench.ContinueLog(file, nil))
		require.NoError(t, err)
		play(t, s, strings.Join(rest[len(a.Findings):], "\n"))
		require.Equal(t, string(whole), file.String())
	}
}

func TestReadAttemptBadInput(t *testing.T) {
	data := string(recorded(t, "look valve\nlook pump"))
	lines := strings.SplitAfter(data, "\n")
	for _, c := range []struct{ name, in, want string }{
		{"empty", "", "a.jsonl:1: the header is missing"},
		{"torn header", lines[0][:20], "a.jsonl:1: the header is missing"},
		{"no header", lines[1], "a.jsonl:1: not the header of an attempt"},
		{"other format", strings.Replace(data, "coldbay-attempt/1", "coldbay-attempt/9", 1), `a.jsonl:1: key "format": found "coldbay-attempt/9"; allowed is "coldbay-attempt/1"`},
		{"unknown key", lines[0] + strings.Replace(lines[1], `"seq"`, `"sequence":1,"seq"`, 1) + lines[2], `a.jsonl:2: not an action: json: unknown field "sequence"`},
		{"torn in the middle", lines[0] + lines[1][:30] + "\n" + lines[2], "a.jsonl:2: not an action"},
		{"a gap", lines[0] + lines[2], `a.jsonl:2: key "seq": found 2; allowed is 1`},
		{"wrong kind", lines[0] + strings.Replace(lines[1], `"seq":1`, `"seq":"1"`, 1), `a.jsonl:2: not an action: key "seq": found a string`},
		{"two on a line", lines[0] + strings.TrimSuffix(lines[1], "\n") + lines[2], "a.jsonl:2: not an action: more than one value"},
		{"blank line", lines[0] + "\n" + lines[1], "a.jsonl:2: not an action: the line is empty"},
		{"long line", lines[0] + strings.Repeat(" ", bench.MaxAttemptLine+1) + "\n", "a.jsonl:2: longer than"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := bench.ReadAttempt("a.jsonl", strings.NewReader(c.in))
			require.ErrorContains(t, err, c.want)
			require.NotContains(t, err.Error(), "bench.")
		})
	}
	_, err := bench.ReadAttempt("a.jsonl", endless{})
	require.ErrorContains(t, err, "longer than the 33554432 bytes allowed")
}

// endless is a file without an end.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

// A log that can't be written is told, and nothing is appended behind a torn line.
func TestLogWriterFailure(t *testing.T) {
	w := &full{room: 400}
	synced := 0
	cfg := config(t, "cold_whisper", "", 0)
	cfg.Log = bench.NewLogWriter(w, func() error { synced++; return nil })
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	require.Equal(t, 1, synced)
	var failed error
	for range 5 {
		if _, failed = s.Do(context.Background(), bench.Action{Verb: bench.Look, On: "pump"}); failed != nil {
			break
		}
	}
	require.ErrorIs(t, failed, errFull)
	size := w.n
	_, err = s.Do(context.Background(), bench.Action{Verb: bench.Look, On: "pump"})
	require.ErrorIs(t, err, errFull)
	require.Equal(t, size, w.n)
}

var errFull = errors.New("no room")

type full struct{ room, n int }

func (f *full) Write(p []byte) (int, error) {
	if f.n+len(p) > f.room {
		f.n = f.room
		return 0, errFull
	}
	f.n += len(p)
	return len(p), nil
}

func FuzzReadAttempt(f *testing.F) {
	f.Add(recorded(f, "look valve\nkey on"))
	f.Add([]byte("{}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := bench.ReadAttempt("a", bytes.NewReader(data))
		if err == nil && a.Good > int64(len(data)) {
			t.Fatal("more good bytes than bytes")
		}
	})
}
