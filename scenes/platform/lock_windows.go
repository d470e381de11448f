package platform

import (
	"errors"
	"os"
	"syscall"
)

// sharingViolation is the system's ERROR_SHARING_VIOLATION.
const sharingViolation = syscall.Errno(32)

// lockFile opens a file that nobody else may open meanwhile; the system lets go of it when it is closed or the process is gone.
func lockFile(path string) (*os.File, error) {
	p, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	const alone = 0 // shared with nobody
	h, err := syscall.CreateFile(p, syscall.GENERIC_READ|syscall.GENERIC_WRITE, alone, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if errors.Is(err, sharingViolation) {
		return nil, ErrElsewhere
	}
	if err != nil {
		return nil, err
	}
	return os.NewFile(uintptr(h), path), nil
}
