package browserbay

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// sourceTree writes a module that looks like this one and whose bay is tiny, so
// that the build is tested with the real compiler in seconds.
func sourceTree(t *testing.T, module, bay string) string {
	t.Helper()
	root := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(root, "cmd", "bay"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, "go.mod"), []byte("module "+module+"\n\ngo 1.26.0\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(root, "cmd", "bay", "main.go"), []byte(bay), 0o644))
	return root
}

func TestBuild(t *testing.T) {
	root := sourceTree(t, "coldbay", "package main\n\nfunc main() { println(\"cold\") }\n")
	cache := filepath.Join(t.TempDir(), "cache")
	first, err := Build(context.Background(), root, cache)
	require.NoError(t, err)
	require.Contains(t, string(first.ExecJS), "globalThis.Go")

	r, err := gzip.NewReader(bytes.NewReader(first.WasmGzip))
	require.NoError(t, err)
	wasm, err := io.ReadAll(r)
	require.NoError(t, err)
	require.True(t, bytes.HasPrefix(wasm, []byte("\x00asm")))

	again, err := Build(context.Background(), root, cache)
	require.NoError(t, err)
	require.Equal(t, first.WasmGzip, again.WasmGzip)

	require.NoError(t, os.WriteFile(filepath.Join(root, "cmd", "bay", "main.go"),
		[]byte("package main\n\nfunc main() { println(\"colder\") }\n"), 0o644))
	changed, err := Build(context.Background(), root, cache)
	require.NoError(t, err)
	require.NotEqual(t, first.WasmGzip, changed.WasmGzip)
	kept, err := filepath.Glob(filepath.Join(cache, "bay-*.wasm.gz"))
	require.NoError(t, err)
	require.Len(t, kept, 1, "old builds are cleared away")

	// A cache file that lost its end is made again.
	require.NoError(t, os.Truncate(kept[0], 100))
	mended, err := Build(context.Background(), root, cache)
	require.NoError(t, err)
	require.Equal(t, changed.WasmGzip, mended.WasmGzip)
}

func TestBuildReportsTheCompiler(t *testing.T) {
	root := sourceTree(t, "coldbay", "package main\n\nfunc main() { cold }\n")
	_, err := Build(context.Background(), root, t.TempDir())
	require.ErrorContains(t, err, "build the browser bay")
	require.ErrorContains(t, err, "undefined: cold")
}

func TestBuildWithoutGo(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	_, err := Build(context.Background(), t.TempDir(), t.TempDir())
	require.ErrorIs(t, err, ErrNoGo)
}

func TestBuildStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Build(ctx, sourceTree(t, "coldbay", "package main\n\nfunc main() {}\n"), t.TempDir())
	require.ErrorIs(t, err, context.Canceled)
}

func TestFindSource(t *testing.T) {
	ours := sourceTree(t, "coldbay", "package main\n")
	foreign := sourceTree(t, "elsewhere", "package main\n")
	nowhere := t.TempDir()

	got, err := findSource([]string{filepath.Join(ours, "cmd", "bay")})
	require.NoError(t, err)
	require.Equal(t, ours, got)

	got, err = findSource([]string{nowhere, foreign, ours})
	require.NoError(t, err)
	require.Equal(t, ours, got)

	_, err = findSource([]string{nowhere, foreign})
	require.ErrorIs(t, err, ErrNoSource)

	require.NoError(t, os.RemoveAll(filepath.Join(ours, "cmd")))
	_, err = findSource([]string{ours})
	require.ErrorIs(t, err, ErrNoSource, "a tree without the bay can't build it")
}
