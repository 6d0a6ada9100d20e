package ui_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// panelAt is where ground lies on the n-th of a row of panels: each is turned a
// little more than the one before, at 5 m a pixel, and overlaps it by half.
func panelAt(n int, e, north float64) calib.PicturePt {
	sin, cos := math.Sincos(0.02 * float64(n))
	x, y := (e-50_000-5_000*float64(n))/5, (800_000-north)/5
	return calib.PicturePt{Col: 1000 + (x-1000)*cos - (y-1000)*sin, Row: 1000 + (x-1000)*sin + (y-1000)*cos}
}

// actOnSheets does something to a plan of several panels, well or badly.
func actOnSheets(t *rapid.T, s *session.Session, added *int) {
	p := s.Plan()
	hand, has := s.Sheet()
	n := 0
	if has {
		_, _ = fmt.Sscanf(hand.Picture, "/maps/panel-%d.png", &n)
	}
	ground := func() (e, north float64) {
		return 50_000 + 5_000*float64(n) + rapid.Float64Range(500, 9_500).Draw(t, "e"), rapid.Float64Range(790_500, 799_500).Draw(t, "n")
	}
	spot := func() calib.PicturePt { e, north := ground(); return panelAt(n, e, north) }
	end := func() plan.End {
		e, _, err := s.EndAt(spot(), session.Aim{PickSigmaPx: 0.5, SnapRadiusPx: 100})
		if err != nil {
			return plan.AtPosition(plan.Position{Grid: hand.Points[0].Ref, Code: hand.Code, Origin: plan.Typed})
		}
		return e
	}
	some := func() plan.ID { return rapid.SampledFrom(p.Sheets).Draw(t, "sheet").ID }
	intersection := func() {
		e, north := ground()
		e, north = 1000*math.Round(e/1000), 1000*math.Round(north/1000)
		said := e + 1000*float64(rapid.SampledFrom([]int{0, 0, 0, 0, 0, 0, 0, 1}).Draw(t, "slip"))
		_, _ = s.AddControlPoint(panelAt(n, e, north), fmt.Sprintf("%.0f %.0f", said, north))
	}
	switch what := rapid.IntRange(0, 15).Draw(t, "act"); {
	case len(p.Sheets) == 0 || what == 0:
		sha := strings.Repeat(fmt.Sprintf("%02x", *added), 32)
		_ = s.AddSheet(session.Picture{Path: fmt.Sprintf("/maps/panel-%d.png", *added%6), Width: 2000, Height: 2000, SHA256: sha})
		*added++
		_ = s.SetGrid(geodesy.EPSG(27700))
	case what == 1:
		_ = s.RemoveSheet(some())
	case what == 2:
		_ = s.ShowSheet(some())
	case what <= 10 && len(hand.Points) < 3:
		intersection()
	case what == 3:
		_ = s.MoveControlPoint(0, spot())
	case what == 4:
		_ = s.RemoveControlPoint(rapid.IntRange(0, 3).Draw(t, "point"))
	case what == 5:
		_ = s.SetMedium(rapid.SampledFrom([]calib.Medium{calib.Scan, calib.Scan, calib.Scan, calib.Photograph}).Draw(t, "fit"))
	case what <= 8:
		e, north := ground()
		e, north = math.Round(e), math.Round(north)
		_, _ = s.AddEvidence(calib.FromList, panelAt(n, e, north), fmt.Sprintf("NL %05.0f %05.0f", e, north-700_000), 0.5)
	case what <= 10 && len(p.Marks) > 0:
		m := rapid.SampledFrom(p.Marks).Draw(t, "mark")
		_, _ = s.AddEvidence(calib.FromSheet, panelAt(n, m.Position.Grid.E, m.Position.Grid.N), m.Name, 0.5)
	case len(hand.Points) == 0:
	case what == 11:
		_, _ = s.AddMark("", p.Resolve(end()))
	case what == 12:
		_, _ = s.KeepLeg(end(), end())
	case what == 13:
		_, _ = s.LegFromTyped(end(), "57", session.GridNorth, "850 m")
	case what == 14 && len(p.Marks) > 0:
		_ = s.MovePoint(rapid.SampledFrom(p.Marks).Draw(t, "mark").ID, 0, end())
	case what == 15:
		_ = s.OpenSheet(session.Picture{Path: fmt.Sprintf("/maps/panel-%d.png", *added%6), Width: 2000, Height: 2000, SHA256: strings.Repeat(fmt.Sprintf("%02x", *added), 32)})
		*added++
	}
}

// twoPanels begins a plan with two panels that overlap, of which a pillar checks
// the first and a mark of that the second.
func twoPanels(t *rapid.T, s *session.Session, added *int) {
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for n := range 2 {
		must(s.AddSheet(session.Picture{Path: fmt.Sprintf("/maps/panel-%d.png", n), Width: 2000, Height: 2000, SHA256: strings.Repeat(fmt.Sprintf("%02x", n), 32)}))
		*added++
		must(s.SetGrid(geodesy.EPSG(27700)))
		for _, at := range [][2]float64{{1, 1}, {8, 1}, {8, 8}, {1, 8}} {
			e, north := 50_000+5_000*float64(n)+1000*at[0], 800_000-1000*at[1]
			_, err := s.AddControlPoint(panelAt(n, e, north), fmt.Sprintf("NL %02.0f %02.0f", e/1000, north/1000-700))
			must(err)
		}
		if n == 0 {
			_, err := s.AddEvidence(calib.FromList, panelAt(0, 53_340.5, 796_210.5), "NL 53340 96210", 0.5)
			must(err)
			pos, err := s.PositionAt(panelAt(0, 57_420.5, 795_310), 0.5)
			must(err)
			_, err = s.AddMark("Cairn", pos)
			must(err)
		}
	}
	_, err := s.AddEvidence(calib.FromSheet, panelAt(1, 57_420.5, 795_310), "Cairn", 0.5)
	must(err)
}

// owesTo says what caution a reading must carry for a position, "" for none.
func owesTo(r *leg.Reader, pos plan.Position) caution.Code {
	p := r.Plan()
	if pos.Origin != plan.Picked && !pos.DerivedFromSheet() {
		return ""
	}
	s, ok := p.SheetByID(pos.Sheet)
	if !ok {
		return caution.SheetGone
	}
	if _, err := s.Calibration(); err != nil {
		return caution.Uncalibrated
	}
	if !r.Verdict(s.ID).Checked {
		return caution.Unchecked
	}
	return ""
}

// Whatever is done to the sheets of a plan: every reading carries what is to be
// said of both its ends' sheets, verdicts are those of a fresh reader, the plan comes
// back the same from its file, undo leads back to the beginning and redo to the
// end.
func TestRandomActsOnSeveralSheets(t *testing.T) {
	t.Parallel()
	now := func() time.Time { return time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC) }
	checked, readings, bySheet := 0, 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		s, added := session.New(planfile.NewStore(), nil, now), 0
		first := s.Plan()
		twoPanels(rt, s, &added)
		for range rapid.IntRange(10, 60).Draw(rt, "acts") {
			actOnSheets(rt, s, &added)
			p := s.Plan()
			if err := p.Validate(); err != nil {
				rt.Fatal(err)
			}
			fresh, err := leg.NewReader(p)
			if err != nil && fresh == nil {
				rt.Fatal(err)
			}
			for _, sheet := range p.Sheets {
				v := s.Reader().Verdict(sheet.ID)
				if v.Checked != fresh.Verdict(sheet.ID).Checked {
					rt.Fatalf("%s: checked %v, by a fresh reader %v", sheet.ID, v.Checked, !v.Checked)
				}
				if v.Checked {
					checked++
				}
				if v.Checked && strings.Contains(v.By, "the feature “") {
					bySheet++
				}
			}
			for _, r := range s.Rows() {
				for _, e := range []plan.End{r.FromEnd, r.ToEnd} {
					readings++
					if want := owesTo(s.Reader(), p.Resolve(e)); want != "" && r.Err == nil && !r.Reading.Has(want) {
						rt.Fatalf("a reading from %+v is not marked %s: %v", p.Resolve(e), want, r.Reading.Cautions)
					}
				}
			}
		}
		last := s.Plan()
		comesBack(rt, last)
		for s.Undo() {
		}
		if s.Plan() != first {
			rt.Fatal("undo did not lead back")
		}
		for s.Redo() {
		}
		if s.Plan() != last {
			rt.Fatal("redo did not lead forth")
		}
	})
	t.Logf("%d checks and %d ends of readings were seen, %d of them checked by another sheet", checked, readings, bySheet)
	if checked == 0 || readings == 0 || bySheet == 0 {
		t.Errorf("%d checks and %d ends of readings were seen: the acts are too poor to show anything", checked, readings)
	}
}

// comesBack writes a plan, reads it and writes it again.
func comesBack(t *rapid.T, p *plan.Plan) {
	var text, again bytes.Buffer
	if err := planfile.Encode(&text, p); err != nil {
		t.Fatal(err)
	}
	q, err := planfile.Decode(bytes.NewReader(text.Bytes()))
	if err != nil || q.Mended != nil {
		t.Fatalf("read again: %v, %q", err, q.Mended)
	}
	if err := planfile.Encode(&again, q); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text.Bytes(), again.Bytes()) {
		t.Fatalf("read and written again it is\n%s\nwant\n%s", again.String(), text.String())
	}
}
