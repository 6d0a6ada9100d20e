package headless

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// terrainFile writes an Esri ASCII grid of 5 × 4 posts 50 m apart: a plane that rises 10 m a post to the
// east and 5 m a post to the north, with a void in its north-west corner.
func terrainFile(t *testing.T) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "plane.asc")
	text := "ncols 5\nnrows 4\nxllcenter 227000\nyllcenter 743000\ncellsize 50\nNODATA_value -1\n" +
		"-1 125 135 145 155\n110 120 130 140 150\n105 115 125 135 145\n100 110 120 130 140\n"
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestHeightRows(t *testing.T) {
	t.Parallel()
	name := terrainFile(t)
	got := run(t, "227100 743050\n227075\t743075\n227000 743000\n227000 743150\n227900 743000\nhill\n", "height", "--terrain", name, "--grid", "EPSG:27700")
	wantCode(t, got, 1)
	rows := got.rows()
	if len(rows) != 6 {
		t.Fatalf("got %d rows: %s", len(rows), got.out)
	}
	wantNear(t, "height", float(t, rows[0][0]), 125, 1e-9)
	wantNear(t, "slope", float(t, rows[0][1]), 12.604383, 1e-6)   // atan(√(0.2² + 0.1²))
	wantNear(t, "aspect", float(t, rows[0][2]), 243.434949, 1e-6) // it falls to the west-south-west
	wantNear(t, "height between posts", float(t, rows[1][0]), 122.5, 1e-9)
	if strings.Join(rows[2], " ") != "100 - -" {
		t.Errorf("corner: got %q, want a height without slope", rows[2])
	}
	for i := 3; i < 6; i++ {
		if !strings.HasPrefix(rows[i][0], "error: ") {
			t.Errorf("row %d: got %q, want an error", i+1, rows[i])
		}
	}
	if !strings.Contains(got.err, "Crags lower than about 40 m") { // 2 × 50 m × tan 20°
		t.Errorf("caution: got %q, want what does not show", got.err)
	}
	feet := run(t, "227100 743050\n", "height", "--grid", "EPSG:27700", "--feet", "--terrain", name)
	wantCode(t, feet, 0)
	wantNear(t, "feet", float(t, feet.rows()[0][0]), 125*0.3048, 1e-5)
}

// TestHeightFromAnotherGrid: rows on one grid, terrain on another, in two files that together are one.
func TestHeightFromAnotherGrid(t *testing.T) {
	t.Parallel()
	name := terrainFile(t)
	there := run(t, "227100 743050\n", "project", "--grid", "EPSG:27700", "--inverse")
	place := strings.Join(run(t, strings.Join(there.rows()[0][:2], " ")+"\n", "project", "--grid", "EPSG:32629").rows()[0][:2], " ")
	got := run(t, place+"\n", "height", "--terrain", name, name, "--grid", "EPSG:32629", "--terrain-grid", "EPSG:27700")
	wantCode(t, got, 0)
	wantNear(t, "height", float(t, got.rows()[0][0]), 125, 1e-3)
	wantNear(t, "slope", float(t, got.rows()[0][1]), 12.604383, 1e-4)

	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	text, err := system.WKT1()
	if err != nil {
		t.Fatal(err)
	}
	beside := strings.TrimSuffix(name, ".asc") + ".PRJ"
	write := func(text string) {
		if err := os.WriteFile(beside, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(text)
	alone := run(t, place+"\n", "height", "--terrain", name, "--grid", "EPSG:32629")
	wantCode(t, alone, 0)
	if alone.out != got.out {
		t.Errorf("by the .prj file beside the terrain: %q, want %q", alone.out, got.out)
	}
	write("Projection UTM\nZone 29\n")
	if bad := run(t, place+"\n", "height", "--terrain", name, "--grid", "EPSG:32629"); bad.code != 1 || !strings.Contains(bad.err, "plane.PRJ") || !strings.Contains(bad.err, "--terrain-grid") {
		t.Errorf("a .prj file that names no grid: exit %d, %q", bad.code, bad.err)
	}
	if named := run(t, place+"\n", "height", "--terrain", name, "--grid", "EPSG:32629", "--terrain-grid", "EPSG:27700"); named.out != got.out {
		t.Errorf("the grid that is named: %q, want %q", named.out, got.out)
	}
}

func TestHeightRefused(t *testing.T) {
	t.Parallel()
	name := terrainFile(t)
	wantCode(t, run(t, "", "height", "--grid", "EPSG:27700"), 2)
	wantCode(t, run(t, "", "height", "--terrain", name), 2)
	wantCode(t, run(t, "", "height", "--terrain", filepath.Join(t.TempDir(), "none.hgt"), "--grid", "EPSG:27700"), 1)
	wantCode(t, run(t, "", "height", "--terrain", t.TempDir(), "--grid", "EPSG:27700"), 1)
	notes := pointsFile(t, "no terrain at all")
	if got := run(t, "", "height", "--terrain", notes, "--grid", "EPSG:27700"); got.code != 1 || !strings.Contains(got.err, "not a terrain file") {
		t.Errorf("a text: got %d, %q", got.code, got.err)
	}
}
