package browserbay

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"net/url"
	"path"
	"slices"
	"strings"
	text "text/template"

	"coldbay/assets/web"
)

// Program is one browser build, as it comes from the builder or the embedded files.
type Program struct {
	WasmGzip []byte // the bay for js/wasm, compressed with gzip
	WasmBr   []byte // the same compressed with Brotli; nil when that was not worth its time
	ExecJS   []byte // wasm_exec.js of the very Go release that built it
}

// Site is one complete browser bay, ready to be served. It never changes.
type Site struct {
	files map[string]file // by URL path

	wasmPath string

	// WasmBytes, WasmGzipBytes and WasmBrBytes are the size of the program, before
	// compression and as it is sent; WasmBrBytes is 0 without that form.
	WasmBytes, WasmGzipBytes, WasmBrBytes int64
}

// file is one thing the site serves. Text is small and sent as it is; only the
// program is kept compressed.
type file struct {
	contentType string
	plain       []byte // nil when only the compressed form is kept
	gzip, br    []byte // nil when it isn't worth it
	size        int64  // before compression
	etag        string
	forever     bool // the name holds the digest of the content
}

// NewSite puts the pieces of a site together.
func NewSite(p Program) (*Site, error) {
	size, forms, err := formsOf(p)
	if err != nil {
		return nil, err
	}
	told, err := json.Marshal(forms)
	if err != nil {
		return nil, fmt.Errorf("tell the page what it fetches: %w", err)
	}
	s := &Site{files: map[string]file{}, WasmBytes: size, WasmGzipBytes: int64(len(p.WasmGzip)), WasmBrBytes: int64(len(p.WasmBr))}
	page := struct {
		Style, Loader, Exec, Wasm, Icon string
		WasmBytes                       int64
		WasmForms                       string
	}{
		Style:     s.addText("shell.css", web.Style()),
		Loader:    s.addText("shell.js", web.Loader()),
		Exec:      s.addText("wasm_exec.js", p.ExecJS),
		Icon:      s.addText("icon.svg", web.Icon()),
		WasmBytes: size,
		WasmForms: string(told),
	}
	page.Wasm = s.add(hashedName("bay.wasm", p.WasmGzip), file{
		contentType: "application/wasm",
		gzip:        p.WasmGzip,
		br:          p.WasmBr,
		size:        size,
		forever:     true,
	})
	s.wasmPath = page.Wasm
	shell, err := template.New("page").Parse(string(web.Page()))
	if err != nil {
		return nil, fmt.Errorf("read the page shell: %w", err)
	}
	var html bytes.Buffer
	if err := shell.Execute(&html, page); err != nil {
		return nil, fmt.Errorf("fill in the page shell: %w", err)
	}
	index := file{contentType: "text/html; charset=utf-8", plain: html.Bytes(), size: int64(html.Len())}
	index.etag = etagOf(html.Bytes())
	s.add("", index)
	if err := s.addWorker(index.etag); err != nil {
		return nil, err
	}
	return s, nil
}

// addWorker adds the service worker, which keeps all other files. It has a fixed name, because that is how browsers find its next version.
func (s *Site) addWorker(version string) error {
	var names []string
	for name := range s.files {
		if name != "/" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	list, err := json.Marshal(names)
	if err != nil {
		return fmt.Errorf("list the site's files: %w", err)
	}
	worker, err := text.New("worker").Parse(string(web.Worker()))
	if err != nil {
		return fmt.Errorf("read the service worker: %w", err)
	}
	var js bytes.Buffer
	if err := worker.Execute(&js, struct{ Version, Files string }{strings.Trim(version, `"`), string(list)}); err != nil {
		return fmt.Errorf("fill in the service worker: %w", err)
	}
	s.add("worker.js", file{contentType: textType(".js"), plain: js.Bytes(), size: int64(js.Len()), etag: etagOf(js.Bytes())})
	return nil
}

// PagePath is the path and query that open the bay: its first page, or straight
// the work order with the given id.
func PagePath(order string) string {
	if order == "" {
		return "/"
	}
	return "/?order=" + url.QueryEscape(order)
}

// WasmPath is the URL path of the program. It names this build: another has another.
func (s *Site) WasmPath() string { return s.wasmPath }

// addText adds a file under a name that holds its digest and returns its URL.
func (s *Site) addText(name string, content []byte) string {
	return s.add(hashedName(name, content), file{
		contentType: textType(path.Ext(name)),
		plain:       content,
		size:        int64(len(content)),
		forever:     true,
	})
}

// add returns the URL path under which f is now served.
func (s *Site) add(name string, f file) string {
	if f.etag == "" {
		f.etag = `"` + name + `"`
	}
	s.files["/"+name] = f
	return "/" + name
}

// textType names the media type of an extension. The system's own table isn't
// asked: on some machines it calls scripts plain text, and nosniff then stops them.
func textType(ext string) string {
	switch ext {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	}
	return "text/plain; charset=utf-8"
}

// hashedName puts a digest of content before the extension: shell.0123456789ab.css.
func hashedName(name string, content []byte) string {
	ext := path.Ext(name)
	return name[:len(name)-len(ext)] + "." + digest(content) + ext
}

func etagOf(content []byte) string { return `"` + digest(content) + `"` }

// digest is long enough that two builds never share a name by accident.
func digest(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:8])
}
