package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

// A release carries its bay: it serves it with no Go and no source tree in reach.
// The bay is the stand-in, laid over the files that `make release` would write.
func TestReleaseCarriesItsBay(t *testing.T) {
	here, err := os.Getwd()
	require.NoError(t, err)
	bay, err := browserbay.Build(context.Background(), shellTree(t), t.TempDir())
	require.NoError(t, err)

	var squeezed bytes.Buffer
	wasm, err := gzip.NewReader(bytes.NewReader(bay.WasmGzip))
	require.NoError(t, err)
	small := brotli.NewWriterLevel(&squeezed, brotli.BestSpeed)
	_, err = io.Copy(small, wasm)
	require.NoError(t, err)
	require.NoError(t, small.Close())

	dir := t.TempDir()
	dist := filepath.Join(here, "browserbay", "dist")
	replace := map[string]string{}
	for name, content := range map[string][]byte{"bay.wasm.gz": bay.WasmGzip, "bay.wasm.br": squeezed.Bytes(), "wasm_exec.js": bay.ExecJS} {
		written := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(written, content, 0o644))
		replace[filepath.Join(dist, name)] = written
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	require.NoError(t, err)
	overlayFile := filepath.Join(dir, "overlay.json")
	require.NoError(t, os.WriteFile(overlayFile, overlay, 0o644))

	program := filepath.Join(dir, "coldbay.exe") // the ending is for Windows, and does no harm elsewhere
	build := exec.Command("go", "build", "-tags", "release", "-overlay", overlayFile, "-buildvcs=false", "-trimpath",
		"-ldflags", "-X main.buildVersion=v9.8.7", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	out, err := build.CombinedOutput()
	require.NoError(t, err, "%s", out)

	alone := func(args ...string) *exec.Cmd {
		cmd := exec.Command(program, args...)
		cmd.Dir = dir
		cmd.Env = []string{"PATH=", "HOME=" + dir}
		return cmd
	}
	out, err = alone("version", "--json").Output()
	require.NoError(t, err)
	var v versionInfo
	require.NoError(t, json.Unmarshal(out, &v))
	require.Equal(t, "v9.8.7", v.Version)
	require.Equal(t, "embedded", v.Bay)

	open := alone("open", "--port", "0", "--no-open")
	said, err := open.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, open.Start())
	defer func() {
		_ = open.Process.Kill()
		_ = open.Wait()
	}()
	line, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	address, ok := strings.CutPrefix(strings.TrimSpace(line), "The bay is open at ")
	require.True(t, ok, line)
	res, err := http.Get(address)
	require.NoError(t, err)
	defer res.Body.Close()
	page, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	want, err := browserbay.NewSite(bay)
	require.NoError(t, err)
	require.Contains(t, string(page), want.WasmPath())
}

// The release that `make release` has just built for this system serves its bay, with no Go and no source tree in reach, in the forms
// that browsers ask for. COLDBAY_RELEASE names the file.
func TestBuiltRelease(t *testing.T) {
	program := os.Getenv("COLDBAY_RELEASE")
	if program == "" {
		t.Skip("for `make release`, which names the file that it has built")
	}
	dir := t.TempDir()
	open := exec.Command(program, "open", "--port", "0", "--no-open")
	open.Dir, open.Env = dir, []string{"PATH=", "HOME=" + dir}
	said, err := open.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, open.Start())
	t.Cleanup(func() {
		_ = open.Process.Kill()
		_ = open.Wait()
	})
	line, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	address, ok := strings.CutPrefix(strings.TrimSpace(line), "The bay is open at ")
	require.True(t, ok, line)

	get := func(path, accept string) (*http.Response, []byte) {
		req, err := http.NewRequest(http.MethodGet, strings.TrimSuffix(address, "/")+path, nil)
		require.NoError(t, err)
		req.Header.Set("Accept-Encoding", accept)
		res, err := http.DefaultTransport.RoundTrip(req)
		require.NoError(t, err)
		defer res.Body.Close()
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, res.StatusCode, path)
		return res, body
	}
	_, page := get("/", "identity")
	wasm := regexp.MustCompile(`data-wasm="([^"]+)" data-wasm-bytes="(\d+)"`).FindSubmatch(page)
	require.NotNil(t, wasm)
	size, err := strconv.Atoi(string(wasm[2]))
	require.NoError(t, err)
	for _, form := range []string{"br", "gzip"} {
		res, body := get(string(wasm[1]), form)
		require.Equal(t, form, res.Header.Get("Content-Encoding"))
		t.Logf("the bay: %d bytes, %d as %s", size, len(body), form)
		require.Less(t, len(body), size/2)
	}
	_, worker := get("/worker.js", "identity")
	require.Contains(t, string(worker), string(wasm[1]))

	b := startBrowser(t)
	b.open(address)
	b.waitMirror("Each card is a car with a complaint")
}
