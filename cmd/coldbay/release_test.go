package main

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

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

	dir := t.TempDir()
	dist := filepath.Join(here, "browserbay", "dist")
	replace := map[string]string{}
	for name, content := range map[string][]byte{"bay.wasm.gz": bay.WasmGzip, "wasm_exec.js": bay.ExecJS} {
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
