package dem

import (
	"bytes"
	"math"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// sixtyLegs returns ground of posts of one second, seen from another grid than theirs, and
// a route of sixty legs of 800 m over it.
func sixtyLegs(t testing.TB) (g terrain.Ground, legs [60][2]geodesy.Grid) {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	start, _, _, err := sys.FromWGS84(geodesy.DegLatLon(56.4, -7.6))
	if err != nil {
		t.Fatal(err)
	}
	area, err := terrain.AreaOf(sys, start, geodesy.Grid{E: start.E + 9000, N: start.N + 6000}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	data := make([]byte, 2*3601*3601)
	tile, err := Open(t.Context(), bytes.NewReader(data), int64(len(data)), "N56W008.hgt", Want{Area: area})
	if err != nil {
		t.Fatal(err)
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	for i := range legs {
		sin, cos := math.Sincos(float64(i))
		from := geodesy.Grid{E: start.E + 1000 + 100*float64(i), N: start.N + 1000 + 50*float64(i)}
		legs[i] = [2]geodesy.Grid{from, {E: from.E + 800*sin, N: from.N + 800*cos}}
	}
	return m.On(sys), legs
}

// TestSixtyProfiles: each profile of a route that BenchmarkSixtyProfiles measures is whole
// and as long as its leg.
func TestSixtyProfiles(t *testing.T) {
	t.Parallel()
	g, legs := sixtyLegs(t)
	for i, l := range legs {
		if p := g.Underfoot(l[0], l[1]); !p.Whole() || math.Abs(p.LengthM()-800) > 1 {
			t.Errorf("leg %d: %d voids, %v m long", i+1, p.Voids(), p.LengthM())
		}
	}
}

// BenchmarkSixtyProfiles measures the profiles of a route of sixty legs.
func BenchmarkSixtyProfiles(b *testing.B) {
	g, legs := sixtyLegs(b)
	for b.Loop() {
		for _, l := range legs {
			g.Underfoot(l[0], l[1])
		}
	}
}
