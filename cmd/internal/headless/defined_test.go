package headless

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/mapio/gpx"
)

// A definition, a file with one and a code name the same grid.
func TestGridByDefinition(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "isle.prj")
	const prj = `PROJCS["WGS_1984_UTM_Zone_30N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["Central_Meridian",-3.0],PARAMETER["Scale_Factor",0.9996],UNIT["Meter",1.0]]`
	if err := os.WriteFile(file, []byte(prj+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	want := run(t, "57 -4\n", "project", "--grid", "EPSG:32630")
	for _, grid := range []string{"32630", "+proj=utm +zone=30 +datum=WGS84", prj, "@" + file} {
		if got := run(t, "57 -4\n", "project", "--grid", grid); got.out != want.out || got.code != 0 {
			t.Errorf("--grid %s: got %q %s, want %q", grid, got.out, got.err, want.out)
		}
	}
	for _, c := range []struct{ grid, want string }{
		{"@" + file + ".missing", "cannot be read"},
		{"+proj=aea +lat_1=1 +lat_2=2 +ellps=GRS80", "supported: Transverse Mercator"},
		{"+proj=tmerc", "has no ellipsoid"},
	} {
		if got := run(t, "57 -4\n", "project", "--grid", c.grid); got.code != 2 || !strings.Contains(got.err, c.want) {
			t.Errorf("--grid %s: exit %d, %q, want %q", c.grid, got.code, got.err, c.want)
		}
	}
}

// A grid of feet is written and read in feet, one of degrees in degrees, and a
// pair of bare numbers is not a position on it.
func TestPrintedUnits(t *testing.T) {
	t.Parallel()
	const feet = "+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=ft"
	row := run(t, "40.5 -112\n", "project", "--grid", feet).rows()[0]
	if math.Abs(float(t, row[0])-100000/0.3048) > 1e-4 || float(t, row[1]) < 180_000 {
		t.Errorf("feet: got %v", row)
	}
	back := run(t, "328083.9895013 182085.0\n", "project", "--grid", feet, "--inverse").rows()[0]
	if math.Abs(float(t, back[0])-40.5) > 0.01 || math.Abs(float(t, back[1])+112) > 1e-9 {
		t.Errorf("feet, back: got %v", back)
	}
	if row := run(t, "57.5 -4.25\n", "project", "--grid", "4326").rows()[0]; math.Abs(float(t, row[0])+4.25) > 1e-10 || math.Abs(float(t, row[1])-57.5) > 1e-10 {
		t.Errorf("degrees: got %v", row)
	}
	if got := run(t, "-4.25 57.5\n", "gridref", "--grid", "4326"); strings.TrimSpace(got.out) != "57.500000°N,4.250000°W" {
		t.Errorf("degrees as a reference: got %q %s", got.out, got.err)
	}
	for _, text := range []string{"57 -4", "57.5, -4.25", "450000 6330000"} {
		if got := run(t, text+"\n", "gridref", "--grid", "4326", "--inverse"); got.code == 0 || !strings.Contains(got.out, "could be swapped") {
			t.Errorf("%q on a grid of degrees: got %q %q", text, got.out, got.err)
		}
	}
}

// Control points of a picture ruled in degrees are longitude and latitude in
// degrees, and its positions come back as them.
func TestFitInDegrees(t *testing.T) {
	t.Parallel()
	const csv = "col,row,easting,northing\n0,0,9.0,48.0\n1000,0,9.5,48.0\n0,800,9.0,47.6\n1000,800,9.5,47.6\n"
	o := run(t, csv, "fit", "--grid", "EPSG:4326", "--points", "-", "--at", "500,400", "--json").object(t)
	at := o["at"].([]any)[0].(map[string]any)
	if math.Abs(at["lat_deg"].(float64)-47.8) > 1e-6 || math.Abs(at["lon_deg"].(float64)-9.25) > 1e-6 {
		t.Errorf("got %v", at)
	}
}

// A grid whose datum is not known says so wherever latitude and longitude come
// of it.
func TestUnknownDatumIsTold(t *testing.T) {
	t.Parallel()
	const bare = "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=100000 +y_0=100000 +ellps=airy"
	if got := run(t, "57.2 -6\n", "project", "--grid", bare); !strings.Contains(got.err, "datum shift unknown") || got.code != 0 {
		t.Errorf("project: %q", got.err)
	}
	if got := run(t, "57.2 -6\n", "project", "--grid", bare, "--datum", "own"); got.err != "" {
		t.Errorf("project on the own datum: %q", got.err)
	}
	if got := sight(t, bare, "100000 120000", "101000 121000"); !strings.Contains(got.out+got.err, "hundreds of metres") {
		t.Errorf("sight: %q %q", got.out, got.err)
	}
	const csv = "col,row,easting,northing\n0,0,100000,120000\n1000,0,105000,120000\n0,800,100000,116000\n1000,800,105000,116000\n"
	if got := run(t, csv, "fit", "--grid", bare, "--points", "-", "--json"); !strings.Contains(got.out, "shift-unknown") {
		t.Errorf("calibrate: %s %s", got.out, got.err)
	}
}

// A plan on a grid by definition gives legs and a GPX file like any other; one
// of an unknown datum says on each point what it is worth.
func TestPlanOnADefinedGrid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, grid string
		unknown    bool
	}{
		{"its shift known", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=500000 +y_0=0 +datum=OSGB36", false},
		{"its datum unknown", "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=10000 +y_0=20000 +ellps=airy", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			system, err := geodesy.Define(c.grid)
			if err != nil {
				t.Fatal(err)
			}
			from, _, _, err := system.FromWGS84(geodesy.DegLatLon(57.1, -6.2))
			if err != nil {
				t.Fatal(err)
			}
			p := plan.New(outing).SetTitle("Isle")
			mark := plan.Mark{ID: p.NextID(plan.OfMark), Name: "Cairn", Position: plan.ImportedAt(system.Code(), from, 5)}
			p = p.AddMark(mark)
			to := plan.ImportedAt(system.Code(), geodesy.Grid{E: from.E + 600, N: from.N + 800}, 5)
			p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: plan.AtMark(mark), To: plan.AtPosition(to)})
			name := savePlan(t, p)

			legs := run(t, "", "legs", name, "--json")
			wantCode(t, legs, exitDone)
			var rows []map[string]any
			if err := json.Unmarshal([]byte(legs.out), &rows); err != nil || len(rows) != 1 {
				t.Fatalf("%v: %s", err, legs.out)
			}
			wantNear(t, "grid bearing", rows[0]["grid_bearing_deg"].(float64), 36.8699, 1e-3)

			out := filepath.Join(t.TempDir(), "isle.gpx")
			wantCode(t, run(t, "", "export", name, "--gpx", out), exitDone)
			raw, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			d, err := gpx.Read(bytes.NewReader(raw))
			if err != nil {
				t.Fatal(err)
			}
			const words = "hundreds of metres"
			for what, desc := range map[string]string{"mark": d.Marks[0].Desc, "leg": d.Routes[0].Points[0].Desc} {
				if strings.Contains(desc, words) != c.unknown {
					t.Errorf("%s says %q", what, desc)
				}
			}
			wantNear(t, "latitude of the mark", d.Marks[0].At.Lat.Deg(), 57.1, 1e-6)
		})
	}
}
