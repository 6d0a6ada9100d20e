package session

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// misreadSheet is a sheet at mpp metres a pixel, north up, whose corner lies at
// corner, calibrated by crossings of lines at places in the picture that were all
// read eastM and northM too far.
func misreadSheet(t *testing.T, code geodesy.Code, corner geodesy.Grid, mpp, eastM, northM float64, places ...[2]float64) *Session {
	t.Helper()
	s := New(newMemory(), nil, today)
	must(t, s.OpenSheet("/maps/isle.png", 3000, 3000, strings.Repeat("cd", 32), 0))
	must(t, s.SetGrid(code))
	for _, p := range places {
		_, err := s.AddControlPoint(at(p[0], p[1]), fmt.Sprintf("%.0f %.0f", corner.E+mpp*p[0]+eastM, corner.N-mpp*p[1]+northM))
		must(t, err)
	}
	return s
}

// marginAt is the latitude and longitude that the margin prints at a place, with
// a number of decimals of a minute.
func marginAt(t *testing.T, sys *geodesy.System, g geodesy.Grid, own bool, decimals int) string {
	t.Helper()
	ll, _, err := sys.ToWGS84(g)
	if own {
		ll, _, err = sys.Unproject(g)
	}
	must(t, err)
	part := func(deg float64, plus, minus string) string {
		letter := plus
		if deg < 0 {
			letter = minus
		}
		deg = math.Abs(deg)
		return fmt.Sprintf("%.0f°%.*f'%s", math.Floor(deg), decimals, 60*(deg-math.Floor(deg)), letter)
	}
	return part(ll.Lat.Deg(), "N", "S") + " " + part(ll.Lon.Deg(), "E", "W")
}

// TestMarginCannotProveCloseLines: figures of a tenth of a minute are too coarse
// to tell a line each 100 m or 200 m from the next; those of a hundredth tell it.
func TestMarginCannotProveCloseLines(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	corner := geodesy.Grid{E: 27_000, N: 745_000}
	for _, c := range []struct {
		step     float64
		lines    float64 // misread alike
		decimals int
		proves   bool
	}{
		{100, 1, 1, false},
		{100, -1, 1, false},
		{200, 1, 1, false},
		{100, 1, 2, false},
		{100, 0, 2, true},
		{200, 0, 2, true},
	} {
		far := 1200 / 0.5
		s := misreadSheet(t, sys.Code(), corner, 0.5, c.lines*c.step, 0, [2]float64{400, 400}, [2]float64{400 + far, 400}, [2]float64{400, 400 + far}, [2]float64{400 + far, 400 + far})
		proved := 0
		for i := range 40 {
			col, row := 500+40*float64(i), 700+37*float64(i)
			g := geodesy.Grid{E: corner.E + 0.5*col, N: corner.N - 0.5*row}
			if err := s.Prove(at(col, row), marginAt(t, sys, g, false, c.decimals), 0.5); err == nil {
				proved++
			}
		}
		if c.proves != (proved > 0) {
			t.Errorf("lines each %g m, %g misread, %d decimals: %d of 40 places prove", c.step, c.lines, c.decimals, proved)
		}
	}
}

// TestMarginOnTheOtherDatum: where the two datums lie a printed line apart, a
// sheet of which all lines were misread alike agrees with the margin on the wrong
// one, and one that was read right does not prove either.
func TestMarginOnTheOtherDatum(t *testing.T) {
	t.Parallel()
	// On the meridian the datum's shift of 100 m along y is 100 m to the east.
	sys, err := geodesy.Define("+proj=tmerc +lat_0=50 +lon_0=0 +k=1 +x_0=50000 +y_0=50000 +a=6378137 +rf=298.257223563 +towgs84=0,100,0")
	must(t, err)
	corner := geodesy.Grid{E: 49_000, N: 51_000}
	const far = 2000
	for _, c := range []struct {
		name   string
		mpp    float64
		first  float64 // column and row of the first control point
		eastM  float64
		proves bool
	}{
		{"lines each 100 m, one misread", 0.5, 200, 100, false},
		{"lines each 100 m, the other way", 0.5, 200, -100, false},
		{"lines each 100 m, read right", 0.5, 200, 0, false},
		{"lines each 1000 m, read right", 5, 400, 0, true},
		{"lines each 1000 m, one misread", 5, 400, 1000, false},
	} {
		for _, own := range []bool{false, true} {
			s := misreadSheet(t, sys.Code(), corner, c.mpp, c.eastM, 0, [2]float64{c.first, c.first}, [2]float64{c.first + far, c.first}, [2]float64{c.first, c.first + far}, [2]float64{c.first + far, c.first + far})
			g := geodesy.Grid{E: corner.E + c.mpp*1111, N: corner.N - c.mpp*1733}
			err := s.Prove(at(1111, 1733), marginAt(t, sys, g, own, 4), 0.5)
			sheet, _ := s.Sheet()
			if sheet.Proof.Proved() != c.proves {
				t.Errorf("%s, margin on the own datum %t: proof %+v, %v", c.name, own, sheet.Proof, err)
			}
		}
	}
}

// TestProofSeesEveryPoint: where nothing else checks two points, a place beside
// one of them does not see a square misread at the other; one far from both does,
// and it does not prove in the middle of two, which may be exchanged.
func TestProofSeesEveryPoint(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	corner := geodesy.Grid{E: 20_000, N: 760_000}
	place := func(col, row float64) geodesy.Grid { return geodesy.Grid{E: corner.E + 5*col, N: corner.N - 5*row} }
	for _, c := range []struct {
		name      string
		col, row  float64
		misread   bool // the second point, by a square
		exchanged bool
		want      string
		byFeature bool
	}{
		{name: "beside the first, the second misread", col: 418, row: 387, misread: true, want: "a square misread at control point 2 would hardly show"},
		{name: "beside the first", col: 418, row: 387, want: "a square misread at control point 2 would hardly show"},
		{name: "a feature beside the first, the second misread", col: 418, row: 387, misread: true, byFeature: true, want: "a square misread at control point 2 would hardly show"},
		{name: "in the middle of two exchanged ones", col: 1503, row: 1498, exchanged: true, want: "lies on the line"},
		{name: "far from both", col: 2500, row: 700},
		{name: "a feature far from both", col: 2511, row: 703, byFeature: true},
		{name: "far from both, the second misread", col: 2500, row: 700, misread: true, want: "would hardly show"},
	} {
		s := misreadSheet(t, sys.Code(), corner, 5, 0, 0, [2]float64{400, 400}, [2]float64{2600, 2600})
		ref := func(col, row, e float64) string {
			g := place(col, row)
			return fmt.Sprintf("%.0f %.0f", g.E+e, g.N)
		}
		if c.misread {
			_, err = s.SetControlReference(1, ref(2600, 2600, 1000))
			must(t, err)
		}
		if c.exchanged {
			_, err = s.SetControlReference(1, "1000 1000") // on the way
			must(t, err)
			_, err = s.SetControlReference(0, ref(2600, 2600, 0))
			must(t, err)
			_, err = s.SetControlReference(1, ref(400, 400, 0))
			must(t, err)
		}
		text := marginAt(t, sys, place(c.col, c.row), false, 4)
		if c.byFeature {
			text = ref(c.col, c.row, 0)
		}
		err = s.Prove(at(c.col, c.row), text, 0.5)
		sheet, _ := s.Sheet()
		if sheet.Proof.Proved() != (c.want == "") || c.want != "" && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, proof %+v; want %q", c.name, err, sheet.Proof, c.want)
		}
	}
}

// TestUndoneProofHolds: a proof that comes back by undo is that of the
// calibration that comes back with it.
func TestUndoneProofHolds(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	s := marginSheet(t, sys.Code(), 0)
	must(t, s.Prove(at(200, 200), marginAt(t, sys, geodesy.Grid{E: 21_000, N: 759_000}, false, 4), 0.5))
	_, err = s.SetControlReference(1, "34000 758000")
	must(t, err)
	if sheet, _ := s.Sheet(); sheet.Proof.Proved() {
		t.Fatal("the proof outlives the change")
	}
	s.Undo()
	if sheet, _ := s.Sheet(); !sheet.Proof.Proved() || s.Plan().HoldProofs() != s.Plan() {
		t.Errorf("after undo: proof %+v, held %v", sheet.Proof, s.Plan().HoldProofs().Mended)
	}
	s.Redo()
	if sheet, _ := s.Sheet(); sheet.Proof.Proved() {
		t.Error("after redo the proof of the other calibration is there")
	}
}

// TestMisreadMarginNeverProves: the wrong hemisphere, degrees for minutes and swapped
// figures never prove.
func TestMisreadMarginNeverProves(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(32719)) // south and west
	must(t, err)
	corner := geodesy.Grid{E: 400_000, N: 7_000_000}
	s := misreadSheet(t, sys.Code(), corner, 5, 0, 0, [2]float64{400, 400}, [2]float64{2600, 400}, [2]float64{400, 2600}, [2]float64{2600, 2600})
	g := geodesy.Grid{E: corner.E + 5*1333, N: corner.N - 5*1777}
	right := marginAt(t, sys, g, false, 4)
	ll, _, err := sys.ToWGS84(g)
	must(t, err)
	lat, lon := -ll.Lat.Deg(), -ll.Lon.Deg()
	whole := func(v float64) (float64, float64) { return math.Floor(v), 60 * (v - math.Floor(v)) }
	latD, latM := whole(lat)
	lonD, lonM := whole(lon)
	for _, text := range []string{
		fmt.Sprintf("%.0f°%.4f'N %.0f°%.4f'W", latD, latM, lonD, lonM),
		fmt.Sprintf("%.0f°%.4f'S %.0f°%.4f'E", latD, latM, lonD, lonM),
		fmt.Sprintf("%.6f°S %.6f°W", latD+latM/100, lonD+lonM/100), // minutes read as hundredths
		fmt.Sprintf("%.0f°%.4f'S %.0f°%.4f'W", latD, lonM, lonD, latM),
		fmt.Sprintf("%.0f°%.4f'S %.0f°%.4f'W", latD, latM+1, lonD, lonM),
		fmt.Sprintf("%.0f°%.4f'S %.0f°%.4f'W", latD, latM, lonD, lonM-0.5),
	} {
		err := s.Prove(at(1333, 1777), text, 0.5)
		if sheet, _ := s.Sheet(); err == nil || sheet.Proof.Proved() {
			t.Errorf("%s for %s proves", text, right)
		}
	}
	must(t, s.Prove(at(1333, 1777), right, 0.5))
}
