package atomicfile

import (
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/sys/windows"
)

// A file that another program holds open stays as it was, and the error names it.
func TestAFileHeldOpenStays(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	put(t, path, "old", 0o600)
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		t.Fatal(err)
	}
	held, err := windows.CreateFile(name, windows.GENERIC_READ, windows.FILE_SHARE_READ, nil, windows.OPEN_EXISTING, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	err = Write(path, Options{}, text("new"))
	if err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v, want an error that names the file", err)
	}
	holds(t, path, "old")
	if got := names(t, dir); got != "a.txt" {
		t.Errorf("left in the folder: %s", got)
	}
	if err := windows.CloseHandle(held); err != nil {
		t.Fatal(err)
	}
	if err := Write(path, Options{}, text("new")); err != nil {
		t.Error(err)
	}
	holds(t, path, "new")
}
