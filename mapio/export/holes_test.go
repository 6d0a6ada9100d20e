package export

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/geojson"
)

// holed is an area of 400 × 400 m with two holes of 100 × 100 m, joined to its border and to each
// other by slits 0.4 m wide.
func holed(southWest geodesy.Grid, turned bool) []plan.Position {
	at := [][2]float64{
		{0, 0},
		{400, 0},
		{400, 400},
		{200.4, 400},
		{200.4, 350},
		{250, 350},
		{250, 250},
		{200.4, 250},
		{200.4, 150},
		{250, 150},
		{250, 50},
		{150, 50},
		{150, 150},
		{200, 150},
		{200, 250},
		{150, 250},
		{150, 350},
		{200, 350},
		{200, 400},
		{0, 400},
	}
	if turned {
		slices.Reverse(at)
	}
	out := make([]plan.Position, len(at))
	for i, d := range at {
		out[i] = plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: southWest.E + d[0], N: southWest.N + d[1]}, 1)
	}
	return out
}

// An area with holes has them in GeoJSON and KML, without the slits that join them in a plan, and
// comes back from GeoJSON as it was. After a change by another program the whole area counts.
func TestHolesGoOutAndComeBack(t *testing.T) {
	t.Parallel()
	for _, turned := range []bool{false, true} {
		p := demoReader(t).Plan()
		points := holed(geodesy.Grid{E: 25000, N: 743000}, turned)
		r, err := leg.NewReader(p.AddHazard(plan.Hazard{ID: "moat", Name: "Moat", Kind: plan.Steep, Closed: true, Points: points, KeepM: 30}))
		if err != nil {
			t.Fatal(err)
		}
		text := bytesOf(t, r, GeoJSON)
		back := moat(t, text)
		if back.Holes != 0 || len(back.Points) != len(points) {
			t.Fatalf("turned %v: %d points and %d holes left out, want %d and none", turned, len(back.Points), back.Holes, len(points))
		}
		if turned {
			slices.Reverse(points)
			points = append(points[len(points)-1:], points[:len(points)-1]...)
		}
		sys, err := r.SystemOf(points[0].Code)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range back.Points {
			g, _, _, err := sys.FromWGS84(at)
			if off := math.Hypot(g.E-points[i].Grid.E, g.N-points[i].Grid.N); err != nil || off > 0.01 {
				t.Errorf("turned %v: point %d comes back %.3f m off, %v", turned, i, off, err)
			}
		}
		if bent := moat(t, bytes.Replace(text, []byte(`"rings": "0:`), []byte(`"rings": "0:1`), 1)); bent.Holes != 2 || len(bent.Points) != 6 {
			t.Errorf("turned %v: an outline that does not fit its rings has %d points and %d holes left out", turned, len(bent.Points), bent.Holes)
		}
		kml := string(bytesOf(t, r, KML))
		_, kml, _ = strings.Cut(kml, "<name>Moat</name>")
		kml, _, _ = strings.Cut(kml, "</Placemark>")
		if n, rings := strings.Count(kml, "<innerBoundaryIs>"), strings.Count(kml, "<LinearRing>"); n != 2 || rings != 3 {
			t.Errorf("turned %v: KML has %d holes and %d rings: %s", turned, n, rings, kml)
		}
	}
}

// moat is the area of that name.
func moat(t *testing.T, text []byte) geojson.Shape {
	t.Helper()
	list, err := geojson.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(list, func(s geojson.Shape) bool { return s.Name == "Moat" })
	if i < 0 {
		t.Fatal("the area did not come back")
	}
	return list[i]
}
