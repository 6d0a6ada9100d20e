package ui

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/view"
	"legwright/mapio/georef"
)

// placedBench is a bench whose picture of 400 × 300 pixels says itself where it
// lies: 10 m a pixel, the crossing of madeLattice at 21 and 42 km, shiftM
// metres too far east.
func placedBench(t *testing.T, shiftM float64) *Bench {
	t.Helper()
	b := opened(t)
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	b.offerPlace(ending{place: &georef.Georeference{Source: "GeoTIFF keys", System: sys, Matrix: &[6]float64{10, 0, 20000 + shiftM, 0, -10, 744000}}})
	b.goTo(postSheet)
	if !byMatrix(b.sheetNow()) {
		t.Fatalf("the sheet is not placed: %s", b.foot.Message())
	}
	return b
}

// nameCrossing names crossing (i, j) of madeLattice as a person reads it off.
func nameCrossing(b *Bench, i, j float64, ref string) {
	clickAt(b, view.PicPt{X: 102 + 100*i, Y: 199 - 100*j})
	b.sheetP.ref.SetText(ref)
	b.sheetP.keepPoint()
}

// A sheet that its file places says from what and how exactly; the printed grid
// is compared with it, and three intersections named by the person and a corner's
// latitude and longitude check it.
func TestFileIsHeldAgainstThePrintedGrid(t *testing.T) {
	b := placedBench(t, 0)
	j := b.sheetP.knows.judge
	// 0.7 px of 10 m is σ, twice that the 95 %.
	if !j.body.Visible() || !strings.Contains(j.from.Text(), "GeoTIFF keys") || !strings.Contains(j.from.Text(), "± 17 m") || j.verdict.Visible() {
		t.Fatalf("told %q, verdict %q", j.from.Text(), j.verdict.Text())
	}
	if !strings.Contains(b.sheetP.hint.Text(), "Find the printed grid") {
		t.Errorf("the panel says %q", b.sheetP.hint.Text())
	}
	b.foundGrid(madeLattice())
	if !strings.Contains(j.verdict.Text(), "more than 0.1 px off") || !strings.Contains(j.verdict.Text(), "does not check") || b.s.Verdict().Checked {
		t.Fatalf("verdict %q, checked %v", j.verdict.Text(), b.s.Verdict().Checked)
	}
	if b.sheetP.knows.take.Visible() {
		t.Error("the crossings are offered in place of what the file says")
	}
	nameCrossing(b, 0, 0, "NL 21 42")
	nameCrossing(b, 2, 0, "NL 23 42")
	if len(b.sheetNow().Evidence) != 2 || !strings.Contains(b.sheetP.hint.Text(), "Named: 2 of 3") || len(sceneNow(b).Controls) != 2 {
		t.Fatalf("%d pieces of evidence, hint %q", len(b.sheetNow().Evidence), b.sheetP.hint.Text())
	}
	nameCrossing(b, 1, 1, "NL 22 44")
	if !b.foot.Quality().Stopped || b.s.Verdict().Checked {
		t.Errorf("a wrong name: %q", b.foot.Quality().Check)
	}
	b.undo()
	nameCrossing(b, 1, 1, "NL 22 43")
	if b.s.Verdict().Checked || !strings.Contains(b.sheetP.hint.Text(), "latitude and longitude") {
		t.Errorf("without latitude and longitude: hint %q", b.sheetP.hint.Text())
	}
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	ll, _, err := b.s.Reader().System().ToWGS84(c.ToGrid(calib.PicturePt{Col: 350, Row: 50}))
	if err != nil {
		t.Fatal(err)
	}
	useAsCheck(b, 350, 50, "", geodesy.FormatLatLon(ll))
	sheet := b.sheetNow()
	if !b.s.Verdict().Checked || !byMatrix(sheet) || b.foot.Quality().Unchecked {
		t.Fatalf("verdict %+v: %s", b.s.Verdict(), b.foot.Message())
	}
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	other := stand(t)
	reopened(t, other, path)
	until(t, "the plan's picture", func() bool { return other.picture.pyramid != nil })
	if !other.s.Verdict().Checked {
		t.Errorf("opened again it is unchecked: %+v", other.s.Verdict())
	}
	b.undo()
	if b.s.Verdict().Checked {
		t.Error("undo left the check")
	}
}

// A file that is whole squares out agrees with the lines and is found out by the
// first name; one that is a few pixels out does not agree.
func TestFileThatIsWrongIsFoundOut(t *testing.T) {
	b := placedBench(t, 2000)
	b.foundGrid(madeLattice())
	nameCrossing(b, 0, 0, "NL 21 42")
	if b.s.Verdict().Checked || !b.foot.Quality().Stopped || !strings.Contains(b.foot.Message(), "from where the calibration puts it") {
		t.Errorf("whole squares out: %q, %q", b.foot.Quality().Check, b.foot.Message())
	}
	b = placedBench(t, 120)
	j := b.sheetP.knows.judge
	b.foundGrid(madeLattice())
	if j.naming() || !strings.Contains(j.verdict.Text(), "printed grid disagrees") || !strings.Contains(j.verdict.Text(), "12.0 px off") {
		t.Errorf("120 m out: naming %v, verdict %q", j.naming(), j.verdict.Text())
	}
	nameCrossing(b, 0, 0, "NL 21 42") // begins a calibration by the lines
	if byMatrix(b.sheetNow()) || points(b) != 1 || len(b.asked) != 1 {
		t.Errorf("by the lines: %d points, %d questions", points(b), len(b.asked))
	}
	b.escape()
}

// Points of the file are said to be so; a change of the sheet drops the verdict.
func TestPlacedByPointsOfTheFile(t *testing.T) {
	b := opened(t)
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	var pts []calib.ControlPoint
	for _, p := range [][2]float64{{0, 0}, {400, 0}, {400, 300}, {0, 300}} {
		pts = append(pts, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: 20000 + 10*p[0], N: 744000 - 10*p[1]}, Text: "p"})
	}
	b.offerPlace(ending{place: &georef.Georeference{Source: "GeoTIFF keys", System: sys, Points: pts}})
	b.goTo(postSheet)
	j := b.sheetP.knows.judge
	if !j.body.Visible() || !strings.Contains(j.from.Text(), "by 4 points") {
		t.Fatalf("shown %v, %q: %s", j.body.Visible(), j.from.Text(), b.foot.Message())
	}
	b.foundGrid(madeLattice())
	if j.agree == nil || !j.naming() || math.Abs(j.agree.MedianPx) > 0.1 {
		t.Fatalf("agreement %+v, naming %v", j.agree, j.naming())
	}
	nameCrossing(b, 0, 0, "NL 21 42")
	nameCrossing(b, 2, 0, "NL 23 42")
	nameCrossing(b, 1, 1, "NL 22 43")
	if sheet := b.sheetNow(); len(sheet.Evidence) != 3 || len(sheet.Points) != 4 {
		t.Errorf("%d pieces of evidence with %d points: %s", len(sheet.Evidence), len(sheet.Points), b.foot.Message())
	}
	if err := b.s.RemoveControlPoint(0); err != nil {
		t.Fatal(err)
	}
	if j.agree != nil || j.body.Visible() {
		t.Errorf("after a change: agreement %+v, shown %v", j.agree, j.body.Visible())
	}
}

// Lines that disagree with the file stop the sheet wherever it is read: beside the
// sheet, in the foot line, on the dial, in the ledger and on the clipboard, after the
// plan was saved and opened too. Undo, removing the lines and a calibration by the
// printed grid take the stop away.
func TestLinesThatDisagreeAreShown(t *testing.T) {
	b := placedBench(t, 120)
	keepPickedLeg(t, b)
	shown := func(b *Bench) bool { return b.foot.Quality().Stopped }
	if shown(b) {
		t.Fatal("stopped before anything was compared")
	}
	b.foundGrid(madeLattice())
	told := func(when string, b *Bench) {
		t.Helper()
		b.s.Select(b.s.Plan().Legs[0].ID)
		b.view.CopyReference(picAt(100, 100))
		for what, text := range map[string]string{
			"the foot line": b.foot.Quality().Check, "the dial": strings.Join(caution.Shorts(b.s.Rows()[0].Reading.Cautions), ", "), "the panel": said(b),
			"the clipboard": b.foot.Message(), "the list": b.sheetNote(b.sheetNow()),
		} {
			if low := strings.ToLower(text); !strings.Contains(low, "disagrees") && !strings.Contains(low, "from where the calibration puts it") && low != "stop" {
				t.Errorf("%s, %s: %q", when, what, text)
			}
		}
		if !shown(b) || !strings.Contains(b.sheetP.hint.Text(), "Do not use this sheet yet") {
			t.Errorf("%s: hint %q", when, b.sheetP.hint.Text())
		}
	}
	b.letGridGo()
	told("found", b)
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	other := stand(t)
	reopened(t, other, path)
	until(t, "the plan's picture", func() bool { return other.picture.pyramid != nil })
	other.goTo(postSheet)
	told("opened again", other)
	b.undo()
	if shown(b) {
		t.Errorf("undone: %q", b.foot.Quality().Check)
	}
	b.redo()
	told("done again", b)
	if err := b.s.RemoveFoundLines(); err != nil || shown(b) || !b.foot.Quality().Unchecked {
		t.Errorf("removed: %v, %q", err, b.foot.Quality().Check)
	}
	b.undo()
	told("the lines brought back", b)
	b.foundGrid(madeLattice())
	nameCrossing(b, 0, 0, "NL 21 42")
	b.escape()
	if byMatrix(b.sheetNow()) {
		t.Error("not calibrated anew")
	}
}

// keepPickedLeg keeps a leg between two places picked on the sheet.
func keepPickedLeg(t *testing.T, b *Bench) {
	t.Helper()
	var ends [2]plan.End
	for i, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 250, Row: 200}} {
		pos, err := b.s.PositionAt(at, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		ends[i] = plan.AtPosition(pos)
	}
	if _, err := b.s.KeepLeg(ends[0], ends[1]); err != nil {
		t.Fatal(err)
	}
}
