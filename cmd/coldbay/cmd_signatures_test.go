package main

import (
	"bytes"
	"context"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

// A car of one's own is read without more ado.
func TestSignaturesOfAnOwnCar(t *testing.T) {
	var o, e bytes.Buffer
	p := Program{Stdout: &o, Stderr: &e}
	small := filepath.Join("..", "..", "scenarios", "testdata", "small", "cars", "car_e.yaml")
	require.Equal(t, exitOK, p.Run(context.Background(), []string{"signatures", small}), e.String())
	require.Contains(t, o.String(), "Signatures of Small car E (car_e)")
	require.Contains(t, o.String(), "valve_stuck: air valve stuck shut")
	require.Empty(t, e.String())
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
