package geodesy

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// row is one line of a table of testdata/vectors/geodesy, by column name.
type row map[string]string

// vectors reads a table; fewer rows than want is a failure, so that a table
// that went missing cannot pass.
func vectors(t testing.TB, name string, want int) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "vectors", "geodesy", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var head []string
	var rows []row
	for s := bufio.NewScanner(f); s.Scan(); {
		fields := strings.Split(s.Text(), "\t")
		if head == nil {
			head = fields
			continue
		}
		r := row{}
		for i, h := range head {
			r[h] = fields[i]
		}
		rows = append(rows, r)
	}
	if len(rows) != want {
		t.Fatalf("%s: got %d rows, want %d", name, len(rows), want)
	}
	return rows
}

func (r row) num(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

func (r row) ellipsoid(t testing.TB) Ellipsoid {
	t.Helper()
	for _, e := range []Ellipsoid{WGS84(), earth.GRS80(), earth.Airy1830(), earth.AiryModified()} {
		if e.Name == r["ellipsoid"] {
			return e
		}
	}
	t.Fatalf("no ellipsoid %q", r["ellipsoid"])
	return Ellipsoid{}
}

func (r row) tm(t testing.TB) *proj.TransverseMercator {
	return proj.NewTransverseMercator(r.ellipsoid(t), proj.TMParams{
		Lat0: r.num(t, "lat0_deg"), Lon0: r.num(t, "lon0_deg"), K0: r.num(t, "scale0"),
		FalseE: r.num(t, "false_e_m"), FalseN: r.num(t, "false_n_m"),
	})
}

// near fails unless got is within tol of want; NaN is never near.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	compared.note(t.Name(), what, got-want, tol)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g (off by %.3g)", what, got, want, tol, got-want)
	}
}

func deg(rad float64) float64 { return rad * 180 / math.Pi }
