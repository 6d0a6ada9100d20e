package headless

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"
)

// TestProjectWorkedExamples: the worked example of the Ordnance Survey's guide
// to coordinate systems, Annexe C (on the grid's own datum, 1 mm), and the
// station of the Irish worked example for ITM (1 mm). Both ways.
func TestProjectWorkedExamples(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, grid, latLon string
		lat, lon, e, n     float64
	}{
		{"OS guide, Annexe C", "EPSG:27700", "52.657570305556 1.717921583333", 52.657570305556, 1.717921583333, 651409.903, 313177.270},
		{"ITM example", "EPSG:2157", "53.364273437066 -6.348987346653", 53.364273437066, -6.348987346653, 709885.081, 736167.699},
	} {
		there := run(t, c.latLon+"\n", "project", "--grid", c.grid, "--datum", "own")
		wantCode(t, there, 0)
		row := there.rows()[0]
		if len(row) != 4 || there.err != "" {
			t.Fatalf("%s: got %q, %q, want four values and no caution", c.name, there.out, there.err)
		}
		wantNear(t, c.name+" easting", float(t, row[0]), c.e, 0.001)
		wantNear(t, c.name+" northing", float(t, row[1]), c.n, 0.001)
		back := run(t, row[0]+"\t"+row[1]+"\n", "project", "--grid", c.grid, "--datum", "own", "--inverse")
		wantCode(t, back, 0)
		inv := back.rows()[0]
		wantNear(t, c.name+" lat", float(t, inv[0]), c.lat, 1e-12)
		wantNear(t, c.name+" lon", float(t, inv[1]), c.lon, 1e-12)
		wantNear(t, c.name+" convergence both ways", float(t, inv[2]), float(t, row[2]), 1e-11)
		wantNear(t, c.name+" scale both ways", float(t, inv[3]), float(t, row[3]), 1e-13)
	}
}

// TestProjectDatum: WGS 84 is the default and applies OSTN15. First official
// OSTN15 test point (Ordnance Survey, developer pack): TP01 at St Mary's,
// Scilly, ETRS89 49.92226394 N 6.29977752 W is 91492.146 E 11318.804 N.
func TestProjectDatum(t *testing.T) {
	t.Parallel()
	const place = "49.92226394 -6.29977752\n"
	for _, args := range [][]string{nil, {"--datum", "wgs84"}} {
		got := run(t, place, append([]string{"project", "--grid", "EPSG:27700"}, args...)...)
		wantCode(t, got, 0)
		wantNear(t, "easting", float(t, got.rows()[0][0]), 91492.146, 0.001)
		wantNear(t, "northing", float(t, got.rows()[0][1]), 11318.804, 0.001)
	}
	own := run(t, place, "project", "--grid", "EPSG:27700", "--datum", "own")
	if e := float(t, own.rows()[0][0]); e > 91492-50 && e < 91492+50 {
		t.Errorf("on the own datum: easting %v, want it 50 m or more off the shifted one", e)
	}
}

func TestProjectWarnsOnce(t *testing.T) {
	t.Parallel()
	inside, outside := "53 -1.5\n", "45 3\n"
	for _, c := range []struct {
		name, in string
		args     []string
		cautions int
		says     string
	}{
		{"inside", inside, []string{"--datum", "own"}, 0, ""},
		{"inside with OSTN15", inside, nil, 0, ""},
		{"outside", strings.Repeat(outside, 30000), []string{"--datum", "own"}, 1, "outside the area of British National Grid"},
		{"outside with a shift", strings.Repeat(outside, 30000), nil, 2, "seven-parameter shift"},
	} {
		got := run(t, c.in, append([]string{"project", "--grid", "EPSG:27700"}, c.args...)...)
		wantCode(t, got, 0)
		if n := strings.Count(got.err, "some rows: "); n != c.cautions || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: got %d cautions %q, want %d and %q", c.name, n, got.err, c.cautions, c.says)
		}
		if n, want := strings.Count(got.out, "\n"), strings.Count(c.in, "\n"); n != want {
			t.Errorf("%s: got %d rows, want %d", c.name, n, want)
		}
	}
}

func TestProjectBadRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, row, says string }{
		{"empty", "", "the row has no values: give lat lon"},
		{"one value", "57", "the row has 1 value"},
		{"three values", "57 -4 12", "the row has 3 values"},
		{"NaN", "NaN -4", `"NaN" is not a plain number`},
		{"Inf", "57 -Inf", `"-Inf" is not a plain number`},
		{"words", "north west", `"north" is not a plain number`},
		{"huge", "1e300 0", "latitude"},
		{"overflow", "1e999 0", `"1e999" is not a plain number`},
		{"latitude", "90.5 0", "latitude"},
		{"longitude", "57 400", "longitude"},
		{"outside the series", "0 85", "central meridian"},
		{"not text", "57\x00 \xff", "is not a plain number"},
	} {
		got := run(t, "57 -4\n"+c.row+"\n57 -4\n", "project", "--grid", "EPSG:32630", "--datum", "own")
		wantCode(t, got, 1)
		rows := got.rows()
		if len(rows) != 3 || len(rows[0]) != 4 || strings.Join(rows[0], " ") != strings.Join(rows[2], " ") {
			t.Errorf("%s: got %q, want the rows around the bad one answered", c.name, got.out)
			continue
		}
		if text := strings.Join(rows[1], " "); !strings.HasPrefix(text, "error: ") || !strings.Contains(text, c.says) {
			t.Errorf("%s: got %q, want error: … %q", c.name, text, c.says)
		}
	}
	for _, row := range []string{"1e300 0", "0 1e300", "NaN 1", "500000 -1e12"} {
		got := run(t, row+"\n", "project", "--grid", "EPSG:32630", "--inverse")
		wantCode(t, got, 1)
		if !strings.HasPrefix(got.out, "error: ") {
			t.Errorf("inverse %q: got %q, want an error", row, got.out)
		}
	}
}

// TestProjectAgainstCs2cs compares random positions with PROJ's own program to
// 0.1 mm, both ways.
func TestProjectAgainstCs2cs(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("cs2cs")
	if err != nil {
		t.Skip("cs2cs is not installed (Debian: proj-bin): no comparison with PROJ")
	}
	random := rand.New(rand.NewPCG(4, 2026))
	var in strings.Builder
	for range 1000 {
		fmt.Fprintf(&in, "%.9f %.9f\n", 84*random.Float64(), -6+6*random.Float64())
	}
	ours := run(t, in.String(), "project", "--grid", "EPSG:32630", "--datum", "own")
	wantCode(t, ours, 0)
	peer := exec.Command(program, "-f", "%.9f", "EPSG:4326", "EPSG:32630")
	peer.Stdin = strings.NewReader(in.String())
	out, err := peer.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	rows := ours.rows()
	if len(lines) != 1000 || len(rows) != 1000 {
		t.Fatalf("got %d rows, cs2cs %d, want 1000", len(rows), len(lines))
	}
	var grid strings.Builder
	for i, line := range lines {
		want := strings.Fields(line)
		wantNear(t, "easting", float(t, rows[i][0]), float(t, want[0]), 1e-4)
		wantNear(t, "northing", float(t, rows[i][1]), float(t, want[1]), 1e-4)
		fmt.Fprintln(&grid, want[0], want[1])
	}
	back := run(t, grid.String(), "project", "--grid", "EPSG:32630", "--datum", "own", "--inverse").rows()
	for i, line := range strings.Split(strings.TrimSpace(in.String()), "\n") {
		want := strings.Fields(line)
		wantNear(t, "lat", float(t, back[i][0]), float(t, want[0]), 1e-9)
		wantNear(t, "lon", float(t, back[i][1]), float(t, want[1]), 1e-8)
	}
}
