package leg

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// northSheet is a second panel, north of sheetOf: 4 m to the pixel, turned by
// 30°, its top-left corner at E 52 000, N 806 000.
func northSheet() plan.Sheet {
	s := plan.Sheet{ID: "sheet-2", Picture: "/maps/north.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700)}
	sin, cos := math.Sincos(math.Pi / 6)
	for _, p := range []calib.PicturePt{{Col: 150, Row: 200}, {Col: 1850, Row: 250}, {Col: 900, Row: 1800}} {
		x, y := 4*p.Col, -4*p.Row
		s.Points = append(s.Points, calib.ControlPoint{At: p, Ref: geodesy.Grid{E: 52_000 + cos*x - sin*y, N: 806_000 + sin*x + cos*y}})
	}
	return s
}

// twoSheets is a plan of two panels with a leg from one to the other.
func twoSheets(t testing.TB) *plan.Plan {
	south, north := checkedSheet(), northSheet()
	south.Picture = "/maps/south.png"
	p := plan.New(day).SetSheet(south).SetSheet(north)
	p = p.AddMark(plan.Mark{ID: "mark-1", Name: "Cairn", Position: pick(t, south, 900, 300)})
	p = p.AddMark(plan.Mark{ID: "mark-2", Name: "Ford", Position: pick(t, north, 700, 1500)})
	return p.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(p.Marks[0]), To: plan.AtMark(p.Marks[1])})
}

// A leg from one sheet to another depends on two calibrations that know nothing
// of each other. Both are clicked anew in every trial; see
// TestSigmaAgainstSimulatedPicks for the tolerance.
func TestSigmaBetweenTwoSheets(t *testing.T) {
	t.Parallel()
	const trials, tol = 4000, 0.056
	p := twoSheets(t)
	from, to := p.Marks[0].Position, p.Marks[1].Position
	want, err := readerOf(t, p).Read(from, to)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(5, 13))
	again := func(s plan.Sheet, at calib.PicturePt) geodesy.Grid {
		for i, q := range s.Points {
			q.At = jitter(rng, q.At, calib.DefaultSigmaPx)
			s = s.SetPoint(i, q)
		}
		c, err := s.Calibration()
		if err != nil {
			t.Fatal(err)
		}
		return c.ToGrid(jitter(rng, at, 0.5))
	}
	var bearing, distance spread
	for range trials {
		a, b := again(p.Sheets[0], from.At), again(p.Sheets[1], to.At)
		g, _ := units.GridBearingOf(b.E-a.E, b.N-a.N)
		bearing.add((g.Angle() - want.Grid.Angle()).Signed().Rad())
		distance.add(math.Hypot(b.E-a.E, b.N-a.N) - want.GridM)
	}
	if got := want.BearingSigma.Rad(); !(got/bearing.sigma() > 1-tol && got/bearing.sigma() < 1.4) {
		t.Errorf("σ of bearing said %.6g, simulated %.6g", got, bearing.sigma())
	}
	if got := want.DistanceSigmaM; !(got/distance.sigma() > 1-tol && got/distance.sigma() < 1.4) {
		t.Errorf("σ of distance said %.6g, simulated %.6g", got, distance.sigma())
	}
}

// The ground does not care on how many pictures it was printed: the bearing is
// that between the positions.
func TestBearingBetweenTwoSheets(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	row := readerOf(t, p).Legs()[0]
	// By hand: 900, 300 at 5 m a pixel is E 54 500, N 798 500; 700, 1500 at
	// 4 m, turned by 30°, is E 57 424.871, N 802 203.848.
	de, dn := 57_424.871-54_500, 802_203.848-798_500
	if want := math.Atan2(de, dn) * 180 / math.Pi; math.Abs(row.Reading.Grid.Angle().Deg()-want) > 1e-5 {
		t.Errorf("bearing %v°, want %.5f°", row.Reading.Grid.Angle().Deg(), want)
	}
	if want := math.Hypot(de, dn); math.Abs(row.Reading.GridM-want) > 0.01 {
		t.Errorf("%.3f m, want %.3f m", row.Reading.GridM, want)
	}
}

func TestFlagsNameTheSheet(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	texts := func(p *plan.Plan, a, b plan.Position) string {
		r, err := readerOf(t, p).Read(a, b)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, f := range r.Cautions {
			out = append(out, string(f.Code)+" "+f.Text())
		}
		return strings.Join(out, "\n")
	}
	cairn, ford := p.Marks[0].Position, p.Marks[1].Position
	other := pick(t, p.Sheets[0], 500, 500)
	if got := texts(p, cairn, ford); !strings.Contains(got, "unchecked north.png: ") || strings.Contains(got, "unchecked south.png") {
		t.Errorf("from the checked sheet to the unchecked one: %q", got)
	}
	if got := texts(p, ford, cairn); !strings.Contains(got, "unchecked north.png: ") {
		t.Errorf("from the unchecked sheet to the checked one: %q", got)
	}
	if got := texts(p, cairn, other); strings.Contains(got, "unchecked") {
		t.Errorf("on the checked sheet alone: %q", got)
	}
	if got := texts(p.RemoveSheet("sheet-2"), cairn, ford); !strings.Contains(got, "sheet-gone The sheet that this position was picked on is no longer in the plan") {
		t.Errorf("from a sheet that is gone: %q", got)
	}
}

// Where evidence disagrees with a sheet, every reading from or to it says so, and so
// does every position and route that goes to a receiver.
func TestDisagreeingEvidenceIsToldEverywhere(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	disagreeing := p.Sheets[1]
	c, err := disagreeing.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	g := c.ToGrid(calib.PicturePt{Col: 900, Row: 900})
	p = p.SetSheet(disagreeing.WithEvidence(calib.Evidence{
		Source: calib.FromList, At: calib.PicturePt{Col: 900, Row: 900}, SigmaPx: 0.5, Text: fmt.Sprintf("E %.0f N %.0f", g.E+500, g.N), Ref: g,
	}))
	const words = "north.png: The listed feature in the middle is 500 m from where"
	cairn, ford := p.Marks[0].Position, p.Marks[1].Position
	for _, ends := range [][2]plan.Position{{cairn, ford}, {ford, cairn}, {ford, pick(t, p.Sheets[1], 900, 900)}} {
		r, err := readerOf(t, p).Read(ends[0], ends[1])
		if err != nil || !r.Has(caution.EvidenceDisagree) || !r.Has(caution.Unchecked) || !strings.Contains(caution.OfGrade(r.Cautions, caution.Stop)[0].Text(), words) {
			t.Errorf("read with %v: cautions %+v, want %q first", err, r.Cautions, words)
		}
	}
	if r, err := readerOf(t, p).Read(cairn, pick(t, p.Sheets[0], 500, 500)); err != nil || r.Has(caution.EvidenceDisagree) {
		t.Errorf("on the other sheet: %v, cautions %+v", err, r.Cautions)
	}
	x, err := Export(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	route := x.Routes[0]
	for what, text := range map[string]string{
		"the file": texts(x.Cautions), "the mark": x.Marks[1].Desc, "the start of the route": route[0].Desc, "its end": route[len(route)-1].Desc,
	} {
		want := "STOP: a check disagrees"
		if what == "the file" {
			want = words
		}
		if !strings.Contains(text, want) {
			t.Errorf("%s says %q, want %q in it", what, text, want)
		}
	}
	if strings.Contains(x.Marks[0].Desc, "disagrees") {
		t.Errorf("the mark on the other sheet says %q", x.Marks[0].Desc)
	}
}

// What goes to a receiver says of each sheet that something was picked on
// whether it is checked.
func TestExportNotesEverySheetUsed(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	unused := sheetOf()
	unused.ID, unused.Picture = "sheet-3", "/maps/unused.png"
	out, err := Export(p.SetSheet(unused), nil)
	if err != nil {
		t.Fatal(err)
	}
	notes := texts(out.Cautions)
	if !strings.Contains(notes, "north.png: The sheet is unchecked") || strings.Contains(notes, "unused.png") {
		t.Errorf("notes %q", notes)
	}
	if !caution.Has(out.Marks[1].Lasting, caution.Unchecked) || caution.Has(out.Marks[0].Lasting, caution.Unchecked) {
		t.Errorf("marks %+v", out.Marks)
	}
}

// The plan's grid is that of whichever sheet has one.
func TestGridOfASecondSheet(t *testing.T) {
	t.Parallel()
	bare := plan.Sheet{ID: "sheet-1", Width: 100, Height: 100}
	r := readerOf(t, plan.New(day).SetSheet(bare).SetSheet(northSheet()))
	if r.System() == nil || r.System().EPSG() != 27700 {
		t.Errorf("the grid is %v", r.System())
	}
	if c, err := r.CalibrationOf("sheet-2"); err != nil || c == nil {
		t.Errorf("the second sheet: %v, %v", c, err)
	}
	for _, id := range []plan.ID{"sheet-1", "none"} {
		if c, err := r.CalibrationOf(id); err == nil || c != nil {
			t.Errorf("%s: %v, %v, want that it is uncalibrated", id, c, err)
		}
	}
}

// A reader of an edited plan keeps the fits of the sheets that are as they
// were, and makes those anew that are not.
func TestReaderKeepsFits(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	was := readerOf(t, p)
	fit := func(r *Reader, id plan.ID) *calib.Calibration {
		c, err := r.CalibrationOf(id)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	north, _ := p.SheetByID("sheet-2")
	moved := north.SetPoint(0, calib.ControlPoint{At: calib.PicturePt{Col: 151, Row: 200}, Ref: north.Points[0].Ref})
	for _, c := range []struct {
		name  string
		q     *plan.Plan
		south bool // the fit is kept
		north bool
	}{
		{"a mark", p.AddMark(plan.Mark{ID: "mark-9", Name: "Gate", Position: typed(27700, 1, 2)}), true, true},
		{"a control point", p.SetSheet(moved), true, false},
		{"the order", p.RemoveSheet("sheet-1").SetSheet(p.Sheets[0]), true, true},
	} {
		r, err := was.For(c.q)
		if err != nil {
			t.Fatal(err)
		}
		if got := fit(r, "sheet-1") == fit(was, "sheet-1"); got != c.south {
			t.Errorf("%s: the south sheet's fit is kept %v, want %v", c.name, got, c.south)
		}
		if got := fit(r, "sheet-2") == fit(was, "sheet-2"); got != c.north {
			t.Errorf("%s: the north sheet's fit is kept %v, want %v", c.name, got, c.north)
		}
		fresh := readerOf(t, c.q)
		a, _ := r.Read(c.q.Marks[0].Position, c.q.Marks[1].Position)
		b, _ := fresh.Read(c.q.Marks[0].Position, c.q.Marks[1].Position)
		if a.Grid != b.Grid || a.BearingSigma != b.BearingSigma || len(a.Cautions) != len(b.Cautions) {
			t.Errorf("%s: reads %+v, a fresh reader %+v", c.name, a, b)
		}
	}
	r, err := was.For(p.SetSheet(witnessed(t, north)))
	if err != nil {
		t.Fatal(err)
	}
	if fit(r, "sheet-2") != fit(was, "sheet-2") || len(r.Verdict("sheet-2").Open) >= len(was.Verdict("sheet-2").Open) {
		t.Errorf("with evidence: the fit is made again, or the verdict is as it was: %d open", len(r.Verdict("sheet-2").Open))
	}
}

// texts writes cautions one on a line.
func texts(list []caution.Caution) string {
	var out []string
	for _, c := range list {
		out = append(out, c.Text())
	}
	return strings.Join(out, "\n")
}
