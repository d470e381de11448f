//go:build !js

package platform

import (
	"context"
	"errors"
	"fmt"
	"os"
)

const claimSuffix = ".lock"

// Claim takes an attempt for this window, so that no second one writes it meanwhile: until release is called or the program ends, however it
// ends. ErrElsewhere when another window has it. The file that carries the claim stays; it is empty and says nothing by being there.
func Claim(_ context.Context, name string) (release func(), err error) {
	path, err := pathOf(name)
	if err != nil {
		return nil, err
	}
	f, err := lockFile(path + claimSuffix)
	if errors.Is(err, ErrElsewhere) {
		return nil, err
	}
	if err != nil {
		return nil, fmt.Errorf("claim attempt %s: %w", name, err)
	}
	return func() { _ = f.Close() }, nil // nothing was written to it
}

func openLock(path string) (*os.File, error) { return os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o644) }
