package headless

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// TestRectify: the picture of a turned sheet comes out with grid north up,
// is found again with its position, and says what it is worth.
func TestRectify(t *testing.T) {
	t.Parallel()
	// 5 m a pixel, turned by a quarter: north is to the right of the picture
	points := "col,row,easting,northing\n100,100,230500,750500\n2900,100,230500,764500\n100,1900,239500,750500\n2900,1900,239500,764500\n"
	dir := t.TempDir()
	for _, out := range []string{"up.png", "up.jpg"} {
		path := filepath.Join(dir, out)
		got := run(t, points, "rectify", "--grid", "EPSG:27700", "--points", "-", "--picture", photoFile(t, false),
			"--out", path, "--metres-per-pixel", "20", "--at", "700,400", "--json")
		wantCode(t, got, 0)
		told, ok := got.object(t)["rectified"].(map[string]any)
		if !ok {
			t.Fatalf("it is missing: %s", got.out)
		}
		wantNear(t, "west", told["west_m"].(float64), 230000, 1e-6)
		wantNear(t, "north", told["north_m"].(float64), 765000, 1e-6)
		wantNear(t, "width", told["width_px"].(float64), 500, 0)
		wantNear(t, "height", told["height_px"].(float64), 750, 0)
		if says, _ := told["says"].([]any); len(says) < 3 || !strings.Contains(says[0].(string), "unchecked") {
			t.Errorf("%s says %v", out, says)
		}
		pic, err := scan.Open(context.Background(), os.DirFS(dir), out, scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		world := georef.Find(pic.Geo).World
		if world == nil {
			t.Fatalf("%s has no world file", out)
		}
		// 700,400 lies at 232000 E 753500 N, so at column 100, row 575 of the result
		if e, n := world.At(100, 575); e != 232000 || n != 753500 {
			t.Errorf("%s has %g E %g N there, want 232000 and 753500", out, e, n)
		}
		if r, _, _, _ := pic.Image.At(100, 575).RGBA(); r != 0 {
			t.Errorf("%s is not black there, as the sheet is", out)
		}
		again := run(t, points, "rectify", "--grid", "EPSG:27700", "--points", "-", "--picture", photoFile(t, false), "--out", path)
		if again.code != 1 || !strings.Contains(again.err, "exists: name another file") {
			t.Errorf("once more to %s: exit %d, %q", out, again.code, again.err)
		}
	}
}

// TestRectifyRefused: what cannot be rectified is refused before the work,
// and nothing is written.
func TestRectifyRefused(t *testing.T) {
	t.Parallel()
	picture, points := photoFile(t, false), pointsFile(t, fourPoints)
	out := filepath.Join(t.TempDir(), "up.png")
	base := []string{"rectify", "--grid", "EPSG:32619"}
	for _, tc := range []struct {
		args []string
		says string
		code int
	}{
		{[]string{"--points", points, "--out", out}, "--picture is missing", 2},
		{[]string{"--picture", picture, "--out", out}, "set control points", 1},
		{[]string{"--points", points, "--name", "1,2=NL1234", "--picture", picture, "--out", out}, "give only one of them", 2},
		{[]string{"--points", points, "--picture", picture, "--out", out + ".tif"}, "in .png or .jpg", 2},
		{[]string{"--points", points, "--picture", picture, "--metres-per-pixel", "5"}, "--out is missing", 2},
		{[]string{"--points", points, "--picture", picture, "--out", picture}, "exists: name another file", 1},
		{[]string{"--points", points, "--picture", picture, "--out", out, "--metres-per-pixel", "1000"}, "metres per pixel", 1},
	} {
		got := run(t, "", append(base, tc.args...)...)
		if got.code != tc.code || !strings.Contains(got.err, tc.says) {
			t.Errorf("%v: exit %d, %q; want %d and %q", tc.args, got.code, got.err, tc.code, tc.says)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%v: %s was written", tc.args, out)
		}
	}
}
