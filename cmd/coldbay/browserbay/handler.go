package browserbay

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strconv"
	"strings"
)

// contentPolicy lets the page run the files of this site and nothing else.
// 'wasm-unsafe-eval' is what browsers ask for before they compile WebAssembly,
// and nothing more; blob: is where the engine's sound output keeps the few lines
// that feed the sound card.
const contentPolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval' blob:; style-src 'self'; " +
	"img-src 'self' data: blob:; connect-src 'self'; media-src 'self' blob:; font-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// ServeHTTP serves the site from its root: "/" is the page, whatever its query
// says, and everything else is named by it.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", contentPolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "the bay is only read from", http.StatusMethodNotAllowed)
		return
	}
	f, ok := s.files[r.URL.Path]
	if !ok {
		http.NotFound(w, r)
		return
	}
	h.Set("Content-Type", f.contentType)
	h.Set("ETag", f.etag)
	if f.forever {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache") // keep it, but ask whether it is still current
	}
	if f.gzip != nil {
		h.Set("Vary", "Accept-Encoding")
	}
	if strings.Contains(r.Header.Get("If-None-Match"), f.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	f.send(w, r)
}

// send writes the body in a form that the client takes. A failed write means that
// the client went away, which is its business.
func (f file) send(w http.ResponseWriter, r *http.Request) {
	var body io.Reader
	size := f.size
	switch {
	case f.br != nil && accepts(r.Header.Get("Accept-Encoding"), "br"):
		w.Header().Set("Content-Encoding", "br")
		size, body = int64(len(f.br)), bytes.NewReader(f.br)
	case f.gzip != nil && accepts(r.Header.Get("Accept-Encoding"), "gzip"):
		w.Header().Set("Content-Encoding", "gzip")
		size, body = int64(len(f.gzip)), bytes.NewReader(f.gzip)
	case f.gzip != nil:
		unpacked, err := gzip.NewReader(bytes.NewReader(f.gzip))
		if err != nil {
			http.Error(w, "the bay's file is damaged", http.StatusInternalServerError)
			return
		}
		body = unpacked
	default:
		body = bytes.NewReader(f.plain)
	}
	w.Header().Set("Content-Length", strconv.FormatInt(size, 10))
	if r.Method == http.MethodGet {
		_, _ = io.Copy(w, body)
	}
}

// accepts tells whether an Accept-Encoding header (RFC 9110, 12.5.3) takes a coding. "*" stands for gzip alone: whoever
// writes it has hardly Brotli in mind.
func accepts(header, want string) bool {
	for part := range strings.SplitSeq(header, ",") {
		coding, params, _ := strings.Cut(strings.TrimSpace(part), ";")
		coding = strings.ToLower(strings.TrimSpace(coding))
		if coding != want && (coding != "*" || want != "gzip") {
			continue
		}
		weight, isWeight := strings.CutPrefix(strings.ReplaceAll(strings.ToLower(params), " ", ""), "q=")
		if !isWeight {
			return true
		}
		q, err := strconv.ParseFloat(weight, 64)
		return err != nil || q > 0
	}
	return false
}
