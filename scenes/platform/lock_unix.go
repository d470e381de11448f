//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package platform

import (
	"errors"
	"os"
	"syscall"
)

// lockFile opens a file and locks it; the system lets go of the lock when the file is closed or the process is gone.
func lockFile(path string) (*os.File, error) {
	f, err := openLock(path)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	switch {
	case err == nil:
		return f, nil
	case errors.Is(err, syscall.EWOULDBLOCK):
		return nil, errors.Join(ErrElsewhere, f.Close())
	case errors.Is(err, syscall.ENOTSUP), errors.Is(err, syscall.ENOSYS), errors.Is(err, syscall.ENOLCK):
		return f, nil // a disk of a network that has no locks: one window must do as before
	default:
		return nil, errors.Join(err, f.Close())
	}
}
