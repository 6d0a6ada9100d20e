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

// TestReportSparesFiles: a slip in the name of the report costs neither the
// picture, nor the points, nor any other file that is no PDF.
func TestReportSparesFiles(t *testing.T) {
	t.Parallel()
	points := pointsFile(t, fourPoints)
	picture := photoFile(t, false)
	dir := t.TempDir()
	named := func(name, text string) string {
		out := filepath.Join(dir, name)
		if err := os.WriteFile(out, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return out
	}
	linked := filepath.Join(dir, "linked.pdf")
	if err := os.Symlink(picture, linked); err != nil {
		t.Skip("no links here: ", err)
	}
	for _, tc := range []struct {
		out, says string
		code      int
	}{
		{picture, "made from", 1},
		{points, "made from", 1},
		{linked, "made from", 1},
		{dir, "is a folder", 1},
		{named("mine.txt", "notes"), "no PDF", 1},
		{named("short", "%P"), "no PDF", 1},
		{named("old.pdf", "%PDF-1.3 an older report"), "", 0},
		{named("empty.pdf", ""), "", 0},
	} {
		before, _ := os.ReadFile(tc.out)
		got := run(t, "", "calibrate", "--grid", "EPSG:32619", "--points", points, "--picture", picture, "--report", tc.out)
		after, _ := os.ReadFile(tc.out)
		if got.code != tc.code || !strings.Contains(got.err, tc.says) || (string(before) == string(after)) != (tc.code == 1) {
			t.Errorf("to %s: exit %d, %q, changed %v; want exit %d and %q", tc.out, got.code, got.err, string(before) != string(after), tc.code, tc.says)
		}
	}
}
