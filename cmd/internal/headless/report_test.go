package headless

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// --report writes a page beside what is told anyway, whole or not at all.
func TestReport(t *testing.T) {
	t.Parallel()
	points := "col,row,easting,northing\n100,100,230000,750000\n2900,150,237000,749875\n1500,1900,233500,745500\n"
	out := filepath.Join(t.TempDir(), "sheet.pdf")
	for _, more := range [][]string{nil, {"--picture", photoFile(t, false)}} {
		args := append([]string{"calibrate", "--grid", "EPSG:27700", "--points", "-", "--report", out, "--json"}, more...)
		if got := run(t, points, args...); got.code != 0 || got.object(t)["fit"] != "similarity" {
			t.Fatalf("%v: exit %d, %s", more, got.code, got.err)
		}
		page, err := os.ReadFile(out)
		if err != nil || !strings.HasPrefix(string(page), "%PDF-1.") || !strings.Contains(string(page), "%%EOF") {
			t.Fatalf("%v: no PDF: %v", more, err)
		}
		if got := strings.Contains(string(page), "/Subtype /Image"); got != (more != nil) {
			t.Errorf("%v: picture on the page %v", more, got)
		}
		if err := os.Remove(out); err != nil {
			t.Fatal(err)
		}
	}
	for _, tc := range []struct {
		points, out string
		code        int
	}{
		{"col,row,easting,northing\n100,100,230000,750000\n", out, 1},
		{points, filepath.Join(t.TempDir(), "none", "sheet.pdf"), 1},
	} {
		got := run(t, tc.points, "calibrate", "--grid", "EPSG:27700", "--points", "-", "--report", tc.out)
		if got.code != tc.code || got.err == "" {
			t.Errorf("to %s: exit %d, %q", tc.out, got.code, got.err)
		}
		if _, err := os.Stat(tc.out); err == nil {
			t.Errorf("%s was written", tc.out)
		}
	}
	if got := run(t, "", "calibrate", "--picture", photoFile(t, false), "--find-grid", "--report", out); got.code != 2 {
		t.Errorf("a lattice without a name: exit %d, want 2", got.code)
	}
}
