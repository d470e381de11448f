package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

// serveBay runs the real program on a free port, as a person would, and returns
// the address that it printed. opened is what it does with the browser, nil for
// nothing. The program stops with the test and must then end well.
func serveBay(t *testing.T, opened func(string) error, args ...string) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	out, in := io.Pipe()
	var errs strings.Builder
	code := make(chan int, 1)
	go func() {
		p := Program{Stdin: strings.NewReader(""), Stdout: in, Stderr: &errs, OpenBrowser: opened}
		code <- p.Run(ctx, append([]string{"open", "--port", "0"}, args...))
		in.Close()
	}()
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		stop()
		require.Failf(t, "the bay was not served", "exit code %d\n%s", <-code, errs.String())
	}
	address, ok := strings.CutPrefix(lines.Text(), "The bay is open at ")
	require.True(t, ok, lines.Text())
	go func() { _, _ = io.Copy(io.Discard, out) }()
	t.Cleanup(func() {
		stop()
		require.Equal(t, exitOK, <-code, "exit code after Ctrl+C\n%s", errs.String())
	})
	return address
}

// shellTree writes a source tree whose bay is the stand-in under testdata.
func shellTree(t *testing.T) string {
	t.Helper()
	root := t.TempDir()
	main, err := os.ReadFile(filepath.Join("testdata", "shellbay", "main.go"))
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(filepath.Join(root, "cmd", "bay"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, "cmd", "bay", "main.go"), main, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(root, "go.mod"), []byte("module coldbay\n\ngo 1.26.0\n"), 0o644))
	return root
}

// shellSite builds the stand-in into a site of its own.
func shellSite(t *testing.T) *browserbay.Site {
	t.Helper()
	program, err := browserbay.Build(context.Background(), shellTree(t), t.TempDir())
	require.NoError(t, err)
	site, err := browserbay.NewSite(program)
	require.NoError(t, err)
	return site
}

// inShellTree works inside a tree of the stand-in, and keeps what is built for it
// out of the user's cache. The compiler's own cache stays where it is.
func inShellTree(t *testing.T) {
	t.Helper()
	goCache, err := exec.Command("go", "env", "GOCACHE").Output()
	require.NoError(t, err)
	t.Setenv("GOCACHE", strings.TrimSpace(string(goCache)))
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Chdir(shellTree(t))
}

// The whole way from the command line to the browser, with a bay that builds quickly.
func TestOpen(t *testing.T) {
	if browserbay.Embedded() {
		t.Skip("this build carries its bay and builds none")
	}
	inShellTree(t)

	opened := make(chan string, 1)
	address := serveBay(t, func(url string) error { opened <- url; return nil }, "--order", "order-1")
	require.Regexp(t, `^http://127\.0\.0\.1:\d+/\?order=order-1$`, address)
	require.Equal(t, address, <-opened)

	res, err := http.Get(address)
	require.NoError(t, err)
	defer res.Body.Close()
	require.Equal(t, http.StatusOK, res.StatusCode)
	page, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	m := regexp.MustCompile(`data-wasm="([^"]+)"`).FindSubmatch(page)
	require.NotNil(t, m)
	base, _, _ := strings.Cut(address, "/?")
	wasm, err := http.Get(base + string(m[1]))
	require.NoError(t, err)
	defer wasm.Body.Close()
	head := make([]byte, 4)
	_, err = io.ReadFull(wasm.Body, head)
	require.NoError(t, err)
	require.Equal(t, "\x00asm", string(head), "as the client unpacked it")
}

func TestOpenLeavesTheBrowserAlone(t *testing.T) {
	if browserbay.Embedded() {
		t.Skip("this build carries its bay and builds none")
	}
	inShellTree(t)
	serveBay(t, func(url string) error { t.Errorf("opened %s", url); return nil }, "--no-open")
	serveBay(t, func(string) error { return errNoDisplay })
}

// A port that is taken is learnt before anything is built.
func TestOpenPortTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	_, port, err := net.SplitHostPort(taken.Addr().String())
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	t.Setenv("PATH", "") // building would fail in another way

	var errs bytes.Buffer
	p := Program{Stdout: io.Discard, Stderr: &errs}
	require.Equal(t, exitFail, p.Run(context.Background(), []string{"--port", port}))
	require.Contains(t, errs.String(), "coldbay: error: listen on port "+port)
	require.Contains(t, errs.String(), "coldbay: hint: choose another port")
}

func TestOpenWithoutGo(t *testing.T) {
	if browserbay.Embedded() {
		t.Skip("this build carries its bay and needs no Go")
	}
	inShellTree(t)
	t.Setenv("PATH", t.TempDir())
	var errs bytes.Buffer
	p := Program{Stdout: io.Discard, Stderr: &errs}
	require.Equal(t, exitFail, p.Run(context.Background(), []string{"--port", "0"}))
	require.Contains(t, errs.String(), "no go command in the PATH")
	require.Contains(t, errs.String(), "coldbay: hint: install Go")
}

func TestPageAddress(t *testing.T) {
	for listen, want := range map[string]string{
		"127.0.0.1:8642": "http://127.0.0.1:8642/",
		"0.0.0.0:80":     "http://127.0.0.1:80/",
		"[::]:80":        "http://127.0.0.1:80/",
		"[::1]:9000":     "http://[::1]:9000/",
		"192.0.2.7:9000": "http://192.0.2.7:9000/",
	} {
		at, err := net.ResolveTCPAddr("tcp", listen)
		require.NoError(t, err)
		require.Equal(t, want, pageAddress(at, ""), listen)
	}
}
