package overlay

import (
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// outing is a plan on EPSG:27700 over a sheet of 1600 × 1200 pixels at 2.5 m
// a pixel whose corner lies at E 215 500, N 774 500, turned by nothing; the
// third control point is 2 px off.
func outing(t *testing.T) (*plan.Plan, *leg.Reader, *calib.Calibration) {
	t.Helper()
	point := func(col, row, e, n float64) calib.ControlPoint {
		return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: e, N: n}, Text: "x"}
	}
	s := plan.Sheet{
		ID: "sheet-1", Width: 1600, Height: 1200, Code: geodesy.EPSG(27700), Medium: calib.Scan,
		Points: []calib.ControlPoint{
			point(200, 200, 216000, 774000), point(1400, 200, 219000, 774000),
			point(200, 1000, 216000, 772000), point(1402, 1000, 219000, 772000),
		},
	}
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 25})
	p.Sheets = []plan.Sheet{s}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	typed := plan.Position{Grid: geodesy.Grid{E: 217000, N: 773000}, Code: geodesy.EPSG(27700), Origin: plan.Typed}
	hut := plan.Mark{ID: "hut", Name: "Hut", Position: plan.PickedAt(s, c, calib.PicturePt{Col: 300.25, Row: 400.5}, 0.5)}
	cairn := plan.Mark{ID: "cairn", Name: "Cairn", Position: typed}
	p = p.AddMark(hut).AddMark(cairn)
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(hut), To: plan.AtMark(cairn)})
	p = p.AddSight(plan.Sight{ID: "sight-1", From: plan.AtMark(cairn), To: plan.AtMark(hut)})
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return p, r, c
}

func near(t *testing.T, what string, got, want view.PicPt, tol float64) {
	t.Helper()
	if got.Dist(want) > tol {
		t.Errorf("%s: got %v, want %v within %v px", what, got, want, tol)
	}
}

func TestSceneOf(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	s := SceneOf(p, r, c, Selection{ID: "leg-1", Control: 2}, Options{Grid: true, Residuals: true, Labels: true})
	if len(s.Marks) != 2 || len(s.Legs) != 1 || len(s.Sights) != 1 || len(s.Controls) != 4 || len(s.Residuals) != 4 {
		t.Fatalf("got %d marks, %d legs, %d sights, %d controls, %d residuals", len(s.Marks), len(s.Legs), len(s.Sights), len(s.Controls), len(s.Residuals))
	}
	if want := (view.PicPt{X: 300.25, Y: 400.5}); s.Marks[0].At != want {
		t.Errorf("a picked mark stands at %v, want its own pixel %v", s.Marks[0].At, want)
	}
	near(t, "a typed mark", s.Marks[1].At, view.PicPt{X: 600, Y: 600}, 2)
	if l := s.Legs[0]; l.From != s.Marks[0].At || l.To != s.Marks[1].At || !l.Selected {
		t.Errorf("the leg runs %v→%v, selected %v", l.From, l.To, l.Selected)
	}
	if m := s.Legs[0].From.Dist(s.Legs[0].To) * 2.5; math.Abs(s.Legs[0].LengthM/m-1) > 0.003 {
		t.Errorf("the leg is %v m long, want about %v", s.Legs[0].LengthM, m)
	}
	if s.Legs[0].Stopped || s.Sights[0].Stopped {
		t.Error("readings from an unchecked sheet are marked, which is a note")
	}
	if s.Controls[0].Selected || !s.Controls[1].Selected {
		t.Error("the second control point is the chosen one")
	}
}

// Ends that no mark names carry their letter on the sheet as in the ledger, once where
// legs are joined, and ends on marks carry none.
func TestEndsCarryTheirLetters(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	want := map[string]bool{}
	for _, row := range append(r.Legs(), r.Sights()...) {
		for name, end := range map[string]plan.End{row.From: row.FromEnd, row.To: row.ToEnd} {
			want[name] = want[name] || end.Mark == ""
		}
	}
	got := map[string]int{}
	for _, e := range SceneOf(p, r, c, Selection{}, Options{Labels: true}).Ends {
		got[e.Text]++
	}
	for name, letter := range want {
		if n := got[name]; letter != (n == 1) || n > 1 {
			t.Errorf("%q is written %d times beside an end, want it once: %v", name, n, letter)
		}
	}
}

// TestLegLabelAgreesWithTheReading: the figure on the sheet is the figure to
// set, with its north.
func TestLegLabelAgreesWithTheReading(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	read := r.Legs()[0].Reading
	for _, k := range []struct {
		name string
		set  units.Angle
		on   bool
		want string
	}{
		{"housing not set", 0, false, read.Closed(units.WholeDegrees).Magnetic + " mag  "},
		{"housing set to today's angle", read.GMA.Angle(), true, read.Closed(units.WholeDegrees).Grid + " grid  "},
	} {
		party := p.Party
		party.Compass.Set, party.Compass.SetTo = k.on, k.set
		q := p.SetParty(party)
		qr, err := leg.NewReader(q)
		if err != nil {
			t.Fatal(err)
		}
		s := SceneOf(q, qr, c, Selection{}, Options{Labels: true})
		if got := s.Legs[0].Label; !strings.HasPrefix(got, "1: "+k.want) || !strings.HasSuffix(got, " m ± 4") {
			t.Errorf("%s: label %q, want %q and a distance with its ±", k.name, got, k.want)
		}
	}
	old := p.SetDate(plan.Date{Year: 1990, Month: 1, Day: 1})
	or, err := leg.NewReader(old)
	if err != nil {
		t.Fatal(err)
	}
	if got := SceneOf(old, or, c, Selection{}, Options{Labels: true}).Legs[0].Label; !strings.Contains(got, " grid  ") {
		t.Errorf("outside the magnetic model: label %q, want a grid bearing", got)
	}
	_ = r
}

// TestBelievedGrid: lines pass where the calibration puts their kilometre and
// end at the picture's edges.
func TestBelievedGrid(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	s := SceneOf(p, r, c, Selection{}, Options{Grid: true})
	// The sheet covers E 215.5–219.5 km and N 771.5–774.5 km: 4 + 3 lines.
	var labels []string
	for _, g := range s.Grid {
		labels = append(labels, g.Label)
		for _, q := range g.Points {
			if q.X < -0.01 || q.Y < -0.01 || q.X > 1600.01 || q.Y > 1200.01 {
				t.Errorf("line %s ends off the picture at %v", g.Label, q)
			}
		}
	}
	if got, want := strings.Join(labels, " "), "216 217 218 219 772 773 774"; got != want {
		t.Errorf("lines %s, want %s", got, want)
	}
	a, b := c.ToGrid(calib.PicturePt{Col: s.Grid[1].Points[0].X, Row: s.Grid[1].Points[0].Y}), c.ToGrid(calib.PicturePt{Col: s.Grid[1].Points[1].X, Row: s.Grid[1].Points[1].Y})
	if math.Abs(a.E-217000) > 0.01 || math.Abs(b.E-217000) > 0.01 {
		t.Errorf("line 217 lies at E %.2f and %.2f", a.E, b.E)
	}
	if math.Abs(s.GridPx-400) > 2 {
		t.Errorf("lines are %v px apart, want 400", s.GridPx)
	}
	if n := len(SceneOf(p, r, c, Selection{}, Options{}).Grid); n != 0 {
		t.Errorf("%d lines without asking", n)
	}
}

// TestResidualsPointToTheFit: the point that is 2 px off to the right has an
// arrow to the left, as long as its residual.
func TestResidualsPointToTheFit(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	s := SceneOf(p, r, c, Selection{}, Options{Residuals: true})
	for i, a := range s.Residuals {
		if got, want := a.From.Dist(a.To), c.Residuals()[i].Px; math.Abs(got-want) > 0.02*want {
			t.Errorf("arrow %d is %.3f px long, want %.3f", i, got, want)
		}
	}
	if last := s.Residuals[3]; last.To.X >= last.From.X {
		t.Errorf("the arrow of the slipped point runs from %v to %v, want to the left", last.From, last.To)
	}
}

func TestWithoutCalibrationOnlyWhatWasPicked(t *testing.T) {
	t.Parallel()
	p, _, _ := outing(t)
	sheet := p.Sheets[0]
	sheet.Points = sheet.Points[:1]
	bare := *p
	bare.Sheets = []plan.Sheet{sheet}
	r, err := leg.NewReader(&bare)
	if err != nil {
		t.Fatal(err)
	}
	s := SceneOf(&bare, r, nil, Selection{}, Options{Grid: true, Residuals: true, Labels: true})
	if len(s.Marks) != 1 || s.Marks[0].ID != "hut" || len(s.Legs) != 0 || len(s.Grid) != 0 || len(s.Residuals) != 0 || len(s.Controls) != 1 {
		t.Errorf("got %+v", s)
	}
	if s := SceneOf(plan.New(plan.Date{}), nil, nil, Selection{}, Options{}); len(s.Marks)+len(s.Controls) != 0 {
		t.Error("a plan without a sheet has a scene")
	}
}

func TestTrackOfComesBack(t *testing.T) {
	t.Parallel()
	_, r, c := outing(t)
	sys := r.System()
	var points []geodesy.LatLon
	var want []view.PicPt
	for i := range 5 {
		g := geodesy.Grid{E: 216000 + 300*float64(i), N: 772500 + 200*float64(i)}
		ll, _, err := sys.ToWGS84(g)
		if err != nil {
			t.Fatal(err)
		}
		points, want = append(points, ll), append(want, picPt(c.ToPicture(g)))
	}
	points = append(points, geodesy.DegLatLon(-80, 170)) // off the grid: left out
	got := TrackOf(plan.Track{Points: points}, sys, c)
	if len(got.points) < len(want) {
		t.Fatalf("%d points, want %d", len(got.points), len(want))
	}
	for i := range want {
		near(t, "a track point", got.points[i], want[i], 0.01)
	}
}

// TestGridInFeet: on a grid printed in feet the lines lie at each thousand feet
// and carry the figure that the map prints. A US survey foot is 1200/3937 m (NIST
// Special Publication 811, appendix B.6).
func TestGridInFeet(t *testing.T) {
	t.Parallel()
	const ft = 1200.0 / 3937
	sys, err := geodesy.Define("+proj=lcc +lat_1=41.0333333333333 +lat_2=40.6666666666667 +lat_0=40.1666666666667 +lon_0=-74 +x_0=300000 +y_0=0 +datum=NAD83 +units=us-ft")
	if err != nil {
		t.Fatal(err)
	}
	s := plan.Sheet{ID: "sheet-1", Picture: "sheet.png", Width: 1000, Height: 800, Code: sys.Code()}
	for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 900, Row: 100}, {Col: 900, Row: 700}, {Col: 100, Row: 700}} {
		g := sys.FromUnits(979_500+4*at.Col, 204_500-4*at.Row)
		s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: g})
	}
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 25})
	p.Sheets = []plan.Sheet{s}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	var labels []string
	for _, g := range SceneOf(p, r, c, Selection{}, Options{Grid: true}).Grid {
		labels = append(labels, g.Label)
	}
	if got, want := strings.Join(labels, " "), "980000 981000 982000 983000 202000 203000 204000"; got != want {
		t.Errorf("lines %s, want %s", got, want)
	}
	east := c.ToPicture(geodesy.Grid{E: 981_000 * ft, N: 203_000 * ft})
	near(t, "E 981000 N 203000 ft", picPt(east), view.PicPt{X: 375, Y: 375}, 0.01)
}

// TestBelievedGridBends: over a photograph the lines are drawn in pieces, each
// of which lies on its kilometre.
func TestBelievedGridBends(t *testing.T) {
	t.Parallel()
	p, r, _ := outing(t)
	var points []calib.ControlPoint
	for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 1500, Row: 100}, {Col: 1500, Row: 1100}, {Col: 100, Row: 1100}} {
		w := 1 + 1e-4*at.Col
		points = append(points, calib.ControlPoint{At: at, Ref: geodesy.Grid{E: 215_500 + 2.5*at.Col/w, N: 774_500 - 2.5*at.Row/w}})
	}
	c, err := calib.Fit(points, calib.Options{Medium: calib.Photograph})
	if err != nil {
		t.Fatal(err)
	}
	s := SceneOf(p, r, c, Selection{}, Options{Grid: true})
	if len(s.Grid) == 0 {
		t.Fatal("no lines")
	}
	for _, g := range s.Grid {
		if len(g.Points) < 10 {
			t.Errorf("line %s: got %d points, want 10 and more", g.Label, len(g.Points))
		}
		for _, q := range g.Points {
			at := c.ToGrid(calib.PicturePt{Col: q.X, Row: q.Y})
			off := min(math.Abs(at.E-1000*math.Round(at.E/1000)), math.Abs(at.N-1000*math.Round(at.N/1000)))
			if off > 1 {
				t.Errorf("line %s: %v lies %.2f m off", g.Label, q, off)
			}
		}
	}
}

// How far to keep from a hazard is drawn while the hazard is chosen or the leg beside it,
// and else not: 50 m are 20 pixels here.
func TestKeepOfChosenHazards(t *testing.T) {
	t.Parallel()
	p, _, c := outing(t)
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(27700), Origin: plan.Typed}
	}
	p = p.AddHazard(plan.Hazard{ID: "crag", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{at(216700, 773050), at(216800, 773050)}}).
		AddHazard(plan.Hazard{ID: "bog", Kind: plan.Bog, Points: []plan.Position{at(216700, 772500), at(216800, 772500)}})
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[plan.ID]int{"crag": 1, "leg-1": 1, "cairn": 0, "bog": 0, "": 0} {
		x := SceneOf(p, r, c, Selection{ID: id}, Options{}).Hazards[0]
		if len(x.Keep) != want {
			t.Errorf("%q is chosen: %d outlines around the crag, want %d", id, len(x.Keep), want)
		}
		for _, outline := range x.Keep {
			for _, q := range outline {
				a, b := x.Points[0], x.Points[1]
				d := min(q.Dist(a), q.Dist(b))
				if q.X > a.X && q.X < b.X {
					d = math.Abs(q.Y - a.Y)
				}
				if d < 19.5 || d > 20.5 {
					t.Fatalf("an outline point lies %v px off, want 20", d)
				}
			}
		}
	}
}

// A line of the grid over a photograph is one line with one figure, wherever it leaves the picture.
func TestABentGridLineIsOneLine(t *testing.T) {
	t.Parallel()
	for deg := 0.0; deg < 90; deg += 7 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		var points []calib.ControlPoint
		for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 1500, Row: 100}, {Col: 1500, Row: 1100}, {Col: 100, Row: 1100}, {Col: 800, Row: 700}} {
			x, y := at.Col-800, 600-at.Row
			w := 1 + 1e-4*x + 5e-5*y
			points = append(points, calib.ControlPoint{At: at, Ref: geodesy.Grid{E: 215_500 + 5*(x*cos-y*sin)/w, N: 774_500 + 5*(x*sin+y*cos)/w}})
		}
		c, err := calib.Fit(points, calib.Options{Medium: calib.Photograph})
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, l := range GridOf(plan.Sheet{Width: 1600, Height: 1200}, nil, c).Lines {
			if seen[l.Label] {
				t.Errorf("turned by %v°: line %s is drawn in parts", deg, l.Label)
			}
			seen[l.Label] = true
		}
	}
}
