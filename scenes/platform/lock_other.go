//go:build !js && !windows && !linux && !darwin && !freebsd && !netbsd && !openbsd && !dragonfly

package platform

import "os"

// lockFile only opens the file: this system has no lock that the standard library knows.
func lockFile(path string) (*os.File, error) { return openLock(path) }
