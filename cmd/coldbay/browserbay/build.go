package browserbay

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// ErrNoGo means that the bay has to be built and no Go toolchain was found.
var ErrNoGo = errors.New("the browser bay has to be built, and there is no go command in the PATH")

// FromSource builds the browser bay of the source tree that this program runs in
// or was built from, and returns it as a site. An unchanged tree costs what the go
// command needs to find that out. The error is [ErrNoSource] where there is no
// tree, [ErrNoGo] where there is no toolchain, and else what the compiler said.
func FromSource(ctx context.Context) (*Site, error) {
	root, err := FindSource()
	if err != nil {
		return nil, err
	}
	cache, err := cacheFor(root)
	if err != nil {
		return nil, err
	}
	program, err := Build(ctx, root, cache)
	if err != nil {
		return nil, err
	}
	return NewSite(program)
}

// cacheFor is the directory where builds of one source tree are kept. Two trees
// have two, so that they don't undo each other's work.
func cacheFor(root string) (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("find the cache directory: %w", err)
	}
	return filepath.Join(base, "coldbay", "bay-"+digest([]byte(root))), nil
}

// Build compiles cmd/bay of the source tree at root for the browser, keeping the
// result in the directory cache, which it makes.
func Build(ctx context.Context, root, cache string) (Program, error) {
	goCommand, err := exec.LookPath("go")
	if err != nil {
		return Program{}, ErrNoGo
	}
	// The linker's file appears under its name by a rename when the go command's
	// work directory is beside it, so another run never reads half of it.
	work := filepath.Join(cache, "work")
	if err := os.MkdirAll(work, 0o755); err != nil {
		return Program{}, fmt.Errorf("make the cache directory: %w", err)
	}
	wasmFile := filepath.Join(cache, "bay.wasm")
	build := exec.CommandContext(ctx, goCommand, "build",
		// Debugging tables and paths would only be downloaded; a commit stamp would
		// make every commit a new program.
		"-trimpath", "-buildvcs=false", "-ldflags=-s -w",
		"-o", wasmFile, "./cmd/bay")
	build.Dir = root
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOTMPDIR="+work)
	// An interrupt lets the go command clean up; where there are no interrupts, or
	// it doesn't listen, it is killed.
	build.Cancel = func() error { return build.Process.Signal(os.Interrupt) }
	build.WaitDelay = 5 * time.Second
	if out, err := build.CombinedOutput(); err != nil {
		return Program{}, fmt.Errorf("build the browser bay: %w\n%s", err, bytes.TrimSpace(out))
	}
	wasm, err := os.ReadFile(wasmFile)
	if err != nil {
		return Program{}, fmt.Errorf("read the browser bay: %w", err)
	}
	compressed, err := compressOnce(wasm, cache)
	if err != nil {
		return Program{}, err
	}
	execJS, err := supportScript(ctx, goCommand, root)
	if err != nil {
		return Program{}, err
	}
	return Program{WasmGzip: compressed, ExecJS: execJS}, nil
}

// compressOnce returns wasm under gzip, remembering the last result by digest.
func compressOnce(wasm []byte, cache string) ([]byte, error) {
	const prefix, suffix = "bay-", ".wasm.gz"
	name := filepath.Join(cache, prefix+digest(wasm)+suffix)
	if kept, err := os.ReadFile(name); err == nil {
		if size, err := gunzippedSize(kept); err == nil && size == int64(len(wasm)) {
			return kept, nil
		}
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, fmt.Errorf("compress the browser bay: %w", err)
	}
	if _, err := w.Write(wasm); err != nil {
		return nil, fmt.Errorf("compress the browser bay: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("compress the browser bay: %w", err)
	}
	if old, err := filepath.Glob(filepath.Join(cache, prefix+"*"+suffix)); err == nil {
		for _, f := range old {
			_ = os.Remove(f) // a leftover costs only space
		}
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		return nil, fmt.Errorf("keep the compressed bay: %w", err)
	}
	return b.Bytes(), nil
}

// supportScript reads wasm_exec.js from the toolchain that compiles the tree at
// root: script and compiler must be of one release.
func supportScript(ctx context.Context, goCommand, root string) ([]byte, error) {
	env := exec.CommandContext(ctx, goCommand, "env", "GOROOT")
	env.Dir = root
	out, err := env.Output()
	if err != nil {
		return nil, fmt.Errorf("ask for GOROOT: %w", err)
	}
	script, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, fmt.Errorf("read Go's support script for browsers: %w", err)
	}
	return script, nil
}

// gunzippedSize reads the whole stream once. The size field at the end of a gzip
// file would be quicker but would let a damaged file through to the browser.
func gunzippedSize(compressed []byte) (int64, error) {
	r, err := gzip.NewReader(bytes.NewReader(compressed))
	if err != nil {
		return 0, err
	}
	return io.Copy(io.Discard, r)
}
