//go:build !release

package browserbay

// Embedded reports whether this executable carries the browser bay.
func Embedded() bool { return false }

// FromEmbedded returns the site that this executable carries: none, without the
// build tag release.
func FromEmbedded() (*Site, error) { return nil, ErrNoSource }
