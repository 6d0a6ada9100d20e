package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// squared is a session with a sheet of 3000 × 2400 pixels, 5 m each and north up, on a
// grid: its top-left corner is at E 20,300 N 760,400. Control points are at the four
// corners.
func squared(t *testing.T, epsg int, east, north float64) *Session {
	t.Helper()
	s := New(nil, nil, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/a.png", Width: 3000, Height: 2400, SHA256: strings.Repeat("a1", 32)}))
	must(t, s.SetGrid(geodesy.EPSG(epsg)))
	for _, c := range [][2]float64{{700, 400}, {14700, 400}, {14700, 11400}, {700, 11400}} {
		_, err := s.AddControlPoint(at(c[0]/5, c[1]/5), fmt.Sprintf("%.0f %.0f", east+c[0], north-c[1]))
		must(t, err)
	}
	return s
}

// latLon writes where a position of that sheet lies, to a tenth of a second.
func latLon(t *testing.T, s *Session, e, n float64) string {
	t.Helper()
	at, _, err := s.Reader().System().ToWGS84(geodesy.Grid{E: e, N: n})
	must(t, err)
	return fmt.Sprintf("latlon:%.5f,%.5f", at.Lat.Deg(), at.Lon.Deg())
}

func said(v check.Verdict, code caution.Code) bool {
	return slices.ContainsFunc(v.Cautions, func(c caution.Caution) bool { return c.Code == code })
}

func TestAddEvidenceChecksAndUndoes(t *testing.T) {
	t.Parallel()
	s := squared(t, 27700, 20300, 760400)
	if v := s.Verdict(); v.Checked || !said(v, caution.Unchecked) {
		t.Fatalf("before: %+v", v)
	}
	v, err := s.AddEvidence(calib.FromList, at(1808, 1826), "NL 2934 5127", 0.5)
	must(t, err)
	if !v.Checked || v.Scope != check.OnGrid || v.WithinM > 40 || !strings.Contains(v.By, "listed feature") {
		t.Fatalf("by a list: %+v", v)
	}
	s.Undo()
	if s.Verdict().Checked {
		t.Error("undone, and still checked")
	}
	s.Redo()
	must(t, s.RemoveEvidence(0))
	if s.Verdict().Checked {
		t.Error("evidence removed, and still checked")
	}
	for _, tc := range []struct {
		source calib.EvidenceSource
		text   string
		want   string
	}{
		{"", "NL 2934 5127", "choose where"},
		{calib.FromMargin, "NL 2934 5127", "own grid"},
		{calib.FromList, "2934 5127", "letters"},
		{calib.FromSheet, "Nowhere", "no mark"},
	} {
		if _, err := s.AddEvidence(tc.source, at(1808, 1826), tc.text, 0.5); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%q %q: %v", tc.source, tc.text, err)
		}
	}
}

// A sheet in a wrong zone was once checked by three intersections that were named as easting and
// northing. On UTM only what speaks of the zone checks a sheet.
func TestEastingAndNorthingNeverCheckAZone(t *testing.T) {
	t.Parallel()
	s := squared(t, 32630, 420300, 6260400)
	for _, p := range [][2]float64{{2700, 2400}, {9700, 3400}, {5700, 8400}} {
		v, err := s.AddEvidence(calib.FromOwnGrid, at(p[0]/5, p[1]/5), fmt.Sprintf("E %.0f N %.0f", 420300+p[0], 6260400-p[1]), 0.5)
		must(t, err)
		if v.Checked {
			t.Fatalf("own intersections check the sheet: %+v", v)
		}
	}
	v, err := s.AddEvidence(calib.FromList, at(1000, 1000), "E 425301 N 6255399", 0.5)
	must(t, err)
	if v.Checked || !strings.Contains(v.Advice, "latitude and longitude") {
		t.Fatalf("easting and northing of a list: %+v", v)
	}
	v, err = s.AddEvidence(calib.FromReceiver, at(1200, 1000), latLon(t, s, 426300, 6255400), 0.5)
	must(t, err)
	if !v.Checked || v.Scope != check.WithLatLon {
		t.Fatalf("with latitude and longitude of a receiver: %+v", v)
	}
	must(t, s.SetGrid(geodesy.EPSG(32631)))
	if v := s.Verdict(); v.Checked || !said(v, caution.EvidenceDisagree) {
		t.Errorf("the same figures as zone 31: %+v", v)
	}
}

// Aiming on a sheet that is 1 km out, another sheet's mark was drawn by its wrong fit,
// and clicking that diamond checked the sheet. Marks of an unchecked sheet check
// nothing; those of a checked one show the kilometre; and with the sheet that a check
// rests on, or its grid, the check falls.
func TestChecksByOverlapAreNotCircular(t *testing.T) {
	t.Parallel()
	s := squared(t, 32630, 420300, 6260400)
	first, _ := s.Sheet()
	c, err := s.Calibration()
	must(t, err)
	_, err = s.AddMark("Cairn", plan.PickedAt(first, c, at(1000, 1000), 0.5))
	must(t, err)
	must(t, s.AddSheet(Picture{Path: "/maps/b.png", Width: 3000, Height: 2400, SHA256: strings.Repeat("b2", 32)}))
	second, _ := s.Sheet()
	for _, c := range [][2]float64{{700, 400}, {14700, 400}, {14700, 11400}, {700, 11400}} {
		_, err := s.AddControlPoint(at(c[0]/5, c[1]/5), fmt.Sprintf("E %.0f N %.0f", 420300+c[0], 6260400-c[1]))
		must(t, err)
	}
	v, err := s.AddEvidence(calib.FromSheet, at(1000, 1000), "Cairn", 0.5)
	must(t, err)
	if v.Checked || !said(v, caution.RestsOnUnchecked) {
		t.Fatalf("by a mark of an unchecked sheet: %+v", v)
	}
	must(t, s.ShowSheet(first.ID))
	v, err = s.AddEvidence(calib.FromReceiver, at(1200, 1000), latLon(t, s, 426300, 6255400), 0.5)
	must(t, err)
	if !v.Checked || !s.Reader().Verdict(second.ID).Checked {
		t.Fatalf("first %+v, second %+v", v, s.Reader().Verdict(second.ID))
	}
	moved := s.Plan()
	must(t, s.SetGrid(geodesy.EPSG(32631)))
	if s.Reader().Verdict(first.ID).Checked || s.Reader().Verdict(second.ID).Checked {
		t.Error("on another zone a sheet stays checked")
	}
	s.Undo()
	if s.Plan() != moved || !s.Reader().Verdict(second.ID).Checked {
		t.Fatal("the zone was not undone")
	}
	must(t, s.RemoveSheet(first.ID))
	if v := s.Reader().Verdict(second.ID); v.Checked {
		t.Errorf("the sheet that the check rests on is gone: %+v", v)
	}
}

// Whoever corrects a point chooses among the slips that explain the points: until
// evidence decides, the other side may be the wrong one.
func TestACorrectedSlipStaysOpen(t *testing.T) {
	t.Parallel()
	s := squared(t, 27700, 20300, 760400)
	for i := range 2 {
		_, err := s.SetControlReference(i, fmt.Sprintf("E %d N 761000", 21000+14000*i))
		must(t, err)
	}
	v := s.Verdict()
	if !said(v, caution.SlipSet) {
		t.Fatalf("the top row is 1,000 m too far north: %+v", v.Cautions)
	}
	for i := range 2 { // the choice that leaves all of it a square out
		_, err := s.SetControlReference(3-i, fmt.Sprintf("E %d N 750000", 21000+14000*i))
		must(t, err)
	}
	if v := s.Verdict(); caution.Stops(v.Cautions, caution.All) || !said(v, caution.OpenSlip) {
		t.Errorf("after the choice: %+v", v.Cautions)
	}
	v, err := s.AddEvidence(calib.FromList, at(1808, 1826), "NL 2934 5127", 0.5)
	must(t, err)
	if v.Checked || !said(v, caution.EvidenceDisagree) {
		t.Errorf("evidence decides: %+v", v)
	}
}

// A plan whose sheet was checked when it was saved says, when it is opened, that the
// sheet is no longer checked, and why. What the file says of itself is not believed.
func TestAReopenedPlanSaysWhatChanged(t *testing.T) {
	t.Parallel()
	s := squared(t, 27700, 20300, 760400)
	m := newMemory()
	s.store = m
	_, err := s.AddEvidence(calib.FromList, at(1808, 1826), "NL 2934 5127", 0.5)
	must(t, err)
	must(t, s.SaveAs("/plans/a.legplan"))
	if s.Dirty() || !m.files["/plans/a.legplan"].Sheets[0].WasChecked {
		t.Fatal("the file does not remember that the sheet was checked")
	}
	again := New(m, nil, today)
	must(t, again.Open("/plans/a.legplan"))
	if !again.Verdict().Checked || len(again.Plan().Mended) > 0 {
		t.Errorf("unchanged: %+v, %q", again.Verdict(), again.Plan().Mended)
	}
	p := m.files["/plans/a.legplan"]
	moved := p.Sheets[0]
	moved.Evidence = slices.Clone(moved.Evidence)
	moved.Evidence[0].Text = "NL 3034 5127"
	m.put("/plans/a.legplan", p.SetSheet(moved))
	must(t, again.Open("/plans/a.legplan"))
	if told := strings.Join(again.Plan().Mended, ""); again.Verdict().Checked || !strings.Contains(told, "was checked when the plan was saved, but is unchecked now") || !strings.Contains(told, "from where the calibration puts it") {
		t.Errorf("with another reference: %+v, %q", again.Verdict(), told)
	}
}
