//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package planfile

import (
	"os"
	"syscall"
)

// lock takes the lock on an open file, or reports false where another process
// or handle has it. The system drops it when the file is closed or the process
// dies.
func lock(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
