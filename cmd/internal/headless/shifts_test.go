package headless

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestShiftsRefused: a file that is none is wrong usage, and is named.
func TestShiftsRefused(t *testing.T) {
	t.Parallel()
	bad := filepath.Join(t.TempDir(), "bad.gsb")
	if err := os.WriteFile(bad, []byte("no shifts"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{bad: "not a sound NTv2 file", bad + ".none": "cannot be read"} {
		got := run(t, "50 9\n", "project", "--grid", "31467", "--shifts", name)
		if got.code != exitUsage || !strings.Contains(got.err, want) {
			t.Errorf("got %d %q, want code %d and %q", got.code, got.err, exitUsage, want)
		}
	}
}
