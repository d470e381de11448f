package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

// A car of one's own is read where a built-in car is, and told apart from one that has nothing there.
func TestSignaturesOfAnOwnCar(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "scenarios", "cars", "car_b.yaml"))
	require.NoError(t, err)
	mine := filepath.Join(t.TempDir(), "mine.yaml")
	require.NoError(t, os.WriteFile(mine, []byte(strings.Replace(string(data), "id: car_b", "id: mine", 1)), 0o644))
	run := func(args ...string) (code int, out, errs string) {
		var o, e bytes.Buffer
		p := Program{Stdout: &o, Stderr: &e}
		code = p.Run(context.Background(), append([]string{"signatures", mine, "--fault", "inlet_off"}, args...))
		return code, o.String(), e.String()
	}
	code, out, errs := run()
	require.Equal(t, exitUsage, code)
	require.Empty(t, out)
	require.Contains(t, errs, `nobody told where to read "mine"`)
	require.Contains(t, errs, "--like car_a")

	code, out, errs = run("--like", "car_b")
	require.Equal(t, exitOK, code, errs)
	require.Contains(t, out, "(mine)")
	require.Contains(t, out, "inlet_off: inlet hose off")

	code, _, errs = run("--like", "car_a")
	require.Equal(t, exitFail, code)
	require.Contains(t, errs, "signatures of mine: sound car, cold run: no ")
}

// Everything is done once, by whichever processor.
func TestAtOnceDoesAll(t *testing.T) {
	var done [100]atomic.Int32
	atOnce(len(done), func(i int) { done[i].Add(1) })
	for i := range done {
		require.EqualValues(t, 1, done[i].Load(), i)
	}
	atOnce(0, func(int) { t.Error("nothing to do") })
}

// A table that is given up is no table.
func TestSignaturesEndWithTheirContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var o, e bytes.Buffer
	p := Program{Stdout: &o, Stderr: &e}
	require.Equal(t, exitFail, p.Run(ctx, []string{"signatures", "car_d"}))
	require.Empty(t, o.String())
	require.Contains(t, e.String(), "context canceled")
}
