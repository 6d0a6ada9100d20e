package ui_test

import (
	"path/filepath"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/benchtest"
	"legwright/canvas/view"
	"legwright/mapio/planfile"
)

// What is typed into a cell of the ledger is saved with the plan, and asked
// about before it would be lost.
func TestLedgerTypingIsNotLost(t *testing.T) {
	b := benchtest.WithALeg(t)
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.Session().SaveAs(file); err != nil {
		t.Fatal(err)
	}
	cell := func(text string) {
		b.Ledger.Edit(b.Plan().Legs[0].ID, session.FieldNote)
		for _, r := range text {
			b.Canvas().Focused().TypedRune(r)
		}
	}
	cell("stile")
	b.Files.Save()
	p, _, err := planfile.NewStore().Load(file)
	if err != nil || p.Legs[0].Note != "stile" || b.Session().Dirty() {
		t.Errorf("saved note %q, unsaved %v, %v, want stile", p.Legs[0].Note, b.Session().Dirty(), err)
	}
	cell("gate")
	before := b.Plan()
	b.Choose("New plan")
	if b.Session().Path() != file || b.Plan().Legs[0].Note != "gate" || b.Plan() == before || !b.Asks() {
		t.Error("the plan was left without a question about what was typed")
	}
}

// One edit in the ledger is one step of undo, and a refusal does not stay in
// the foot line after it.
func TestLedgerEditIsOneStep(t *testing.T) {
	b := benchtest.WithALeg(t)
	before, id := b.Plan(), b.Plan().Legs[0].ID
	b.Route.TypeCell(id, session.FieldGrid, "abc")
	if b.Plan() != before || !b.Foot.Failed() {
		t.Fatal("nonsense was taken")
	}
	b.Route.TypeCell(id, session.FieldGrid, "90")
	if b.Plan() == before || b.Foot.Failed() {
		t.Errorf("message %q in the colour of faults %v", b.Foot.Message(), b.Foot.Failed())
	}
	b.Undo()
	if b.Plan() != before {
		t.Error("one undo does not bring the leg back")
	}
}

// A calibration with cautions leads to them and not on to a check.
func TestCautionsComeBeforeTheCheck(t *testing.T) {
	hint := func(second string) string {
		b := benchtest.Opened(t)
		b.Sheets.Point(50, 50, "NL 22 47")
		b.Sheets.Point(350, 50, second)
		b.Sheets.Point(350, 250, "NL 25 45")
		c, err := b.Session().Calibration()
		if stopped := err != nil || b.Session().Verdict().StopShort(c) != ""; stopped == (second == "NL 25 47") {
			t.Errorf("by %s the sheet is stopped: %v", second, stopped)
		}
		return b.Parts.Hint()
	}
	if sound, swapped := hint("NL 25 47"), hint("747000 33000"); sound == swapped {
		t.Errorf("swapped axes lead on with %q", swapped)
	}
}

// The demo's marks and legs do not come along onto a person's own map.
func TestOwnMapLeavesTheDemo(t *testing.T) {
	b := benchtest.Open(t)
	b.Choose("Open the demo")
	b.Until("the demo", func() bool { return b.Whole() })
	b.Files.Drop(benchtest.Picture(t))
	b.Until("the person's map", func() bool { return filepath.Base(b.Shown().Path) == "ground.png" })
	if p := b.Plan(); len(p.Legs)+len(p.Marks)+len(p.Sights) != 0 || p.Title != "" {
		t.Errorf("%d legs, %d marks, title %q came along", len(p.Legs), len(p.Marks), p.Title)
	}
	b.Choose("Open the demo")
	b.Answer("Discard")
	b.Until("the demo", func() bool { return b.Whole() && len(b.Plan().Legs) > 0 })
	if err := b.Session().SetTitle("mine now"); err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(benchtest.Picture(t))
	b.Until("the question", b.Asks)
	b.Escape()
	if b.Plan().Title != "mine now" || len(b.Plan().Legs) == 0 {
		t.Error("Escape did not stay with the changed demo")
	}
}

// A plan that was saved from the demo is an ordinary one: nothing is asked while it is saved, and
// later changes can be saved.
func TestASavedDemoIsAnOrdinaryPlan(t *testing.T) {
	b := benchtest.Open(t)
	b.Choose("Open the demo")
	b.Until("the demo", func() bool { return b.Whole() })
	change := func(title string) {
		if err := b.Session().SetTitle(title); err != nil {
			t.Fatal(err)
		}
	}
	change("mine")
	file := filepath.Join(t.TempDir(), "mine"+planfile.Ext)
	b.Files.SaveAs(file)
	change("mine, later")
	b.Files.Drop(benchtest.Picture(t))
	b.Until("the question", b.Asks)
	if b.Shows("You have changed the demo") || !b.Shows("This plan has unsaved changes.") {
		t.Errorf("it asks %q", b.Texts())
	}
	b.Answer("Cancel")
	if b.Asks() || b.Plan().Title != "mine, later" {
		t.Errorf("after Cancel the plan is %q", b.Plan().Title)
	}
	b.Files.Drop(benchtest.Picture(t))
	b.Until("the question", b.Asks)
	b.Answer("Save")
	b.Until("the person's map", func() bool { return filepath.Base(b.Shown().Path) == "ground.png" })
	saved, _, err := planfile.NewStore().Load(file)
	if err != nil || saved.Title != "mine, later" || len(saved.Legs) == 0 {
		t.Errorf("the file holds %q, %d legs, %v", saved.Title, len(saved.Legs), err)
	}
	if p := b.Plan(); b.Asks() || len(p.Legs)+len(p.Marks) != 0 || b.Session().Path() != "" {
		t.Errorf("%d legs and %d marks came along; the plan's file is %q; a question stands open: %v", len(p.Legs), len(p.Marks), b.Session().Path(), b.Asks())
	}
	b.Session().NewPlan()
	b.Files.Open(file)
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Until("the other map", func() bool { return filepath.Base(b.Shown().Path) == "other.png" })
	if b.Asks() {
		t.Errorf("nothing would be lost, and it asks %q", b.Texts())
	}
}

// A new mark's name can be typed from the Sheet panel too.
func TestMarkFromTheSheetPostIsNamed(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Sheet")
	b.Mouse.NewMark(100, 100)
	if b.Parts.Front() != "Route" || !b.Route.Naming() {
		t.Error("the field for the name is not there")
	}
}

// A mark kept on another grid is found where it is.
func TestFindConvertsTheGrid(t *testing.T) {
	b := benchtest.Calibrated(t)
	c, err := b.Session().Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys := b.Session().Reader().System()
	want := calib.PicturePt{Col: 200, Row: 150}
	ll, _, err := sys.ToWGS84(c.ToGrid(want))
	if err != nil {
		t.Fatal(err)
	}
	r, err := importInto(b, session.Imported{Marks: []session.ImportedPoint{{Name: "far", At: ll}}})
	if err != nil || r.Marks != 1 {
		t.Fatal(r, err)
	}
	p := *b.Plan()
	m := p.Marks[0]
	m.Position = utmOf(t, ll)
	p.Marks = []plan.Mark{m}
	if err := b.Session().Use(&p); err != nil {
		t.Fatal(err)
	}
	b.Until("the picture", func() bool { return b.Whole() })
	b.Sheet().ZoomBy(4)
	b.Route.Find(m.ID)
	s, size := b.Sheet().View().ToScreen(view.PicPt{X: want.Col, Y: want.Row}), b.Sheet().Size()
	if dx, dy := s.X-float64(size.Width)/2, s.Y-float64(size.Height)/2; dx*dx+dy*dy > 400 {
		t.Errorf("found %.0f, %.0f pixels off the middle", dx, dy)
	}
}

// utmOf is a position kept on its UTM zone.
func utmOf(t *testing.T, ll geodesy.LatLon) plan.Position {
	t.Helper()
	sys := geodesy.UTM(geodesy.UTMZoneFor(ll))
	g, _, _, err := sys.FromWGS84(ll)
	if err != nil {
		t.Fatal(err)
	}
	return plan.ImportedAt(sys.Code(), g, 5)
}

// Moving is a way of dragging of its own: a mark goes to another position in one
// step, and Escape brings the reading of bearings back.
func TestMarksAreMovedByDragging(t *testing.T) {
	b := benchtest.WithALeg(t)
	m := b.Plan().Marks[0]
	legs := len(b.Plan().Legs)
	b.Choose("Move marks and ends by dragging")
	b.Mouse.Drag(50, 50, 120, 90)
	moved, _ := b.Plan().MarkByID(m.ID)
	if moved.Position.At.Col < 110 || b.Offered() || len(b.Plan().Legs) != legs {
		t.Fatalf("mark at %v, offer %v, want it moved to 120, 90 and no bearing read", moved.Position.At, b.Offered())
	}
	b.Undo()
	if back, _ := b.Plan().MarkByID(m.ID); back.Position != m.Position {
		t.Errorf("one undo leaves it at %v", back.Position.At)
	}
	b.Escape()
	b.Mouse.Drag(200, 60, 260, 200)
	if b.Entry("Move marks and ends by dragging").Checked || !b.Offered() {
		t.Error("after Escape dragging does not read a bearing")
	}
}
