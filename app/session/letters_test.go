package session

import (
	"errors"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
)

// A reference typed without its letters stands on the sheet that supplied them:
// what rests on it says so until that sheet is checked, and again once it lies
// elsewhere.
func TestLentLettersAreMarked(t *testing.T) {
	s, l := placedSheet(t, 0)
	lent := typedAt(t, s, "217 434")
	if lent.Position.LettersFrom == "" || lent.Position.Grid != (geodesy.Grid{E: 21_750, N: 743_450}) {
		t.Fatalf("read %+v", lent.Position)
	}
	id, err := s.AddMark("Cairn", lent.Position)
	must(t, err)
	_, err = s.KeepLeg(typedAt(t, s, "NL 230 450"), typedAt(t, s, "Cairn"))
	must(t, err)
	_, err = s.LegFromTyped(s.Plan().Legs[0].To, "057", GridNorth, "850 m") // and on from there
	must(t, err)
	_, err = s.KeepSight(typedAt(t, s, "NL 23 45"), s.Plan().Legs[1].To)
	must(t, err)
	check := func(when string, want bool, words string) {
		t.Helper()
		for i, r := range append(s.Rows(), s.Reader().Sights()...) {
			text := ""
			for _, f := range r.Reading.Cautions {
				if f.Code == caution.LettersInferred || f.Code == caution.LettersAstray {
					text = f.Text()
				}
			}
			if r.Err != nil || (text != "") != want || !strings.Contains(text, words) {
				t.Errorf("%s: reading %d has %+v, error %v; want it marked: %v, with %q", when, i+1, r.Reading.Cautions, r.Err, want, words)
			}
		}
		m, _ := s.Plan().MarkByID(id)
		if got := len(s.Reader().CautionsOf(m.Position)) > 0; got != want {
			t.Errorf("%s: the mark is marked %v, want %v", when, got, want)
		}
	}
	check("unchecked", true, "come from isle.tif, which is unchecked")
	x, err := leg.Export(s.Plan(), nil)
	must(t, err)
	if !caution.Has(x.Cautions, caution.Unchecked) || !strings.Contains(x.Marks[0].Desc, "not typed") || !strings.Contains(x.Routes[0][2].Desc, "not typed") {
		t.Errorf("exported: cautions %v, mark %q, end %q", x.Cautions, x.Marks[0].Desc, x.Routes[0][2].Desc)
	}

	off := *l
	off.Intersections = append(off.Intersections[:0:0], l.Intersections...)
	for i := range off.Intersections {
		off.Intersections[i].Col += 8
	}
	_, _, err = s.CompareWithLines(&off)
	must(t, err)
	check("disagreeing lines", true, "which has a stop")
	s.Undo()

	checkEvidence(t, s)
	check("checked", false, "")
	checked := mustSheet(t, s)
	far := checked
	far.World = &[6]float64{10, 0, 120_500, 0, -10, 746_500}
	must(t, s.do("move", "", s.Plan().SetSheet(far)))
	check("100 km farther east", true, "which has a stop")
	must(t, s.RemoveSheet(checked.ID))
	check("without its sheet", true, "no longer in the plan")
	must(t, s.SetMarkReference(id, "NL 217 434"))
	if m, _ := s.Plan().MarkByID(id); m.Position.LettersFrom != "" || len(s.Reader().CautionsOf(m.Position)) > 0 {
		t.Errorf("with its letters: %+v, %+v", m.Position, s.Reader().CautionsOf(m.Position))
	}
}

// checkEvidence gives the sheet of placedSheet three positions of a receiver.
func checkEvidence(t *testing.T, s *Session) {
	t.Helper()
	c, err := s.Calibration()
	must(t, err)
	for _, p := range []calib.PicturePt{at(120, 130), at(420, 480), at(60, 420)} {
		g := c.ToGrid(p)
		_, err := s.AddEvidence(calib.FromReceiver, p, latLon(t, s, g.E, g.N), 0.5)
		must(t, err)
	}
}

// Letters that the sheet itself supplied agree wherever it lies: references without
// letters are no evidence.
func TestLentLettersCheckNothing(t *testing.T) {
	s, _ := placedSheet(t, 100_000)
	var refused *Refused
	if _, err := s.AddEvidence(calib.FromList, at(120, 130), "2170 4520", 0.5); !errors.As(err, &refused) || !strings.Contains(err.Error(), "isle.tif") || !strings.Contains(err.Error(), "with its letters") {
		t.Errorf("a position 100 km out, digits alone: got %v", err)
	}
	if v, err := s.AddEvidence(calib.FromList, at(120, 130), "NL 2170 4520", 0.5); err != nil || v.Checked || !said(v, caution.EvidenceDisagree) {
		t.Errorf("a position 100 km out: %v, %+v", err, v)
	}
}

// Two ends whose letters came from one sheet say so once, from two sheets twice.
func TestLentLettersAreToldOnce(t *testing.T) {
	s, _ := placedSheet(t, 0)
	second := mustSheet(t, s)
	second.ID, second.Picture = "sheet-2", "/maps/north.tif"
	must(t, s.do("add", "", s.Plan().SetSheet(second)))
	told := func(from, to plan.Position) (n int) {
		r, err := s.Reader().Read(from, to)
		must(t, err)
		for _, f := range r.Cautions {
			if f.Code == caution.LettersInferred || f.Code == caution.LettersAstray {
				n++
			}
		}
		return n
	}
	a, b := typedAt(t, s, "217 434").Position, typedAt(t, s, "227 444").Position
	if n := told(a, b); n != 1 {
		t.Errorf("from one sheet: told %d times", n)
	}
	b.LettersFrom = "sheet-2"
	if n := told(a, b); n != 2 {
		t.Errorf("from two sheets: told %d times", n)
	}
	if n := told(typedAt(t, s, "NL 217 434").Position, b); n != 1 {
		t.Errorf("one end alone: told %d times", n)
	}
}
