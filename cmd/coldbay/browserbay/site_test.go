package browserbay

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"
)

// program is what a WebAssembly file starts with (WebAssembly core specification
// 1.0, 5.5.16), and then text that compresses.
var program = append([]byte("\x00asm\x01\x00\x00\x00"), bytes.Repeat([]byte("cold bay "), 1000)...)

func zipped(t *testing.T, content []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write(content)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.Bytes()
}

func startSite(t *testing.T) (*Site, *httptest.Server) {
	t.Helper()
	site, err := NewSite(Program{WasmGzip: zipped(t, program), ExecJS: []byte("class Go {}")})
	require.NoError(t, err)
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	return site, server
}

// ask sends one request as it stands: no client that adds or undoes compression.
func ask(t *testing.T, method, url string, header map[string]string) (*http.Response, []byte) {
	t.Helper()
	req, err := http.NewRequest(method, url, nil)
	require.NoError(t, err)
	for k, v := range header {
		req.Header.Set(k, v)
	}
	client := http.Client{Transport: &http.Transport{DisableCompression: true, DisableKeepAlives: true}}
	res, err := client.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	return res, body
}

// wasmPath reads the program's address off the page, as the loader does.
func wasmPath(t *testing.T, server *httptest.Server) (path string, bytesBefore int) {
	t.Helper()
	_, page := ask(t, http.MethodGet, server.URL+"/", nil)
	m := regexp.MustCompile(`data-wasm="([^"]+)" data-wasm-bytes="(\d+)"`).FindSubmatch(page)
	require.NotNil(t, m, "no program named in %s", page)
	n, err := strconv.Atoi(string(m[2]))
	require.NoError(t, err)
	return string(m[1]), n
}

func TestPage(t *testing.T) {
	_, server := startSite(t)
	for _, address := range []string{"/", PagePath("vacuum line/1")} {
		res, body := ask(t, http.MethodGet, server.URL+address, nil)
		require.Equal(t, http.StatusOK, res.StatusCode, address)
		require.Equal(t, "text/html; charset=utf-8", res.Header.Get("Content-Type"))
		require.Equal(t, "no-cache", res.Header.Get("Cache-Control"))
		require.Equal(t, strconv.Itoa(len(body)), res.Header.Get("Content-Length"))
		require.NotContains(t, string(body), "{{")
		require.NotContains(t, string(body), " style=", "the policy stops inline styles")
		for _, id := range []string{`id="mirror"`, `id="live"`, `aria-live="polite"`, "<noscript>", "For training only"} {
			require.Contains(t, string(body), id)
		}
	}
	require.Equal(t, "/?order=vacuum+line%2F1", PagePath("vacuum line/1"))
}

func TestEveryFileThePageNames(t *testing.T) {
	_, server := startSite(t)
	_, page := ask(t, http.MethodGet, server.URL+"/", nil)
	types := map[string]string{
		".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml",
	}
	found := regexp.MustCompile(`(?:src|href)="(/[^"]+)"`).FindAllSubmatch(page, -1)
	require.Len(t, found, 4)
	for _, m := range found {
		name := string(m[1])
		require.Regexp(t, `^/[a-z_]+\.[0-9a-f]{16}\.[a-z]+$`, name)
		res, body := ask(t, http.MethodGet, server.URL+name, nil)
		require.Equal(t, http.StatusOK, res.StatusCode, name)
		require.Equal(t, types[name[strings.LastIndex(name, "."):]], res.Header.Get("Content-Type"), name)
		require.Equal(t, "public, max-age=31536000, immutable", res.Header.Get("Cache-Control"), name)
		require.NotEmpty(t, body, name)
	}
}

func TestProgramCompressed(t *testing.T) {
	site, server := startSite(t)
	path, size := wasmPath(t, server)
	require.Equal(t, len(program), size)
	require.EqualValues(t, len(program), site.WasmBytes)
	require.Equal(t, site.WasmPath(), path)

	res, body := ask(t, http.MethodGet, server.URL+path, map[string]string{"Accept-Encoding": "br, gzip"})
	require.Equal(t, "application/wasm", res.Header.Get("Content-Type"))
	require.Equal(t, "gzip", res.Header.Get("Content-Encoding"))
	require.Equal(t, "Accept-Encoding", res.Header.Get("Vary"))
	require.Equal(t, "public, max-age=31536000, immutable", res.Header.Get("Cache-Control"))
	require.EqualValues(t, site.WasmGzipBytes, res.ContentLength)
	unpacked, err := gzip.NewReader(bytes.NewReader(body))
	require.NoError(t, err)
	got, err := io.ReadAll(unpacked)
	require.NoError(t, err)
	require.Equal(t, program, got)
}

func TestProgramForClientsWithoutGzip(t *testing.T) {
	_, server := startSite(t)
	path, _ := wasmPath(t, server)
	for _, accept := range []string{"", "br", "gzip;q=0", "identity"} {
		res, body := ask(t, http.MethodGet, server.URL+path, map[string]string{"Accept-Encoding": accept})
		require.Empty(t, res.Header.Get("Content-Encoding"), accept)
		require.EqualValues(t, len(program), res.ContentLength, accept)
		require.Equal(t, program, body, accept)
	}
}

// What a browser gets that takes both.
func TestProgramUnderBrotli(t *testing.T) {
	var small bytes.Buffer
	w := brotli.NewWriterLevel(&small, brotli.BestCompression)
	_, err := w.Write(program)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	site, err := NewSite(Program{WasmGzip: zipped(t, program), WasmBr: small.Bytes()})
	require.NoError(t, err)
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	path, size := wasmPath(t, server)
	require.Equal(t, len(program), size)
	for accept, want := range map[string]string{"gzip, deflate, br, zstd": "br", "br;q=0, gzip": "gzip", "*": "gzip", "": ""} {
		res, body := ask(t, http.MethodGet, server.URL+path, map[string]string{"Accept-Encoding": accept})
		require.Equal(t, want, res.Header.Get("Content-Encoding"), accept)
		require.EqualValues(t, len(body), res.ContentLength, accept)
		var got io.Reader = bytes.NewReader(body)
		switch want {
		case "br":
			got = brotli.NewReader(got)
			require.EqualValues(t, site.WasmBrBytes, len(body))
		case "gzip":
			got, err = gzip.NewReader(got)
			require.NoError(t, err)
		}
		unpacked, err := io.ReadAll(got)
		require.NoError(t, err, accept)
		require.Equal(t, program, unpacked, accept)
	}
	_, err = NewSite(Program{WasmGzip: zipped(t, program), WasmBr: small.Bytes()[:small.Len()-3]})
	require.Error(t, err, "cut off")
	_, err = NewSite(Program{WasmGzip: zipped(t, program[:99]), WasmBr: small.Bytes()})
	require.ErrorContains(t, err, "99 bytes under gzip")
}

// The service worker names every file that the page needs, and has another content when one of them has.
func TestWorker(t *testing.T) {
	_, server := startSite(t)
	res, worker := ask(t, http.MethodGet, server.URL+"/worker.js", nil)
	require.Equal(t, "text/javascript; charset=utf-8", res.Header.Get("Content-Type"))
	require.Equal(t, "no-cache", res.Header.Get("Cache-Control"))
	require.NotContains(t, string(worker), "{{")
	_, page := ask(t, http.MethodGet, server.URL+"/", nil)
	for _, m := range regexp.MustCompile(`(?:src|href|data-wasm)="(/[^"]+)"`).FindAllSubmatch(page, -1) {
		require.Contains(t, string(worker), strconv.Quote(string(m[1])))
	}
	other, err := NewSite(Program{WasmGzip: zipped(t, []byte("another")), ExecJS: []byte("class Go {}")})
	require.NoError(t, err)
	second := httptest.NewServer(other)
	defer second.Close()
	_, next := ask(t, http.MethodGet, second.URL+"/worker.js", nil)
	version := regexp.MustCompile(`"coldbay-[0-9a-f]{16}"`)
	require.NotEmpty(t, version.Find(worker))
	require.NotEqual(t, string(version.Find(worker)), string(version.Find(next)))
}

func TestAcceptsGzip(t *testing.T) {
	for header, want := range map[string]bool{
		"gzip": true, "GZIP": true, "*": true, "br;q=1.0, gzip;q=0.5": true, "gzip ; q=0.1": true,
		"": false, "br": false, "gzip;q=0": false, "gzip; q=0.000": false, "xgzip": false,
	} {
		require.Equal(t, want, accepts(header, "gzip"), "Accept-Encoding: %s", header)
	}
}

func TestPolicyAndRefusals(t *testing.T) {
	_, server := startSite(t)
	path, _ := wasmPath(t, server)
	requests := []struct {
		method, path string
		status       int
	}{
		{http.MethodGet, "/", http.StatusOK},
		{http.MethodHead, path, http.StatusOK},
		{http.MethodPost, "/", http.StatusMethodNotAllowed},
		{http.MethodGet, "/nothing", http.StatusNotFound},
		{http.MethodGet, "/bay.wasm", http.StatusNotFound},
		{http.MethodGet, "/../site.go", http.StatusNotFound},
	}
	for _, r := range requests {
		res, body := ask(t, r.method, server.URL+r.path, nil)
		require.Equal(t, r.status, res.StatusCode, r.path)
		policy := res.Header.Get("Content-Security-Policy")
		require.Contains(t, policy, "default-src 'none'")
		require.Contains(t, policy, "frame-ancestors 'none'")
		require.NotContains(t, policy, "'unsafe-inline'")
		require.NotContains(t, policy, "'unsafe-eval'")
		require.Equal(t, "nosniff", res.Header.Get("X-Content-Type-Options"))
		if r.method == http.MethodHead {
			require.Empty(t, body)
			require.Positive(t, res.ContentLength)
		}
	}
}

func TestUnchangedIsNotSentAgain(t *testing.T) {
	_, server := startSite(t)
	res, _ := ask(t, http.MethodGet, server.URL+"/", nil)
	tag := res.Header.Get("ETag")
	require.NotEmpty(t, tag)
	res, body := ask(t, http.MethodGet, server.URL+"/", map[string]string{"If-None-Match": tag})
	require.Equal(t, http.StatusNotModified, res.StatusCode)
	require.Empty(t, body)
	res, _ = ask(t, http.MethodGet, server.URL+"/", map[string]string{"If-None-Match": `"another"`})
	require.Equal(t, http.StatusOK, res.StatusCode)
}

// A new program has a new name, so that a browser can't run the old one from its cache.
func TestNewProgramNewName(t *testing.T) {
	name := func(content string) string {
		site, err := NewSite(Program{WasmGzip: zipped(t, []byte(content))})
		require.NoError(t, err)
		server := httptest.NewServer(site)
		defer server.Close()
		path, _ := wasmPath(t, server)
		return path
	}
	require.NotEqual(t, name("one"), name("two"))
	require.Equal(t, name("one"), name("one"))
}

func TestDamagedProgram(t *testing.T) {
	whole := zipped(t, program)
	for name, damaged := range map[string][]byte{
		"empty": nil, "not gzip": program, "cut off": whole[:len(whole)-9],
	} {
		_, err := NewSite(Program{WasmGzip: damaged})
		require.ErrorContains(t, err, "read the compressed bay", name)
	}
}
