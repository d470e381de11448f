package browserbay

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// ErrNoSource means that this program carries no browser bay and can't find the
// source tree to build it from.
var ErrNoSource = errors.New("this build carries no browser bay, and its source tree was not found")

// FindSource returns the root of the source tree: the one around the working
// directory, or else the one that this program was compiled from.
func FindSource() (string, error) {
	var starts []string
	if wd, err := os.Getwd(); err == nil {
		starts = append(starts, wd)
	}
	// Not absolute when built with -trimpath, and gone when the tree was moved.
	if _, here, _, ok := runtime.Caller(0); ok && filepath.IsAbs(here) {
		starts = append(starts, filepath.Dir(here))
	}
	return findSource(starts)
}

// findSource looks in each directory and in those above it.
func findSource(starts []string) (string, error) {
	for _, dir := range starts {
		for {
			if isSource(dir) {
				return dir, nil
			}
			parent := filepath.Dir(dir)
			if parent == dir {
				break
			}
			dir = parent
		}
	}
	return "", ErrNoSource
}

// isSource reports whether dir is the root of module coldbay and holds the bay.
func isSource(dir string) bool {
	mod, err := os.ReadFile(filepath.Join(dir, "go.mod"))
	if err != nil {
		return false
	}
	for line := range strings.Lines(string(mod)) {
		if strings.TrimSpace(line) == "module coldbay" {
			info, err := os.Stat(filepath.Join(dir, "cmd", "bay"))
			return err == nil && info.IsDir()
		}
	}
	return false
}
