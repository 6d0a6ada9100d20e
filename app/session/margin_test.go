package session

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// marginSheet is a sheet at 5 m a pixel, north up, whose corner lies at E 20 000,
// N 760 000, calibrated by four crossings of the kilometre grid, all read wrong by
// eastM.
func marginSheet(t *testing.T, code geodesy.Code, eastM float64) *Session {
	t.Helper()
	s := New(newMemory(), nil, today)
	must(t, s.OpenSheet("/maps/isle.png", 3000, 3000, strings.Repeat("cd", 32), 0))
	must(t, s.SetGrid(code))
	for _, p := range [][2]float64{{400, 400}, {2600, 400}, {400, 2600}, {2600, 2600}} {
		_, err := s.AddControlPoint(at(p[0], p[1]), fmt.Sprintf("%.0f %.0f", 20000+5*p[0]+eastM, 760000-5*p[1]))
		must(t, err)
	}
	return s
}

// printed writes latitude and longitude as a margin does, in degrees, minutes
// and seconds.
func printed(at geodesy.LatLon) string {
	dms := func(deg float64, plus, minus string) string {
		letter := plus
		if deg < 0 {
			letter = minus
		}
		sec := math.Round(math.Abs(deg) * 3600)
		return fmt.Sprintf("%.0f°%02.0f'%02.0f\"%s", math.Floor(sec/3600), math.Floor(math.Mod(sec, 3600)/60), math.Mod(sec, 60), letter)
	}
	return dms(at.Lat.Deg(), "N", "S") + " " + dms(at.Lon.Deg(), "E", "W")
}

// TestMarginProves: the latitude and longitude that the margin prints prove a
// sheet that was calibrated by grid references, at a crossing of the grid too, on
// WGS 84 and on the grid's own datum; and they catch a square that was misread
// alike everywhere. The proof lasts through a file.
func TestMarginProves(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	for _, c := range []struct {
		name     string
		col, row float64
		own      bool
		eastM    float64 // misread alike everywhere
		want     string  // of the error, "" where it proves
	}{
		{"a corner at a crossing", 200, 200, false, 0, ""},
		{"on the grid's own datum", 200, 200, true, 0, ""},
		{"off the lines", 1333, 1777, false, 0, ""},
		{"a square misread alike", 200, 200, false, 1000, "sigma where 2 are allowed"},
		{"the same, on the own datum", 200, 200, true, -1000, "sigma where 2 are allowed"},
		{"half a square", 200, 200, false, 500, "sigma where 2 are allowed"},
		{"a control point itself", 400, 400, false, 0, "this is control point"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := marginSheet(t, sys.Code(), c.eastM)
			g := geodesy.Grid{E: 20000 + 5*c.col, N: 760000 - 5*c.row} // the truth
			ll, _, err := sys.ToWGS84(g)
			if c.own {
				ll, _, err = sys.Unproject(g)
			}
			must(t, err)
			err = s.Prove(at(c.col, c.row), printed(ll), 0.5)
			sheet, _ := s.Sheet()
			if c.want != "" {
				var refused *Refused
				if !errors.As(err, &refused) || !strings.Contains(err.Error(), c.want) || sheet.Proof.Proved() {
					t.Errorf("got %v, proof %+v; want %q", err, sheet.Proof, c.want)
				}
				return
			}
			must(t, err)
			if p := sheet.Proof; p.Kind != calib.ProofMargin || strings.Contains(p.Detail, "own datum") != c.own || p.By[0].Text != printed(ll) {
				t.Errorf("got proof %+v", p)
			}
			if held := s.Plan().HoldProofs(); held != s.Plan() {
				t.Errorf("made again it does not hold: %q", held.Mended)
			}
			_, err = s.SetControlReference(0, "23000 758000")
			must(t, err)
			if sheet, _ := s.Sheet(); sheet.Proof.Proved() {
				t.Errorf("it outlives a change of its control points")
			}
		})
	}
}

// TestMarginProvesAtAControlPoint: at the corner of a map whose printed grid was
// taken, latitude and longitude prove the sheet in place of the control point
// that is there, and catch a square misread alike. Its own reference does not.
func TestMarginProvesAtAControlPoint(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	ll, _, err := sys.ToWGS84(geodesy.Grid{E: 22000, N: 758000}) // of the first control point
	must(t, err)
	for _, c := range []struct {
		name  string
		eastM float64
		less  int // control points taken away before
		text  string
		want  string
	}{
		{"true", 0, 0, printed(ll), ""},
		{"a square misread alike", 1000, 0, printed(ll), "sigma where 2 are allowed"},
		{"its own reference", 0, 0, "22000 758000", "type the latitude and longitude"},
		{"few points", 0, 1, printed(ll), "where 3 others are left"},
		{"nonsense", 0, 0, "ill", ""},
	} {
		s := marginSheet(t, sys.Code(), c.eastM)
		for range c.less {
			must(t, s.RemoveControlPoint(3))
		}
		before := s.Plan()
		err := s.ProveByControlPoint(0, c.text)
		sheet, _ := s.Sheet()
		if c.want != "" || c.text == "ill" {
			if err == nil || !strings.Contains(err.Error(), c.want) || s.Plan() != before {
				t.Errorf("%s: got %v, changed %t; want %q", c.name, err, s.Plan() != before, c.want)
			}
			continue
		}
		must(t, err)
		if sheet.Proof.Kind != calib.ProofMargin || len(sheet.Points) != 3 {
			t.Errorf("%s: proof %+v with %d points", c.name, sheet.Proof, len(sheet.Points))
		}
		if held := s.Plan().HoldProofs(); held != s.Plan() {
			t.Errorf("made again it does not hold: %q", held.Mended)
		}
		s.Undo()
		if sheet, _ := s.Sheet(); sheet.Proof.Proved() || len(sheet.Points) != 4 {
			t.Errorf("undone: proof %+v with %d points", sheet.Proof, len(sheet.Points))
		}
	}
}

// TestMarginFiguresAsExactAsPrinted: few figures leave too much open, and whole
// minutes are lines.
func TestMarginFiguresAsExactAsPrinted(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	s := marginSheet(t, sys.Code(), 0)
	place := func(ll geodesy.LatLon) calib.PicturePt {
		g, _, _, err := sys.FromWGS84(ll)
		must(t, err)
		return at((g.E-20000)/5, (760000-g.N)/5)
	}
	for _, c := range []struct {
		text string
		at   geodesy.LatLon
		want string
	}{
		{"56.62° -7.08°", geodesy.DegLatLon(56.62, -7.08), "cannot catch a misread square"},
		{"56°38'N 7°5'W", geodesy.DegLatLon(56+38.0/60, -7-5.0/60), ""},
		{"56°38'N 7°5'W", geodesy.DegLatLon(56+38.05/60, -7-5.0/60), "sigma where 2 are allowed"}, // 93 m beside the line
		{"56°38.02'N 7°5.01'W", geodesy.DegLatLon(56+38.02/60, -7-5.01/60), ""},
	} {
		err := s.Prove(place(c.at), c.text, 0.5)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s for %v: got %v, want %q", c.text, c.at, err, c.want)
		}
	}
}

// TestMarginIsNoProofOfLatitudes: where a control point was itself read in
// latitude and longitude, a crossing of such lines proves nothing; and a proof by
// the margin in a file does not hold with such points, nor by another text.
func TestMarginIsNoProofOfLatitudes(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	s := marginSheet(t, sys.Code(), 0)
	sheet, _ := s.Sheet()
	if !sheet.ByGridReferences() {
		t.Fatal("the sheet is not taken to be calibrated by grid references")
	}
	ll, _, err := sys.ToWGS84(geodesy.Grid{E: 21000, N: 759000})
	must(t, err)
	must(t, s.Prove(at(200, 200), printed(ll), 0.5))
	sheet, _ = s.Sheet()
	for name, edit := range map[string]func(){
		"another text": func() { sheet.Proof.By[0].Text = "57°00'00\"N 7°00'00\"W" },
		"a grid text":  func() { sheet.Proof.By[0].Text = "21000 759000" },
		"loose":        func() { sheet.Proof.By[0].SigmaRefM = 120 },
	} {
		by := sheet.Proof.By[0]
		edit()
		if held := s.Plan().SetSheet(sheet).HoldProofs(); held.Sheets[0].Proof.Proved() {
			t.Errorf("%s: the proof holds", name)
		}
		sheet.Proof.By[0] = by
	}
	g, _, _, err := sys.FromWGS84(geodesy.DegLatLon(56+38.0/60, -7-5.0/60))
	must(t, err)
	_, err = s.AddControlPoint(at((g.E-20000)/5, (760000-g.N)/5), "56°38'N 7°5'W")
	must(t, err)
	if sheet, _ := s.Sheet(); sheet.ByGridReferences() {
		t.Error("a latitude among the control points is taken for a grid reference")
	}
	if err := s.Prove(at(200, 200), printed(ll), 0.5); err == nil {
		t.Error("a corner at a crossing of the grid proves a sheet with a latitude among its points")
	}
}
