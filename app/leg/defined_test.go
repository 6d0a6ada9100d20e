package leg

import (
	"math"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

func defined(t testing.TB, text string) *geodesy.System {
	t.Helper()
	s, err := geodesy.Define(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A grid by definition that is the National Grid moved by a round length must
// give the National Grid's readings, magnetic ones included.
func TestReadingsOnADefinedGrid(t *testing.T) {
	t.Parallel()
	moved := defined(t, "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=500000 +y_0=300000 +datum=OSGB36")
	if moved.EPSG() != 0 {
		t.Fatalf("taken for %v", moved)
	}
	a, b := geodesy.Grid{E: 53_000, N: 797_000}, geodesy.Grid{E: 54_200, N: 796_100}
	by := func(g geodesy.Grid) geodesy.Grid { return geodesy.Grid{E: g.E + 100_000, N: g.N + 400_000} }
	want, err := NewSighter(system(t, 27700), day, plan.Compass{}).Sight(a, b, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	got, err := NewSighter(moved, day, plan.Compass{}).Sight(by(a), by(b), 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
		tolerance float64
	}{
		{"grid °", got.Grid.Angle().Deg(), want.Grid.Angle().Deg(), 1e-9},
		{"true °", got.True.Angle().Deg(), want.True.Angle().Deg(), 1e-7},
		{"magnetic °", got.Magnetic.Angle().Deg(), want.Magnetic.Angle().Deg(), 1e-7},
		{"GMA °", got.GMA.Angle().Deg(), want.GMA.Angle().Deg(), 1e-7},
		{"ground m", got.GroundM, want.GroundM, 1e-6},
		{"latitude °", got.FromLatLon.Lat.Deg(), want.FromLatLon.Lat.Deg(), 1e-10},
	} {
		if math.Abs(c.got-c.want) > c.tolerance {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if !got.HasMagnetic || got.Has(caution.ShiftUnknown) || got.Shift != want.Shift {
		t.Errorf("got %+v", got)
	}
}

// A grid whose datum nothing is known of: bearings stand, latitude and
// longitude are marked on the reading, on the leg and on every mark that goes
// to a receiver.
func TestUnknownShiftIsMarked(t *testing.T) {
	t.Parallel()
	bare := defined(t, "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=100000 +y_0=100000 +ellps=airy")
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: bare.Code(), Origin: plan.Typed, Text: "typed"}
	}
	p := plan.New(day).SetSheet(plan.Sheet{ID: "sheet-1", Width: 100, Height: 100, Code: bare.Code()})
	p = p.AddMark(plan.Mark{ID: "mark-1", Name: "Cairn", Position: at(100_000, 120_000)})
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtPosition(at(100_000, 120_000)), To: plan.AtPosition(at(101_000, 121_000))})
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	r, err := readerOf(t, p).Read(at(100_000, 120_000), at(101_000, 121_000))
	if err != nil {
		t.Fatal(err)
	}
	if !r.Has(caution.ShiftUnknown) || r.Has(caution.CoarseShift) || !r.HasMagnetic || math.Abs(r.Grid.Angle().Deg()-45) > 1e-9 {
		t.Errorf("reading %+v", r)
	}
	out, err := Export(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	const words = "hundreds of metres"
	if len(out.Marks) != 1 || !strings.Contains(out.Marks[0].Desc, words) || !strings.Contains(out.Routes[0][0].Desc, words) {
		t.Errorf("exported %+v", out)
	}
}

// A plan whose grid is not known has no readings, and nothing in it panics.
func TestReaderOfAnUnknownGrid(t *testing.T) {
	t.Parallel()
	sheet := checkedSheet()
	sheet.Code = geodesy.EPSG(99999)
	lent := typed(27700, 53_000, 797_000)
	lent.LettersFrom = sheet.ID
	p := plan.New(day).SetSheet(sheet)
	p.Legs = []plan.Leg{{ID: "leg-1", From: plan.End{Position: lent}, To: plan.End{Position: lent}}}
	r, err := NewReader(p)
	if err == nil || r == nil {
		t.Fatalf("got %v, %v, want a reader and the error of its grid", r, err)
	}
	if _, err := r.Read(lent, lent); err == nil || !strings.Contains(err.Error(), "99999") {
		t.Errorf("a reading gives %v, want the error of the grid", err)
	}
	if words, g := r.LettersSource(lent); g != caution.Stop || !strings.Contains(words, "is not known") {
		t.Errorf("letters lent by %q, grade %v", words, g)
	}
	if sys := r.System(); sys != nil {
		t.Errorf("got the grid %v", sys)
	}
}
