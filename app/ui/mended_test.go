package ui

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// What is typed into a cell of the ledger is saved with the plan, and asked
// about before it would be lost.
func TestLedgerTypingIsNotLost(t *testing.T) {
	b := withALeg(t)
	file := filepath.Join(t.TempDir(), "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	cell := func(text string) {
		b.ledger.Edit(b.s.Plan().Legs[0].ID, session.FieldNote)
		for _, r := range text {
			b.window.Canvas().Focused().TypedRune(r)
		}
	}
	cell("stile")
	saveNow(t, b)
	p, _, err := planfile.NewStore().Load(file)
	if err != nil || p.Legs[0].Note != "stile" || b.s.Dirty() {
		t.Errorf("saved note %q, unsaved %v, %v, want stile", p.Legs[0].Note, b.s.Dirty(), err)
	}
	cell("gate")
	left := false
	b.files.Saver.Guard(func() { left = true })
	if left || !b.dialogs.Waiting() {
		t.Error("the plan was left without a question about what was typed")
	}
}

// typeCell types over a cell of the ledger and presses Return.
func typeCell(b *Bench, id plan.ID, f session.Field, text string) {
	b.ledger.Edit(id, f)
	e := b.window.Canvas().Focused().(interface {
		fyne.Focusable
		SetText(string)
	})
	e.SetText(text)
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

// One edit in the ledger is one step of undo, and a refusal does not stay in
// the foot line after it.
func TestLedgerEditIsOneStep(t *testing.T) {
	b := withALeg(t)
	before, id := b.s.Plan(), b.s.Plan().Legs[0].ID
	typeCell(b, id, session.FieldGrid, "abc")
	if b.s.Plan() != before || !b.foot.Failed() {
		t.Fatal("nonsense was taken")
	}
	typeCell(b, id, session.FieldGrid, "90")
	if b.s.Plan() == before || b.foot.Failed() {
		t.Errorf("message %q in the colour of faults %v", b.foot.Message(), b.foot.Failed())
	}
	b.undo()
	if b.s.Plan() != before {
		t.Error("one undo does not bring the leg back")
	}
}

// A calibration with cautions leads to them and not on to a check.
func TestCautionsComeBeforeTheCheck(t *testing.T) {
	hint := func(second string) string {
		b := opened(t)
		point(b, 50, 50, "NL 22 47")
		point(b, 350, 50, second)
		point(b, 350, 250, "NL 25 45")
		c, err := b.s.Calibration()
		if stopped := err != nil || b.s.Verdict().StopShort(c) != ""; stopped == (second == "NL 25 47") {
			t.Errorf("by %s the sheet is stopped: %v", second, stopped)
		}
		return b.sheetP.Hint()
	}
	if sound, swapped := hint("NL 25 47"), hint("747000 33000"); sound == swapped {
		t.Errorf("swapped axes lead on with %q", swapped)
	}
}

// The demo's marks and legs do not come along onto a person's own map.
func TestOwnMapLeavesTheDemo(t *testing.T) {
	b := stand(t)
	b.files.Opener.Demo()
	until(t, b, "the demo", func() bool { return whole(b) })
	b.desk.Open(picture(t))
	until(t, b, "the person's map", func() bool { return filepath.Base(b.pictures.shown.Path) == "ground.png" })
	if p := b.s.Plan(); len(p.Legs)+len(p.Marks)+len(p.Sights) != 0 || p.Title != "" {
		t.Errorf("%d legs, %d marks, title %q came along", len(p.Legs), len(p.Marks), p.Title)
	}
	b.files.Opener.Demo()
	answerWith(t, b, "Discard")
	until(t, b, "the demo", func() bool { return whole(b) && len(b.s.Plan().Legs) > 0 })
	if err := b.s.SetTitle("mine now"); err != nil {
		t.Fatal(err)
	}
	b.desk.Open(picture(t))
	until(t, b, "the question", b.dialogs.Waiting)
	b.escape()
	if b.s.Plan().Title != "mine now" || len(b.s.Plan().Legs) == 0 {
		t.Error("Escape did not stay with the changed demo")
	}
}

// A new mark's name can be typed from the Sheet panel too.
func TestMarkFromTheSheetPostIsNamed(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelSheet)
	b.view.NewMark(picAt(100, 100))
	if b.frame.panel.front != panelRoute || !typesName(b) {
		t.Error("the field for the name is not there")
	}
}

// A mark kept on another grid is found where it is.
func TestFindConvertsTheGrid(t *testing.T) {
	b := calibrated(t)
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys := b.s.Reader().System()
	want := calib.PicturePt{Col: 200, Row: 150}
	ll, _, err := sys.ToWGS84(c.ToGrid(want))
	if err != nil {
		t.Fatal(err)
	}
	r, err := importInto(b, session.Imported{Marks: []session.ImportedPoint{{Name: "far", At: ll}}})
	if err != nil || r.Marks != 1 {
		t.Fatal(r, err)
	}
	p := *b.s.Plan()
	m := p.Marks[0]
	m.Position = utmOf(t, ll)
	p.Marks = []plan.Mark{m}
	if err := b.s.Use(&p); err != nil {
		t.Fatal(err)
	}
	until(t, b, "the picture", func() bool { return whole(b) })
	b.view.Area().ZoomBy(4)
	b.route.Find(m.ID)
	s, size := b.view.Area().View().ToScreen(picAt(want.Col, want.Row)), b.view.Area().Size()
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
	b := withALeg(t)
	m := b.s.Plan().Marks[0]
	legs := len(b.s.Plan().Legs)
	b.toggleMoving()
	drag(b, 50, 50, 120, 90)
	moved, _ := b.s.Plan().MarkByID(m.ID)
	if moved.Position.At.Col < 110 || b.offered() || len(b.s.Plan().Legs) != legs {
		t.Fatalf("mark at %v, offer %v, want it moved to 120, 90 and no bearing read", moved.Position.At, b.offered())
	}
	b.undo()
	if back, _ := b.s.Plan().MarkByID(m.ID); back.Position != m.Position {
		t.Errorf("one undo leaves it at %v", back.Position.At)
	}
	b.escape()
	drag(b, 200, 60, 260, 200)
	if b.frame.panel.moving || !b.offered() {
		t.Error("after Escape dragging does not read a bearing")
	}
}
