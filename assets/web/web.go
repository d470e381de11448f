// Package web holds the page that the browser bay starts in: the shell around the
// engine's canvas. It shows how far the download is, says in plain HTML why the bay
// can't start where it can't, and holds the region in which the bay mirrors its
// controls for screen readers and for tests.
//
// What the page gives the program:
//
//   - the element with id "mirror", visually hidden and empty: the bay writes its
//     controls into it as plain HTML. The first thing written there tells the shell
//     that the bay is up, and the shell takes its own panel away.
//   - the element with id "live", a polite live region: paragraphs put into it are
//     read out once each.
//   - the query of the page (?order=ID) in location.search, untouched.
//
// The page is a template: the server fills in the names of the files, which hold
// digests of their content, and the size of the program before compression, since
// a browser doesn't tell a page how much of a compressed download there will be.
package web

import _ "embed"

var (
	//go:embed index.html
	page []byte
	//go:embed shell.css
	style []byte
	//go:embed shell.js
	loader []byte
	//go:embed icon.svg
	icon []byte
	//go:embed worker.js
	worker []byte
)

// Page is the page as an html/template with the fields Style, Loader, Exec, Wasm,
// Icon (URLs) and WasmBytes (bytes before compression).
func Page() []byte { return page }

// Style is the page's style sheet.
func Style() []byte { return style }

// Loader is the script that fetches and starts the program.
func Loader() []byte { return loader }

// Icon is the page's icon, an SVG drawing.
func Icon() []byte { return icon }

// Worker is the service worker as a text/template with the fields Version (names
// this build) and Files (a JavaScript list of all URLs but the page's own).
func Worker() []byte { return worker }
