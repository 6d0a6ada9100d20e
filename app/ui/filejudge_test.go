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
	"legwright/canvas/tool"
	"legwright/canvas/view"
	"legwright/mapio/scan"
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
	b.offerPlace(ending{place: &scan.Place{Source: "GeoTIFF keys", System: sys, Matrix: &[6]float64{10, 0, 20000 + shiftM, 0, -10, 744000}}})
	b.goTo(postSheet)
	if !byMatrix(b.sheetNow()) {
		t.Fatalf("the sheet is not placed: %s", b.footNow.Message)
	}
	return b
}

// nameCrossing names crossing (i, j) of madeLattice as a person reads it off.
func nameCrossing(b *Bench, i, j float64, ref string) {
	b.click(tool.Spot{At: view.PicPt{X: 102 + 100*i, Y: 199 - 100*j}}, false)
	b.sheetP.ref.SetText(ref)
	b.sheetP.submit()
}

// A sheet that its file places says from what and how exactly; the printed grid
// is held against it, and three crossings named by the person prove it.
func TestFileIsHeldAgainstThePrintedGrid(t *testing.T) {
	b := placedBench(t, 0)
	j := b.sheetP.knows.judge
	// 0.7 px of 10 m is σ, twice that the 95 %.
	if !j.body.Visible() || !strings.Contains(j.from.Text(), "GeoTIFF keys") || !strings.Contains(j.from.Text(), "± 17 m") || j.verdict.Visible() {
		t.Fatalf("told %q, verdict %q", j.from.Text(), j.verdict.Text())
	}
	if got := b.sheetP.proof.Text(); !strings.Contains(got, "A file that is whole squares out") {
		t.Errorf("of a sheet that its file places it says %q", got)
	}
	if !strings.Contains(b.sheetP.hint.Text(), "against the printed grid") {
		t.Errorf("the panel says %q", b.sheetP.hint.Text())
	}
	b.foundGrid(madeLattice())
	if !strings.Contains(j.verdict.Text(), "agrees within 0.1 px") || !strings.Contains(j.verdict.Text(), "no proof") || b.sheetNow().Proof.Proved() {
		t.Fatalf("verdict %q, proved %v", j.verdict.Text(), b.sheetNow().Proof.Proved())
	}
	if b.sheetP.knows.take.Visible() {
		t.Error("the crossings are offered in place of what the file says")
	}
	before := b.s.Plan()
	nameCrossing(b, 0, 0, "NL 21 42")
	nameCrossing(b, 2, 0, "NL 23 42")
	if len(j.names) != 2 || b.s.Plan() != before || !strings.Contains(b.sheetP.hint.Text(), "Named: 2 of 3") || len(b.sheetP.knows.scene.Controls) != 2 {
		t.Fatalf("%d names, plan changed %v, hint %q", len(j.names), b.s.Plan() != before, b.sheetP.hint.Text())
	}
	nameCrossing(b, 1, 0, "NL 22 42")
	if b.sheetNow().Proof.Proved() || !strings.Contains(b.sheetP.hint.Text(), "lie in one line") {
		t.Errorf("three in one line: proved %v, hint %q", b.sheetNow().Proof.Proved(), b.sheetP.hint.Text())
	}
	nameCrossing(b, 1, 1, "NL 22 44")
	if len(j.names) != 3 || !b.footNow.Fault || !strings.Contains(b.footNow.Message, "1000 m from there") {
		t.Errorf("a wrong name: %d names, %q", len(j.names), b.footNow.Message)
	}
	b.sheetP.forgetAndRefresh()
	nameCrossing(b, 1, 1, "NL 22 43")
	sheet := b.sheetNow()
	if sheet.Proof.Kind != calib.ProofPrintedGrid || !byMatrix(sheet) || b.footNow.Unproved || b.printed.found != nil {
		t.Fatalf("proof %+v, medium %v: %s", sheet.Proof, sheet.Medium, b.footNow.Message)
	}
	if got := b.sheetP.unseen; !got.Visible() || !strings.Contains(got.Text(), "right datum") {
		t.Errorf("what the proof does not show: %q, visible %t", got.Text(), got.Visible())
	}
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	other := stand(t)
	reopened(t, other, path)
	until(t, "the plan's picture", func() bool { return other.picture.pyramid != nil })
	if got := other.sheetNow().Proof; !got.Same(sheet.Proof) {
		t.Errorf("opened again the proof is %+v", got)
	}
	b.undo()
	if b.sheetNow().Proof.Proved() || b.sheetP.unseen.Visible() {
		t.Error("undo left the proof")
	}
}

// A file that is whole squares out agrees with the lines and is found out by the
// first name; one that is a few pixels out does not agree.
func TestFileThatIsWrongIsFoundOut(t *testing.T) {
	b := placedBench(t, 2000)
	j := b.sheetP.knows.judge
	b.foundGrid(madeLattice())
	nameCrossing(b, 0, 0, "NL 21 42")
	if b.sheetNow().Proof.Proved() || len(j.names) != 0 || !strings.Contains(b.footNow.Message, "2000 m from there") {
		t.Errorf("whole squares out: %d names, %q", len(j.names), b.footNow.Message)
	}
	b = placedBench(t, 120)
	j = b.sheetP.knows.judge
	b.foundGrid(madeLattice())
	if j.naming() || !strings.Contains(j.verdict.Text(), "printed grid contradicts") || !strings.Contains(j.verdict.Text(), "12.0 px (120 m)") {
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
	b.offerPlace(ending{place: &scan.Place{Source: "GeoTIFF keys", System: sys, Points: pts}})
	b.goTo(postSheet)
	j := b.sheetP.knows.judge
	if !j.body.Visible() || !strings.Contains(j.from.Text(), "by 4 points") {
		t.Fatalf("shown %v, %q: %s", j.body.Visible(), j.from.Text(), b.footNow.Message)
	}
	b.foundGrid(madeLattice())
	if j.agree == nil || !j.naming() || math.Abs(j.agree.MedianPx) > 0.1 {
		t.Fatalf("agreement %+v, naming %v", j.agree, j.naming())
	}
	nameCrossing(b, 0, 0, "NL 21 42")
	nameCrossing(b, 2, 0, "NL 23 42")
	nameCrossing(b, 1, 1, "NL 22 43")
	if sheet := b.sheetNow(); sheet.Proof.Kind != calib.ProofPrintedGrid || len(sheet.Points) != 4 {
		t.Errorf("proof %+v with %d points: %s", sheet.Proof, len(sheet.Points), b.footNow.Message)
	}
	if err := b.s.RemoveControlPoint(0); err != nil {
		t.Fatal(err)
	}
	if j.agree != nil || j.body.Visible() {
		t.Errorf("after a change: agreement %+v, shown %v", j.agree, j.body.Visible())
	}
}

// What contradicts the place stands wherever the sheet is read: beside the sheet,
// in the foot line, on the dial, in the ledger and on the clipboard, after the
// plan was saved and opened too. Undo, another grid's lines and a calibration by
// the printed grid take it away.
func TestContradictedPlaceIsShown(t *testing.T) {
	b := placedBench(t, 120)
	j := b.sheetP.knows.judge
	keepPickedLeg(t, b)
	shown := func(b *Bench) bool { return b.footNow.Contradicted }
	if shown(b) || j.aside.Visible() {
		t.Fatal("contradicted before anything was compared")
	}
	b.foundGrid(madeLattice())
	told := func(when string, b *Bench) {
		t.Helper()
		b.s.Select(b.s.Plan().Legs[0].ID)
		b.copyPlace("NL 21 42", picAt(100, 100))
		for what, text := range map[string]string{
			"the foot line": b.footNow.Proof, "the dial": strings.Join(caution.Shorts(b.s.Rows()[0].Reading.Cautions), ", "), "the proof": b.sheetP.proof.Text(),
			"the clipboard": b.footNow.Message, "the list": b.sheetNote(b.sheetNow()),
		} {
			if low := strings.ToLower(text); !strings.Contains(low, "contradicted") && !strings.Contains(low, "printed grid disagrees") {
				t.Errorf("%s, %s: %q", when, what, text)
			}
		}
		if j := b.sheetP.knows.judge; !shown(b) || !strings.Contains(j.verdict.Text(), "12.0 px (120 m)") || !j.aside.Visible() || !strings.Contains(b.sheetP.hint.Text(), "Do not go by this sheet") {
			t.Errorf("%s: verdict %q, tool %v, hint %q", when, j.verdict.Text(), j.aside.Visible(), b.sheetP.hint.Text())
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
	if shown(b) || j.aside.Visible() || j.verdict.Visible() {
		t.Errorf("undone: shown %v, tool %v, verdict %q", shown(b), j.aside.Visible(), j.verdict.Text())
	}
	b.redo()
	told("done again", b)
	j.setAside()
	if shown(b) || !b.footNow.Unproved || !strings.Contains(j.verdict.Text(), "another grid's") {
		t.Errorf("set aside: shown %v, unproved %v, verdict %q", shown(b), b.footNow.Unproved, j.verdict.Text())
	}
	b.undo()
	told("the doubt brought back", b)
	b.foundGrid(madeLattice())
	nameCrossing(b, 0, 0, "NL 21 42")
	b.escape()
	if shown(b) || byMatrix(b.sheetNow()) {
		t.Errorf("calibrated anew: shown %v", shown(b))
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
