package filelock

import (
	"os"

	"golang.org/x/sys/windows"
)

// Take takes the lock on an open file, or reports false where another process
// or handle has it. The system drops it when the file is closed or the process
// dies.
func Take(f *os.File) bool {
	const flags = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	return windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, 1, 0, new(windows.Overlapped)) == nil
}
