//go:build unix

package headless

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A named pipe in place of any file makes nobody wait: nothing
// ever writes to this one.
func TestNamedPipesAreRefused(t *testing.T) {
	t.Parallel()
	pipe := filepath.Join(t.TempDir(), "pipe.png")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip("this system makes no named pipes")
	}
	for _, args := range [][]string{
		{"picture", pipe},
		{"locate", "--picture", pipe},
		{"find-grid", "--picture", pipe},
		{"fit", "--grid", "EPSG:27700", "--points", pipe},
		{"gridref", "--grid", "@" + pipe},
		{"legs", pipe},
		{"export", pipe, "--gpx", pipe + ".gpx"},
	} {
		o := run(t, "", args...)
		if o.code == 0 || !strings.Contains(o.err, "pipe.png is a named pipe, not a file") {
			t.Errorf("%v: exit status %d, said %q", args[0], o.code, o.err)
		}
	}
}
