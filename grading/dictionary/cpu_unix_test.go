//go:build unix

package dictionary

import (
	"syscall"
	"time"
)

// usedCPU is the time that all threads of this process have run, so that a busy machine does not spoil a figure.
func usedCPU() time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
