package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/canvas/pyramid"
)

// What the panel says is what the picture shows, remembered for the next
// start, and nothing of the plan's.
func TestPictureLook(t *testing.T) {
	b := opened(t)
	before := b.s.Plan()
	b.frame.look.toggle()
	if !b.frame.look.body.Visible() || b.window.Canvas().Focused() != fyne.Focusable(b.frame.look.contrast) {
		t.Fatal("the panel is not there for the keyboard")
	}
	if words := b.frame.look.contrastWords; words.MinSize().Width > words.Size().Width {
		t.Errorf("%q needs %.0f and has %.0f", words.Text, words.MinSize().Width, words.Size().Width)
	}
	for range 4 {
		b.frame.look.contrast.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	b.frame.look.fade.SetValue(0.5)
	b.frame.look.invertLight()
	got := b.desk.Pyramid().Look()
	if got.Contrast < 0.19 || got.Contrast > 0.21 || got.Fade != 0.5 || !got.Invert {
		t.Errorf("the picture is shown with %+v, want contrast 0.2, half faded, inverted", got)
	}
	if again := (&settings{b.program.app.Preferences()}).pictureLook(); again != got {
		t.Errorf("remembered %+v, want %+v", again, got)
	}
	if b.s.Plan() != before || b.s.UndoName() != "open sheet" {
		t.Error("the look went into the plan")
	}
	other := b.desk.Pyramid()
	b.desk.Open(otherPicture(t))
	until(t, b, "another picture", func() bool { return b.desk.Pyramid() != nil && b.desk.Pyramid() != other })
	if now := b.desk.Pyramid().Look(); now != got {
		t.Errorf("the next picture is shown with %+v, want %+v", now, got)
	}
	b.frame.look.contrast.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.frame.look.body.Visible() {
		t.Error("Escape left the panel there")
	}
	b.frame.look.plain()
	if now := b.desk.Pyramid().Look(); now != (pyramid.Look{}) {
		t.Errorf("as it is: %+v", now)
	}
}

func TestStepsOfLookKeepTheirRange(t *testing.T) {
	b := opened(t)
	for range 30 {
		b.frame.look.step(lookStep, lookStep)
	}
	if l := b.desk.Pyramid().Look(); l.Contrast != 1 || l.Fade != 1 {
		t.Errorf("got %+v, want both at 1", l)
	}
	for range 50 {
		b.frame.look.step(-lookStep, -lookStep)
	}
	if l := b.desk.Pyramid().Look(); l.Contrast != -1 || l.Fade != 0 {
		t.Errorf("got %+v, want -1 and 0", l)
	}
}

// The diagnostics name what is shown, and can be copied.
func TestDiagnostics(t *testing.T) {
	b := stand(t)
	if text := figureText(b.frame.help.figures.rows()); !strings.Contains(text, "Picture                  none") {
		t.Errorf("without a picture: %s", text)
	}
	b = opened(t)
	text := figureText(b.frame.help.figures.rows())
	for _, want := range []string{"ground.png", "PNG, 400 × 300 pixels, 0.1 megapixels", "Levels ready", "Budget of these          256 MB", "Store                    none", "Heap"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	b.frame.help.diagnostics()
	b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.dialogs.Waiting() {
		t.Error("Escape left the diagnostics there")
	}
}

// Deleting the stored pictures first says how large they are, then leaves none.
func TestClearStore(t *testing.T) {
	dir := t.TempDir()
	known(t, dir, picture(t))
	b := stored(t, dir)
	if _, n := b.desk.Source().Store.Size(); n != 1 {
		t.Fatalf("%d pictures stored, want 1", n)
	}
	b.files.Pictures.ClearStore()
	answerWith(t, b, "Delete")
	if bytes, n := b.desk.Source().Store.Size(); n != 0 || bytes != 0 || b.foot.Failed() {
		t.Errorf("%d pictures, %d bytes, message %q", n, bytes, b.foot.Message())
	}
	b.files.Pictures.ClearStore()
	if b.dialogs.Waiting() {
		t.Error("it asks about an empty store")
	}
}

// The whole sheet in the corner is shown and put away by its entry, remembered,
// and follows the look of the picture's panel.
func TestWholeSheetPanel(t *testing.T) {
	b := opened(t)
	if b.frame.whole.body.Visible() {
		t.Fatal("the panel is there unasked")
	}
	b.frame.whole.toggle()
	at, size := b.frame.whole.body.Position(), b.frame.whole.body.Size()
	if !b.frame.whole.body.Visible() || !b.program.set.whole() || b.window.Canvas().Focused() != fyne.Focusable(b.frame.whole.whole) {
		t.Error("the panel is not there for the keyboard")
	}
	if sheet := b.view.Area().Size(); size.Width < 100 || at.X+size.Width > sheet.Width || at.Y+size.Height > sheet.Height {
		t.Errorf("it stands at %v with %v on a sheet of %v", at, size, sheet)
	}
	before := b.view.Area().View()
	b.view.Area().ZoomBy(4)
	b.frame.whole.whole.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if b.view.Area().View() == before {
		t.Error("the arrow keys do not move the view")
	}
	b.frame.whole.toggle()
	if b.frame.whole.body.Visible() || b.program.set.whole() {
		t.Error("the panel did not go away")
	}
}
