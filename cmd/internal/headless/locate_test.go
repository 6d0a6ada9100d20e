package headless

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// locatedDemo writes a piece of the demo's scan with a world file and, where prj is not
// empty, a .prj beside it. Shift moves the georeference so many metres east.
func locatedDemo(t *testing.T, prj string, shiftM float64) string {
	t.Helper()
	dir := t.TempDir()
	for name, data := range map[string][]byte{
		"isle.jpg": cutScan(t), "isle.jgw": []byte(demoWorld(t, shiftM)), "isle.prj": []byte(prj),
	} {
		if len(data) == 0 {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "isle.jpg")
}

// demoWorld is the true georeference of that piece as a world file, shiftM
// metres too far east.
func demoWorld(t *testing.T, shiftM float64) string {
	t.Helper()
	m := cutMatrix()
	m[2] += shiftM
	return worldOf(m)
}

// worldOf writes a matrix as the lines of a world file.
func worldOf(m [6]float64) string {
	var lines strings.Builder
	for _, v := range []float64{m[0], m[3], m[1], m[4], m[2] + (m[0]+m[1])/2, m[5] + (m[3]+m[4])/2} {
		fmt.Fprintf(&lines, "%.9f\n", v)
	}
	return lines.String()
}

// threeNames names three intersections of the demo's scan: by its truth the lines
// of 24 and 26 east and of 41 and 42 north.
func threeNames() []string {
	return []string{"--name", nearIntersection(26000, 742000) + "=NL2642", "--name", nearIntersection(24000, 741000) + "=NL2441", "--name", nearIntersection(26000, 741000) + "=NL2641"}
}

// nearIntersection is where a grid position lies on the piece of the demo's scan.
func nearIntersection(e, n float64) string {
	m := cutMatrix()
	det := m[0]*m[4] - m[1]*m[3]
	x, y := e-m[2], n-m[5]
	return fmt.Sprintf("%.1f,%.1f", (x*m[4]-y*m[1])/det, (y*m[0]-x*m[3])/det)
}

// A file that is turned by half about an intersection, or mirrored in one of its
// lines, agrees with the printed lines and with the names along that line.
func TestLocateChecksNoTurnedOrMirroredFile(t *testing.T) {
	t.Parallel()
	m := cutMatrix()
	for _, c := range []struct {
		name   string
		matrix [6]float64
		named  []string
	}{
		{"turned by half about NL 26 42", [6]float64{-m[0], -m[1], 2*26000 - m[2], -m[3], -m[4], 2*742000 - m[5]}, threeNames()[:2]},
		{"mirrored in easting 26", [6]float64{-m[0], -m[1], 2*26000 - m[2], m[3], m[4], m[5]}, slices.Concat(threeNames()[:2], threeNames()[4:])},
		{
			"mirrored, three named as it has them",
			[6]float64{-m[0], -m[1], 2*26000 - m[2], m[3], m[4], m[5]},
			append(slices.Concat(threeNames()[:2], threeNames()[4:]), "--name", nearIntersection(24000, 741000)+"=28000 741000"),
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			file := locatedDemo(t, "EPSG:27700", 0)
			if err := os.WriteFile(strings.TrimSuffix(file, "jpg")+"jgw", []byte(worldOf(c.matrix)), 0o600); err != nil {
				t.Fatal(err)
			}
			got := run(t, "", append(append([]string{"locate", "--picture", file, "--json"}, c.named...), theCorner(t)...)...)
			if got.code != 0 || !strings.Contains(got.out, `"agrees": true`) || !strings.Contains(got.out, `"unchecked"`) || !strings.Contains(got.out, `"checked": null`) {
				t.Errorf("exit %d: %s%s; want lines that agree and no check", got.code, got.out, got.err)
			}
		})
	}
}

func TestPictureAndLocateRefuseFlagsTheyIgnore(t *testing.T) {
	t.Parallel()
	file := locatedDemo(t, "EPSG:27700", 0)
	for _, args := range [][]string{
		{"locate", "--picture", file, "--medium", "drawn"},
		{"locate", "--picture", file, "--point-sigma-px", "30"},
		{"locate", "--picture", file, "--dpi", "77"},
		{"picture", "x.pdf", "--page", "1.5"},
	} {
		if got := run(t, "", args...); got.code != 2 {
			t.Errorf("%v: exit %d, %s; want 2", args, got.code, got.err)
		}
	}
}

func TestLocateComparesThePrintedGrid(t *testing.T) {
	t.Parallel()
	const at = "400,600"
	m := cutMatrix()
	for _, c := range []struct {
		name    string
		shiftM  float64
		named   []string
		agrees  bool
		checked bool
		says    string
	}{
		{"true, nothing named", 0, nil, true, false, `"checked": null`},
		{"true, three named", 0, threeNames(), true, false, `"checked": null`},
		{"true, three named, and a corner", 0, append(threeNames(), theCorner(t)...), true, true, `"scope": "`},
		{"true, a corner alone", 0, theCorner(t), true, false, `"checked": null`},
		{"true, one named, with the size", 0, append(threeNames()[:2], "--square", "1000"), true, false, `"checked": null`},
		{"true, one named three times, and a corner", 0, slices.Concat(threeNames()[:2], threeNames()[:2], threeNames()[:2], theCorner(t)), true, false, `"checked": null`},
		{"true, another size", 0, append(threeNames(), "--square", "500"), true, false, `"square-differs"`},
		{"60 m off", 60, nil, false, false, `"evidence-disagrees"`},
		{"a whole square off", 1000, nil, true, false, `"checked": null`},
		{"off as from one datum to another, named", 126, threeNames(), false, false, `"evidence-disagrees"`},
		{"a whole square off, named", 1000, threeNames(), true, false, `"evidence-disagrees"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			args := []string{"locate", "--picture", locatedDemo(t, "EPSG:27700", c.shiftM), "--at", at, "--json"}
			args = append(args, c.named...)
			got := run(t, "", args...)
			if got.code != 0 || !strings.Contains(got.out, c.says) || c.checked == strings.Contains(got.out, `"unchecked"`) {
				t.Fatalf("exit %d: %s%s; want %s", got.code, got.out, got.err, c.says)
			}
			o := got.object(t)
			if o["grid"] != "EPSG:27700" || o["source"] != "world file isle.jgw with isle.prj" {
				t.Errorf("got grid %v from %v", o["grid"], o["source"])
			}
			printed := o["printed_grid"].(map[string]any)
			if printed["agrees"] != c.agrees || printed["square_m"] != 1000.0 {
				t.Errorf("printed grid: got %v, want agrees %v on squares of 1000 m", printed, c.agrees)
			}
			p := o["at"].([]any)[0].(map[string]any)
			e, n := m[0]*400+m[1]*600+m[2]+c.shiftM, m[3]*400+m[4]*600+m[5]
			if off := math.Hypot(p["easting_m"].(float64)-e, p["northing_m"].(float64)-n); off > 0.001 {
				t.Errorf("at %s: %g m off, want at most 0.001", at, off)
			}
			trusted := c.agrees && c.says != `"evidence-disagrees"` && c.says != `"square-differs"`
			table := run(t, "", slices.DeleteFunc(args, func(a string) bool { return a == "--json" })...)
			if told := strings.Contains(table.out, "do not trust this"); p["trusted"] != trusted || told == trusted {
				t.Errorf("trusted %v, want %v; and the table:\n%s", p["trusted"], trusted, table.out)
			}
		})
	}
}

// theCorner is the latitude and longitude of a position in the corner of that piece, as a
// margin prints them to a tenth of a second.
func theCorner(t *testing.T) []string {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	m := cutMatrix()
	ll, _, err := sys.ToWGS84(geodesy.Grid{E: 60*m[0] + 70*m[1] + m[2], N: 60*m[3] + 70*m[4] + m[5]})
	if err != nil {
		t.Fatal(err)
	}
	return []string{"--evidence", fmt.Sprintf("margin:60,70=latlon:%.5f,%.5f", ll.Lat.Deg(), ll.Lon.Deg())}
}

// Evidence needs a source; several pieces check a calibration by points.
func TestEvidenceOfCalibrate(t *testing.T) {
	t.Parallel()
	const points = "col,row,ref\n200,200,NL5199\n1800,200,NL5999\n1800,1800,NL5991\n200,1800,NL5191\n"
	for _, c := range []struct {
		evidence string
		code     int
		says     string
	}{
		{"list:1052,374=NL5526098130", 0, `"by": "the listed feature`},
		{"receiver:1052,374=NL5526098130", 0, `"within_m"`},
		{"own-grid:1052,374=NL5526098130", 0, `"checked": null`},
		{"sheet:1052,374=NL5526098130", 0, `"checked": null`},
		{"list:1000,400=NL5598", 0, `"checked": null`},
		{"list:1052,374=NL5626098130", 0, `"evidence-disagrees"`},
		{"margin:1052,374=NL5526098130", 1, "own-grid"},
		{"1052,374=NL5526098130", 2, "where the reference comes from"},
		{"hearsay:1052,374=NL5526098130", 2, "where the reference comes from"},
	} {
		got := run(t, points, "fit", "--grid", "EPSG:27700", "--points", "-", "--json", "--evidence", c.evidence)
		if got.code != c.code || !strings.Contains(got.out+got.err, c.says) {
			t.Errorf("%s: exit %d, %s%s; want %d with %s", c.evidence, got.code, got.out, got.err, c.code, c.says)
		}
	}
}

// The table says what checks the calibration, or what would.
func TestLocateSaysWhatChecks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		shiftM float64
		named  []string
		says   string
	}{
		{0, nil, "Name three grid intersections"},
		{60, nil, "is 60 m from where the calibration puts it"},
		{0, threeNames(), "the latitude and longitude printed in the margin"},
		{0, append(threeNames(), theCorner(t)...), "checked to ± "},
	} {
		got := run(t, "", append([]string{"locate", "--picture", locatedDemo(t, "EPSG:27700", c.shiftM)}, c.named...)...)
		if got.code != 0 || !strings.Contains(got.out, c.says) {
			t.Errorf("%g m off: exit %d: %s; want %s", c.shiftM, got.code, got.out, c.says)
		}
	}
}

func TestPictureTellsPlace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, prj string
		args      []string
		code      int
		says      string
	}{
		{"placed", "EPSG:27700", []string{"--json", "--at", "10,10"}, 0, `"grid": "EPSG:27700"`},
		{"unchecked", "EPSG:27700", []string{"--json", "--at", "10,10"}, 0, `"unchecked"`},
		{"unchecked, as a table", "EPSG:27700", []string{"--at", "10,10"}, 0, "The sheet is unchecked"},
		{"no grid", "", []string{"--json"}, 0, `"georeference": null`},
		{"no grid, asked for a position", "", []string{"--at", "10,10"}, 1, "does not say where"},
		{"nonsense", "LOCAL_CS[\"x\"]", []string{"--json"}, 0, `"unknown": "isle.prj: `},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got := run(t, "", append([]string{"picture", locatedDemo(t, c.prj, 0)}, c.args...)...)
			if got.code != c.code || !strings.Contains(got.out+got.err, c.says) {
				t.Errorf("exit %d: %s%s; want %d with %s", got.code, got.out, got.err, c.code, c.says)
			}
		})
	}
}

// A world file that cannot be read is reported, not ignored.
func TestPictureTellsABrokenWorldFile(t *testing.T) {
	t.Parallel()
	file := locatedDemo(t, "EPSG:27700", 0)
	if err := os.WriteFile(strings.TrimSuffix(file, "jpg")+"jgw", []byte("north is up"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"picture", file, "--json"}, {"picture", file}, {"locate", "--picture", file}} {
		if got := run(t, "", args...); !strings.Contains(got.out+got.err, "isle.jgw") {
			t.Errorf("%v: %s%s; want the world file named", args, got.out, got.err)
		}
	}
}

// TestLocateOnANamedGrid: a world file that names no grid lies on the one that is named,
// and a file that names its grid keeps it.
func TestLocateOnANamedGrid(t *testing.T) {
	t.Parallel()
	file := locatedDemo(t, "EPSG:27700", 0)
	if got := run(t, "", "locate", "--picture", file, "--grid", "EPSG:32630"); got.code != 2 || !strings.Contains(got.err, "do not give --grid") {
		t.Errorf("a file that names its grid: exit %d, %s", got.code, got.err)
	}
	if err := os.Remove(strings.TrimSuffix(file, "jpg") + "prj"); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", "locate", "--picture", file); got.code != 1 || !strings.Contains(got.err, "--grid") {
		t.Errorf("a world file alone: exit %d, %s, want 1 and the flag that helps", got.code, got.err)
	}
	named := run(t, "", append(append([]string{"locate", "--picture", file, "--grid", "EPSG:27700", "--json"}, threeNames()...), theCorner(t)...)...)
	if o := named.object(t); named.code != 0 || o["grid"] != "EPSG:27700" || o["checked"] == nil {
		t.Errorf("exit %d: grid %v, checked %v; want EPSG:27700, checked: %s", named.code, o["grid"], o["checked"], named.err)
	}
	bare := photoFile(t, false)
	if got := run(t, "", "locate", "--picture", bare, "--grid", "EPSG:27700"); got.code != 1 || !strings.Contains(got.err, "does not say where the picture lies") {
		t.Errorf("a file that gives no figures: exit %d, %s", got.code, got.err)
	}
}
