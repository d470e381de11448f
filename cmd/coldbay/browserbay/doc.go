// Package browserbay makes the browser build of the bay and serves it.
//
// A [Site] is everything that one build of the bay consists of: the page shell,
// the loader script, Go's own support script and the compressed program. It is
// complete in memory before the first request, never changes, and is an
// [http.Handler] that any server can mount. Files are named by a digest of their
// content, so browsers keep them for good and a new build never meets an old part.
//
// The program comes from one of two places. [FromSource] builds it with the Go
// toolchain of the machine and keeps the result in the user's cache directory;
// the toolchain's own build cache decides what is out of date. [FromEmbedded]
// takes it from the executable, where `make release` has put it (build tag
// release).
package browserbay
