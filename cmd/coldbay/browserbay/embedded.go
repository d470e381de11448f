//go:build release

package browserbay

import _ "embed"

// The files are written by `make release` before this program is compiled.
var (
	//go:embed dist/bay.wasm.gz
	embeddedWasm []byte
	//go:embed dist/bay.wasm.br
	embeddedBr []byte
	//go:embed dist/wasm_exec.js
	embeddedExec []byte
)

// Embedded reports whether this executable carries the browser bay.
func Embedded() bool { return true }

// FromEmbedded returns the site that this executable carries.
func FromEmbedded() (*Site, error) {
	return NewSite(Program{WasmGzip: embeddedWasm, WasmBr: embeddedBr, ExecJS: embeddedExec})
}
