package beside

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

func names(t *testing.T, dir string) string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

func TestReplace(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	for _, want := range []string{"first", "second"} {
		if err := Replace(path, text(want)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != want {
			t.Errorf("got %q, %v, want %q", got, err, want)
		}
	}
	own := errors.New("out of ink")
	if err := Replace(path, func(w io.Writer) error { _ = text("half")(w); return own }); err != own {
		t.Errorf("got %v, want the writer's own error", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "second" {
		t.Errorf("after a failure the file is %q, want it as it was", got)
	}
	if got := names(t, dir); got != "a.txt" {
		t.Errorf("left in the folder: %s", got)
	}
}

// TestFaultsNameTheFileThatWasMeant and never the one that comes and goes.
func TestFaultsNameTheFileThatWasMeant(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	folder := filepath.Join(dir, "folder.txt")
	if err := os.MkdirAll(filepath.Join(folder, "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{filepath.Join(dir, "none", "a.txt"), folder} {
		err := Replace(path, text("x"))
		if err == nil || !strings.HasPrefix(err.Error(), path+" was not written: ") || strings.Contains(err.Error(), ".tmp") {
			t.Errorf("%s: got %v", path, err)
		}
	}
	if err := Replace(filepath.Join(dir, "none", "a.txt"), text("x")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("got %v, want it to wrap that the folder does not exist", err)
	}
	if got := names(t, dir); got != "folder.txt" {
		t.Errorf("left in the folder: %s", got)
	}
}
