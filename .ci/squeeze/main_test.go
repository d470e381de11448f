package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"
)

// What was compressed unpacks to what it was.
func TestBothForms(t *testing.T) {
	name := filepath.Join(t.TempDir(), "f")
	want := bytes.Repeat([]byte("air and vacuum "), 4000)
	require.NoError(t, os.WriteFile(name, want, 0o644))
	require.NoError(t, run(name, io.Discard))
	for ending, open := range map[string]func(io.Reader) (io.Reader, error){
		".gz": func(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) },
		".br": func(r io.Reader) (io.Reader, error) { return brotli.NewReader(r), nil },
	} {
		small, err := os.ReadFile(name + ending)
		require.NoError(t, err)
		require.Less(t, len(small), len(want)/20)
		r, err := open(bytes.NewReader(small))
		require.NoError(t, err)
		got, err := io.ReadAll(r)
		require.NoError(t, err)
		require.Equal(t, want, got, ending)
	}
	require.Error(t, run(filepath.Join(t.TempDir(), "none"), io.Discard))
}
