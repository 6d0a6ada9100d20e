//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package filelock

import (
	"os"
	"syscall"
)

// Take takes the lock on an open file, or reports false where another process
// or handle has it. The system drops it when the file is closed or the process
// dies.
func Take(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
