package session

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"legwright/app/calib"
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

// TestPointsOfAFileAreNotProvedByOneCrossing, however it is typed, as a file's
// matrix is not; a pillar proves them.
func TestPointsOfAFileAreNotProvedByOneCrossing(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	placed := map[string]func(*Session) error{
		"points": func(s *Session) error { return s.TakePlacePoints(filePoints(sys), 0, sys.Code(), calib.Scan) },
		"matrix": func(s *Session) error {
			return s.TakePlace([6]float64{10, 0, 20513, 0, -10, 746487}, 0, sys.Code())
		},
		"fine matrix": func(s *Session) error { // 0.4 m a pixel
			return s.TakePlace([6]float64{0.4, 0, 22000 - 0.4*148.7, 0, -0.4, 745000 + 0.4*148.7}, 0, sys.Code())
		},
	}
	for name, place := range placed {
		m := newMemory()
		s := New(m, nil, today)
		must(t, s.OpenSheet("/maps/isle.kmz", 1000, 1000, strings.Repeat("ab", 32), 0))
		must(t, place(s))
		must(t, s.SaveAs("/plans/isle.legplan"))
		other := New(m, nil, today)
		must(t, other.Open("/plans/isle.legplan"))
		for _, s := range []*Session{s, other} {
			var refused *Refused
			for _, text := range []string{"22000 745000", "NL 2200 4500 ", "NL 22000 45000"} {
				if err := s.Prove(at(148.7, 148.7), text, 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "three crossings") {
					t.Errorf("%s, one crossing typed as %q: got %v, want it refused", name, text, err)
				}
			}
		}
		if name == "fine matrix" { // there lines each 100 m would be 250 px apart
			if err := s.Prove(at(148.7+250, 148.7+250), "22100 744900", 0.5); err == nil || !strings.Contains(err.Error(), "three crossings") {
				t.Errorf("a crossing of lines each 100 m: got %v, want it refused", err)
			}
			must(t, s.Prove(at(148.7+325, 148.7+250), "22130 744900", 0.5))
			continue
		}
		must(t, s.Prove(at(725, 320), "27763 743287", 0.5))
	}
}

// TestLatitudesMisreadAlikeProveNothing: four crossings of latitude and
// longitude, each five minutes out, agree with a fifth. So do lines in feet.
func TestLatitudesMisreadAlikeProveNothing(t *testing.T) {
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
	must(t, s.OpenSheet("/maps/isle.png", 3000, 3000, "", 0))
	must(t, s.SetGrid(sys.Code()))
	text := func(latMin, lonMin float64) string { return fmt.Sprintf("56°%g'N 7°%g'W", latMin, lonMin) }
	for _, m := range [][2]float64{{5, 0}, {5, 10}, {15, 0}, {15, 10}} {
		_, err := s.AddControlPoint(place(m[0], m[1]), text(m[0]+5, m[1]))
		must(t, err)
	}
	var refused *Refused
	if err := s.Prove(place(10, 5), text(15, 5), 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "printed lines") {
		t.Errorf("a fifth crossing misread alike: got %v, want it refused", err)
	}
	if err := s.Prove(place(10.3, 5.2), text(15.3, 5.2), 0.5); err != nil {
		t.Errorf("a feature off the lines: got %v", err)
	}
}

func TestLinesInFeetMisreadAlikeProveNothing(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Define("+proj=tmerc +lat_0=40 +lon_0=-112 +k=1 +x_0=100000 +y_0=0 +datum=NAD83 +units=us-ft")
	must(t, err)
	s := New(nil, nil, today)
	must(t, s.OpenSheet("/maps/hills.png", 3000, 3000, "", 0))
	must(t, s.SetGrid(sys.Code()))
	for _, c := range []struct {
		col, row float64
		text     string
	}{{500, 500, "310000 190000"}, {1500, 500, "320000 190000"}, {1500, 1500, "320000 180000"}, {500, 1500, "310000 180000"}} {
		_, err := s.AddControlPoint(at(c.col, c.row), c.text)
		must(t, err)
	}
	var refused *Refused
	if err := s.Prove(at(1000, 1000), "315000 185000", 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "printed lines") {
		t.Errorf("another crossing: got %v, want it refused", err)
	}
	must(t, s.Prove(at(1033, 1045), "315330 184550", 0.5))
}
