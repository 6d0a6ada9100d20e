package headless

import (
	"path/filepath"
	"strings"
	"testing"
)

// A picture rectified from one whose printed grid disagrees with its file carries
// that stop with it: picture and locate report it, and trust no position on it.
func TestRectifiedPictureKeepsTheStop(t *testing.T) {
	t.Parallel()
	from := locatedDemo(t, "EPSG:27700", 60)
	out := filepath.Join(t.TempDir(), "up.png")
	got := run(t, "", "rectify", "--picture", from, "--out", out, "--metres-per-pixel", "40", "--json")
	if got.code != 0 || !strings.Contains(got.out, "STOP: a check disagrees") {
		t.Fatalf("exit %d: %s%s", got.code, got.out, got.err)
	}
	for _, args := range [][]string{{"picture", out, "--at", "10,10", "--json"}, {"locate", "--picture", out, "--at", "10,10", "--json"}} {
		got := run(t, "", args...)
		if got.code != 0 || !strings.Contains(got.out, `"imported-stop"`) || !strings.Contains(got.out, `"unchecked"`) || strings.Contains(got.out, `"trusted": true`) {
			t.Errorf("%v: exit %d: %s%s", args[0], got.code, got.out, got.err)
		}
	}
}
