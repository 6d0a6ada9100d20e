package headless

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// onDatum writes a small picture with a world file and the definition of its
// grid, and returns its name.
func onDatum(t *testing.T, definition string) string {
	t.Helper()
	name := blank(t, 300, 200)
	dir := filepath.Dir(name)
	for ending, text := range map[string]string{".pgw": "10\n0\n0\n-10\n500000\n6000000\n", ".prj": definition} {
		if err := os.WriteFile(filepath.Join(dir, "a"+ending), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return name
}

// blank writes an empty picture and returns its name.
func blank(t *testing.T, width, height int) string {
	t.Helper()
	f, err := os.Create(filepath.Join(t.TempDir(), "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, image.NewGray(image.Rect(0, 0, width, height))); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return f.Name()
}

// Latitude and longitude of a position are marked in every command and form where
// the way from the grid's datum is coarse or unknown, or the grid is not meant
// for the position.
func TestPlacesAreMarked(t *testing.T) {
	t.Parallel()
	own := func(datum, spheroid string) string {
		return `PROJCS["own",GEOGCS["own",DATUM["` + datum + `",SPHEROID[` + spheroid + `]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
			`PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",9],PARAMETER["scale_factor",1],` +
			`PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]]`
	}
	for _, tc := range []struct {
		name, definition, code, words string
	}{
		{"unknown datum", own("nobody_knows", `"old",6377397.155,299.1528128`), "shift-unknown", "± hundreds of metres"},
		{"coarse shift", own("nearly", `"new",6378137,298.257222101`), "coarse-shift", " ± 10 m\n"},
	} {
		file := onDatum(t, tc.definition)
		points := filepath.Join(filepath.Dir(file), "p.csv")
		if err := os.WriteFile(points, []byte("col,row,easting,northing\n10,10,500100,5999900\n290,190,502900,5998100\n10,190,500100,5998100\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		prj := "@" + strings.TrimSuffix(file, "png") + "prj"
		for _, args := range [][]string{
			{"picture", file, "--at", "100,100"},
			{"locate", "--picture", file, "--at", "100,100"},
			{"fit", "--points", points, "--grid", prj, "--at", "100,100"},
		} {
			plain := run(t, "", args...)
			if plain.code != 0 || !strings.Contains(plain.out, tc.words) || !strings.Contains(plain.out, "Latitude and longitude may be") {
				t.Errorf("%s, %s: exit %d\n%s%s\nwant %q", tc.name, args[0], plain.code, plain.out, plain.err, tc.words)
			}
			if got := run(t, "", append(args, "--json")...); strings.Count(got.out, `"`+tc.code+`"`) != 1 {
				t.Errorf("%s, %s as JSON: want %s once in\n%s", tc.name, args[0], tc.code, got.out)
			}
		}
	}
	astray := onDatum(t, "EPSG:27700")
	if got := run(t, "", "picture", astray, "--at", "100,100"); got.code == 0 && !strings.Contains(got.out, "outside the area") {
		t.Errorf("off the grid's area:\n%s", got.out)
	}
}

// A position by control points that contradict each other is not trusted,
// wherever it lies among them.
func TestPlacesByASlipAreNotTrusted(t *testing.T) {
	t.Parallel()
	const good, bad = "490,110,504900,5998900\n", "490,110,505900,5998900\n"
	for last, want := range map[string]bool{good: true, bad: false} {
		points := filepath.Join(t.TempDir(), "p.csv")
		if err := os.WriteFile(points, []byte("col,row,easting,northing\n10,10,500100,5999900\n490,490,504900,5995100\n10,490,500100,5995100\n"+last), 0o600); err != nil {
			t.Fatal(err)
		}
		picture := blank(t, 500, 500)
		got := run(t, "", "fit", "--points", points, "--picture", picture, "--grid", "EPSG:32630", "--at", "250,250", "--json")
		if is := strings.Contains(got.out, `"trusted": true`); got.code != 0 || is != want {
			t.Errorf("%q: exit %d, trusted %v, want %v\n%s", last, got.code, is, want, got.out)
		}
		plain := run(t, "", "fit", "--points", points, "--picture", picture, "--grid", "EPSG:32630", "--at", "250,250")
		if is := !strings.Contains(plain.out, "do not trust this"); is != want {
			t.Errorf("%q: the table trusts it %v, want %v\n%s", last, is, want, plain.out)
		}
		unsized := run(t, "", "fit", "--points", points, "--grid", "EPSG:32630", "--at", "250,250", "--json")
		if known := !strings.Contains(unsized.out, `"trusted": null`); known == want {
			t.Errorf("%q without the picture: trust is known %v\n%s", last, known, unsized.out)
		}
	}
}

// TestPlacesInPrintedUnits: a table gives feet on a grid of feet, and says so.
func TestPlacesInPrintedUnits(t *testing.T) {
	t.Parallel()
	points := filepath.Join(t.TempDir(), "p.csv")
	if err := os.WriteFile(points, []byte("col,row,easting,northing\n0,0,328000,183000\n500,500,328500,182500\n0,500,328000,182500\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for grid, want := range map[string]string{
		"+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=ft": " in feet, ",
		"+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83":           " N ± ",
	} {
		got := run(t, "", "fit", "--points", points, "--grid", grid, "--at", "250,250")
		if !strings.Contains(got.out, "328250.0 E ± ") || !strings.Contains(got.out, want) || strings.Contains(got.out, "in feet") != strings.Contains(grid, "=ft") {
			t.Errorf("%s: got %s %s, want 328250.0 E and %q", grid, got.out, got.err, want)
		}
	}
}
