package leg

import (
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// askew is a perspective sheet with all its points in the upper left of the
// picture.
func askew() plan.Sheet {
	s := plan.Sheet{ID: "s", Code: geodesy.EPSG(27700), Width: 5000, Height: 4000, Medium: calib.Photograph}
	for _, at := range []calib.PicturePt{{Col: 300, Row: 300}, {Col: 700, Row: 300}, {Col: 700, Row: 600}, {Col: 300, Row: 600}, {Col: 500, Row: 450}, {Col: 500, Row: 300}, {Col: 300, Row: 450}} {
		s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: askewAt(at, s)})
	}
	return s
}

// askewAt is where a camera of usual lens that is turned by 8° to the side sees
// the ground, at about 2.5 m a pixel; straight on where the sheet is a scan.
func askewAt(at calib.PicturePt, s plan.Sheet) geodesy.Grid {
	u, v := at.Col-float64(s.Width)/2, at.Row-float64(s.Height)/2
	tilt := 0.0
	if s.Medium == calib.Photograph {
		tilt = 8 * math.Pi / 180
	}
	focal := 1.06 * math.Hypot(float64(s.Width), float64(s.Height))
	scale := 2.5 / (1 - u/focal*math.Tan(tilt))
	return geodesy.Grid{E: 215_500 + 3000 + scale*u/math.Cos(tilt), N: 774_500 - 2000 - scale*v}
}

// A position by itself is marked for all that spoils it, and for nothing else.
func TestCautionsOfAPosition(t *testing.T) {
	t.Parallel()
	s := askew()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	picked := func(col, row float64) plan.Position {
		return plan.PickedAt(s, c, calib.PicturePt{Col: col, Row: row}, 0.5)
	}
	typed := plan.Position{Grid: geodesy.Grid{E: 216_000, N: 774_000}, Code: geodesy.EPSG(27700), Origin: plan.Typed}
	derived := typed
	derived.Sheet = "s"
	disagreeing := witnessed(t, s)
	disagreeing.Evidence[0].Text = "NN 16000 73000"
	gone := picked(500, 500)
	gone.Sheet = "other"
	astray := typed
	astray.Grid.E = -900_000
	for _, tc := range []struct {
		name string
		of   plan.Sheet
		pos  plan.Position
		want []caution.Code
	}{
		{"checked", checkedSheet(), pick(t, checkedSheet(), 500, 500), []caution.Code{caution.ScopeGrid}},
		{"unchecked", s, picked(500, 500), []caution.Code{caution.Unchecked}},
		{"beyond the points", s, picked(4900, 3900), []caution.Code{caution.Unchecked, caution.OutsidePoints}},
		{"typed", s, typed, nil},
		{"derived on an unchecked sheet", s, derived, []caution.Code{caution.Unchecked}},
		{"on a sheet that evidence disagrees with", disagreeing, picked(500, 500), []caution.Code{caution.EvidenceDisagree, caution.Unchecked}},
		{"derived on a sheet that evidence disagrees with", disagreeing, derived, []caution.Code{caution.EvidenceDisagree, caution.Unchecked}},
		{"typed beside it", disagreeing, typed, nil},
		{"its sheet is gone", s, gone, []caution.Code{caution.SheetGone}},
		{"off the grid's area", s, astray, []caution.Code{caution.OutsideArea, caution.CoarseShift}},
	} {
		r, err := NewReader(&plan.Plan{Sheets: []plan.Sheet{tc.of}})
		if err != nil {
			t.Fatal(err)
		}
		var got []caution.Code
		for _, f := range r.CautionsOf(tc.pos) {
			if f.Code != caution.OpenSlip { // said of clustered points
				got = append(got, f.Code)
			}
		}
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: cautions %v, want %v", tc.name, got, tc.want)
		}
	}
}

// Every point of an exported plan says by itself why it cannot be trusted, and
// the whole says so of a sheet that is gone.
func TestExportMarksEveryPoint(t *testing.T) {
	t.Parallel()
	s := askew()
	s = witnessed(t, s)
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	near := plan.PickedAt(s, c, calib.PicturePt{Col: 500, Row: 500}, 0.5)
	far := plan.PickedAt(s, c, calib.PicturePt{Col: 4900, Row: 3900}, 0.5)
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetSheet(s).
		AddMark(plan.Mark{ID: "m1", Name: "Near", Position: near}).
		AddMark(plan.Mark{ID: "m2", Name: "Far", Position: far, Note: "cairn"}).
		AddLeg(plan.Leg{ID: "l1", From: plan.AtPosition(near), To: plan.AtPosition(far)})
	x, err := Export(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	const beyond = "outside the control points"
	for _, tc := range []struct {
		what string
		text string
		want bool
	}{
		{"the mark amid the points", x.Marks[0].Desc, false},
		{"the mark beyond them", x.Marks[1].Desc, true},
		{"the leg's start", x.Routes[0][0].Desc, true},
		{"the leg's end", x.Routes[0][1].Desc, true},
	} {
		if got := strings.Contains(tc.text, beyond); got != tc.want {
			t.Errorf("%s: %q, marked %v, want %v", tc.what, tc.text, got, tc.want)
		}
	}
	if !strings.HasPrefix(x.Marks[1].Desc, "STOP: outside the control points; cairn; ") {
		t.Errorf("the stop is not first, then the note: %q", x.Marks[1].Desc)
	}
	x, err = Export(p.RemoveSheet("s"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Cautions) != 1 || x.Cautions[0].Code != caution.SheetGone {
		t.Errorf("without its sheet the whole says %v", x.Cautions)
	}
}

// witnessed is a sheet with a list's references, to a metre, of three positions as
// evidence.
func witnessed(t *testing.T, s plan.Sheet) plan.Sheet {
	t.Helper()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys, err := geodesy.Lookup(s.Code)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []calib.PicturePt{{Col: 330, Row: 570}, {Col: 610, Row: 320}, {Col: 480, Row: 400}} {
		g := c.ToGrid(at)
		ref, err := sys.FormatRef(g, 10)
		if err != nil {
			t.Fatal(err)
		}
		s = s.WithEvidence(calib.Evidence{Source: calib.FromList, At: at, SigmaPx: 0.5, Text: ref, Ref: g})
	}
	return s
}
