//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows

package filelock_test

import (
	"os"
	"path/filepath"
	"testing"

	"legwright/mapio/filelock"
)

// One handle alone has the lock, until it is closed.
func TestOneHandleHasTheLock(t *testing.T) {
	t.Parallel()
	name := filepath.Join(t.TempDir(), "a.lock")
	open := func() *os.File {
		f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o600)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = f.Close() })
		return f
	}
	first, second := open(), open()
	if !filelock.Take(first) || filelock.Take(second) {
		t.Error("a lock is not taken, or taken twice")
	}
	_ = first.Close()
	if !filelock.Take(second) {
		t.Error("the lock is not free once its file is closed")
	}
}
