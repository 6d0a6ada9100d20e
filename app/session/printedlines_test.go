package session

import (
	"fmt"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
)

// filePoints are those a file gives of a sheet at 10 m a pixel, north up, whose
// corner lies at E 20 513, N 746 487.
func filePoints(sys *geodesy.System) []calib.ControlPoint {
	var out []calib.ControlPoint
	for _, p := range []calib.PicturePt{{}, {Col: 1000}, {Row: 1000}, {Col: 1000, Row: 1000}, {Col: 500, Row: 500}} {
		g := geodesy.Grid{E: 20513 + 10*p.Col, N: 746487 - 10*p.Row}
		e, n := sys.InUnits(g)
		out = append(out, calib.ControlPoint{At: p, Ref: g, Text: fmt.Sprintf("%.3f %.3f", e, n), Source: calib.FilePoint})
	}
	return out
}

// TestPointsOfAFileAreNotCheckedByOneIntersection, however it is typed and whatever
// source is chosen for it, as a file's matrix is not. Three, and latitude and longitude,
// check them.
func TestPointsOfAFileAreNotCheckedByOneIntersection(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	for name, place := range map[string]func(*Session) error{
		"points": func(s *Session) error { return s.TakeGeorefPoints(filePoints(sys), 0, sys.Code(), calib.Scan, "") },
		"matrix": func(s *Session) error {
			return s.TakeGeoref([6]float64{10, 0, 20513, 0, -10, 746487}, 0, sys.Code(), "")
		},
	} {
		m := newMemory()
		s := New(m, nil, today)
		must(t, s.OpenSheet(Picture{Path: "/maps/isle.kmz", Width: 1000, Height: 1000, SHA256: strings.Repeat("ab", 32)}))
		must(t, place(s))
		must(t, s.SaveAs("/plans/isle.legplan"))
		s = New(m, nil, today)
		must(t, s.Open("/plans/isle.legplan"))
		for _, source := range []calib.EvidenceSource{calib.FromList, calib.FromOwnGrid} {
			for _, text := range []string{"22000 745000", "NL 2200 4500 ", "NL 22000 45000"} {
				if v, err := s.AddEvidence(source, at(148.7, 148.7), text, 0.5); err != nil || v.Checked || v.Advice == "" {
					t.Errorf("%s, one intersection typed as %q from %s: %v, %+v", name, text, source, err, v)
				}
				s.Undo()
			}
		}
		for _, x := range [][2]float64{{22000, 745000}, {29000, 745000}, {22000, 738000}} {
			v, err := s.AddEvidence(calib.FromOwnGrid, at((x[0]-20513)/10, (746487-x[1])/10), fmt.Sprintf("%.0f %.0f", x[0], x[1]), 0.5)
			must(t, err)
			if v.Checked {
				t.Errorf("%s: checked without latitude and longitude", name)
			}
		}
		v, err := s.AddEvidence(calib.FromMargin, at(800, 300), latLon(t, s, 28513, 743487), 0.5)
		must(t, err)
		if !v.Checked {
			t.Errorf("%s: %+v", name, v)
		}
	}
}

// TestLatitudesMisreadAlikeCheckNothing: four intersections of latitude and
// longitude, each five minutes out, agree with a fifth. So do lines in feet.
func TestLatitudesMisreadAlikeCheckNothing(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	const mpp = 10
	west, north := 20000.0, 760000.0
	place := func(latMin, lonMin float64) calib.PicturePt { // minutes north of 56 N and west of 7 W
		g, _, _, err := sys.FromWGS84(geodesy.DegLatLon(56+latMin/60, -7-lonMin/60))
		must(t, err)
		return at((g.E-west)/mpp, (north-g.N)/mpp)
	}
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/isle.png", Width: 3000, Height: 3000}))
	must(t, s.SetGrid(sys.Code()))
	text := func(latMin, lonMin float64) string { return fmt.Sprintf("56°%g'N 7°%g'W", latMin, lonMin) }
	for _, m := range [][2]float64{{5, 0}, {5, 10}, {15, 0}, {15, 10}} {
		_, err := s.AddControlPoint(place(m[0], m[1]), text(m[0]+5, m[1]))
		must(t, err)
	}
	for _, m := range [][2]float64{{10, 5}, {10.3, 5.2}} {
		if v, err := s.AddEvidence(calib.FromMargin, place(m[0], m[1]), text(m[0]+5, m[1]), 0.5); err != nil || v.Checked {
			t.Errorf("another latitude and longitude of the margin, misread alike: %v, %+v", err, v)
		}
	}
	v, err := s.AddEvidence(calib.FromReceiver, place(10.3, 5.2), text(10.3, 5.2), 0.5)
	must(t, err)
	if v.Checked || !said(v, caution.EvidenceDisagree) {
		t.Errorf("a receiver's: %+v", v)
	}
}

func TestLinesInFeetMisreadAlikeCheckNothing(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Define("+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=us-ft")
	must(t, err)
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/hills.png", Width: 3000, Height: 3000}))
	must(t, s.SetGrid(sys.Code()))
	for _, c := range []struct {
		col, row float64
		text     string
	}{{500, 500, "310000 190000"}, {1500, 500, "320000 190000"}, {1500, 1500, "320000 180000"}, {500, 1500, "310000 180000"}} {
		_, err := s.AddControlPoint(at(c.col, c.row), c.text)
		must(t, err)
	}
	if v, err := s.AddEvidence(calib.FromList, at(1000, 1000), "315000 185000", 0.5); err != nil || v.Checked {
		t.Errorf("another intersection: %v, %+v", err, v)
	}
	ll := latLon(t, s, sys.FromUnits(315330, 184550).E, sys.FromUnits(315330, 184550).N)
	v, err := s.AddEvidence(calib.FromReceiver, at(1033, 1045), ll, 0.5)
	must(t, err)
	if !v.Checked {
		t.Errorf("with a receiver's position: %+v", v)
	}
}
