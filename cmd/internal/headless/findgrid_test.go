package headless

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/assets/demo"
)

// written writes a picture into a folder.
func written(t *testing.T, picture []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), demo.ScanName)
	if err := os.WriteFile(name, picture, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

type latticeJSON struct {
	Found         bool
	Reason        string
	SquarePx      float64 `json:"square_px"`
	SquareM       float64 `json:"square_m"`
	Intersections []struct {
		Col, Row  float64
		I, J      int
		EastingM  *float64 `json:"easting_m"`
		NorthingM *float64 `json:"northing_m"`
	}
}

func TestFindGridAlone(t *testing.T) {
	t.Parallel()
	o := run(t, "", "find-grid", "--picture", written(t, cutScan(t)), "--json")
	code, out, errw := o.code, o.out, o.err
	var got struct{ Lattice latticeJSON }
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != 0 {
		t.Fatalf("exit %d, %v: %s%s", code, err, out, errw)
	}
	l := got.Lattice
	if !l.Found || math.Abs(l.SquarePx-1000/math.Hypot(cutMatrix()[0], cutMatrix()[1])) > 0.05 || len(l.Intersections) < 12 || l.Intersections[0].EastingM != nil {
		t.Errorf("got %v, squares of %.2f px, %d intersections; want 12 of the scan's grid, unnamed", l.Found, l.SquarePx, len(l.Intersections))
	}
}

func TestFindGridNamed(t *testing.T) {
	t.Parallel()
	scan := written(t, cutScan(t))
	for _, names := range [][]string{
		{nearIntersection(26000, 742000) + "=NL2642", "--square", "1000"},
		{nearIntersection(26000, 742000) + "=26000 742000", nearIntersection(24000, 741000) + "=NL 24 41"}, // the square follows from two
	} {
		args := []string{"find-grid", "--picture", scan, "--grid", "EPSG:27700", "--at", "400,600", "--json"}
		for _, n := range names {
			if strings.Contains(n, "=") {
				args = append(args, "--name")
			}
			args = append(args, n)
		}
		o := run(t, "", args...)
		code, out, errw := o.code, o.out, o.err
		var got struct {
			At []struct {
				E float64 `json:"easting_m"`
				N float64 `json:"northing_m"`
			}
			Lattice  latticeJSON
			Cautions []spoken
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil || code != 0 {
			t.Fatalf("exit %d, %v: %s%s", code, err, out, errw)
		}
		a := cutMatrix()
		e, n := a[0]*400+a[1]*600+a[2], a[3]*400+a[4]*600+a[5]
		if d := math.Hypot(got.At[0].E-e, got.At[0].N-n); d > 0.5 {
			t.Errorf("%v: the position is off by %.2f m, want 0.5 at most", names, d)
		}
		c := got.Lattice.Intersections[0]
		if c.EastingM == nil || math.Remainder(*c.EastingM, 1000) != 0 || got.Lattice.SquareM != 1000 {
			t.Errorf("%v: got intersection %+v of squares of %g m", names, c, got.Lattice.SquareM)
		}
	}
}

func TestFindGridRefuses(t *testing.T) {
	t.Parallel()
	scan := written(t, cutScan(t))
	text := filepath.Join(t.TempDir(), "map.png")
	if err := os.WriteFile(text, []byte("no picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--json"}, 2, "--picture is missing"},
		{[]string{"--picture", scan, "--square", "1000"}, 2, "--name is missing"},
		{[]string{"--picture", scan, "--evidence", "list:1,2=NL1234"}, 2, "--name is missing"},
		{[]string{"--picture", scan, "--dpi", "300"}, 2, "--dpi is for PDF pages"},
		{[]string{"--picture", scan, "--name", "12=NL1234"}, 2, "give a column"},
		{[]string{"--picture", scan, "--name", "100,100=NL2642"}, 2, "--grid"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", "100,100=NL2642"}, 1, "of the printed grid at this point"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=QQ2642"}, 1, "--name QQ2642"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL2642", "--name", nearIntersection(24000, 741000) + "=NL3341", "--square", "1000"}, 1, "contradict"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL2642"}, 1, "km wide with squares of 100 m"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL264420", "--square", "1000"}, 1, "If you mean the intersection, type NL 26 42. If you mean a feature, 400 m east"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL264420"}, 1, "If the lines are farther apart, NL264420 is not at an intersection of lines 1 km apart. If you mean the intersection, type NL 26 42"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL264420", "--name", nearIntersection(24000, 741000) + "=NL2441"}, 1, "check the digits of both"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=NL2642", "--square", "10000"}, 1, "not at an intersection of lines 10 km apart"},
		{[]string{"--picture", scan, "--grid", "EPSG:27700", "--name", nearIntersection(26000, 742000) + "=56°10'N 6°20'W", "--square", "1000"}, 1, "--graticule"},
		{[]string{"--picture", text}, 1, "not a picture"},
		{[]string{"--picture", scan + ".not"}, 1, "no such file"},
	} {
		o := run(t, "", append([]string{"find-grid"}, c.args...)...)
		code, errw := o.code, o.err
		if code != c.code || !strings.Contains(errw, c.want) {
			t.Errorf("%v: got exit %d, %q; want %d and %q", c.args, code, errw, c.code, c.want)
		}
	}
}
