package ui_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
	"legwright/canvas/pyramid"
)

// What the panel says is what the picture shows, remembered for the next
// start, and nothing of the plan's.
func TestPictureLook(t *testing.T) {
	b := benchtest.Opened(t)
	before := b.Plan()
	b.Choose("Adjust contrast and fade…")
	if _, slides := b.Canvas().Focused().(interface{ SetValue(float64) }); !b.Parts.LookCard().Visible() || !slides {
		t.Fatal("the panel is not there for the keyboard")
	}
	for _, words := range b.Parts.LookWords() {
		if words.MinSize().Width > words.Size().Width {
			t.Errorf("%q needs %.0f and has %.0f", words.Text, words.MinSize().Width, words.Size().Width)
		}
	}
	for range 4 {
		b.Key(fyne.KeyRight)
	}
	for range 5 {
		b.Choose("Fade more")
	}
	b.Choose("Darken for night use")
	got := b.Shown().Pyramid.Look()
	if got.Contrast < 0.19 || got.Contrast > 0.21 || got.Fade < 0.49 || got.Fade > 0.51 || !got.Invert {
		t.Errorf("the picture is shown with %+v, want contrast 0.2, half faded, inverted", got)
	}
	again := benchtest.Start(t, benchtest.Given{App: b.App})
	if again.Files.Show(benchtest.Picture(t)); again.Shown().Pyramid.Look() != got {
		t.Errorf("remembered %+v, want %+v", again.Shown().Pyramid.Look(), got)
	}
	if b.Plan() != before || b.Session().UndoName() != "open sheet" {
		t.Error("the look went into the plan")
	}
	other := b.Shown().Pyramid
	b.Files.Drop(benchtest.OtherPicture(t))
	b.Until("another picture", func() bool { return b.Shown().Pyramid != nil && b.Shown().Pyramid != other })
	if now := b.Shown().Pyramid.Look(); now != got {
		t.Errorf("the next picture is shown with %+v, want %+v", now, got)
	}
	b.Choose("Adjust contrast and fade…")
	b.Choose("Adjust contrast and fade…")
	if !b.Parts.LookCard().Visible() {
		t.Fatal("the panel is not there again")
	}
	b.Key(fyne.KeyEscape)
	if b.Parts.LookCard().Visible() {
		t.Error("Escape left the panel there")
	}
	b.Choose("Show as in the file")
	if now := b.Shown().Pyramid.Look(); now != (pyramid.Look{}) {
		t.Errorf("as it is: %+v", now)
	}
}

func TestStepsOfLookKeepTheirRange(t *testing.T) {
	b := benchtest.Opened(t)
	for range 30 {
		b.Choose("Increase contrast")
		b.Choose("Fade more")
	}
	if l := b.Shown().Pyramid.Look(); l.Contrast != 1 || l.Fade != 1 {
		t.Errorf("got %+v, want both at 1", l)
	}
	for range 50 {
		b.Choose("Decrease contrast")
		b.Choose("Fade less")
	}
	if l := b.Shown().Pyramid.Look(); l.Contrast != -1 || l.Fade != 0 {
		t.Errorf("got %+v, want -1 and 0", l)
	}
}

// diagnosed is the diagnostics as text, as the dialog copies them.
func diagnosed(b *benchtest.Bench) string {
	b.Choose("Show diagnostics…")
	b.Answer("Copy as text")
	return b.App.Clipboard().Content()
}

// The diagnostics name what is shown, and can be copied.
func TestDiagnostics(t *testing.T) {
	b := benchtest.Open(t)
	if text := diagnosed(b); !strings.Contains(text, "Picture                  none") {
		t.Errorf("without a picture: %s", text)
	}
	b = benchtest.Opened(t)
	text := diagnosed(b)
	for _, want := range []string{"ground.png", "PNG, 400 × 300 pixels, 0.1 megapixels", "Levels ready", "Memory limit             256 MB", "Store                    none", "Heap"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	b.Choose("Show diagnostics…")
	b.Key(fyne.KeyEscape)
	if b.Asks() {
		t.Error("Escape left the diagnostics there")
	}
}

// Deleting the stored pictures first says how large they are, then leaves none.
func TestClearStore(t *testing.T) {
	dir := t.TempDir()
	benchtest.Know(t, dir, benchtest.Picture(t))
	b := benchtest.Stored(t, dir)
	if _, n := b.Pictures.Store.Size(); n != 1 {
		t.Fatalf("%d pictures stored, want 1", n)
	}
	b.Choose("Delete stored pictures…")
	b.Answer("Delete")
	if bytes, n := b.Pictures.Store.Size(); n != 0 || bytes != 0 || b.Foot.Failed() {
		t.Errorf("%d pictures, %d bytes, message %q", n, bytes, b.Foot.Message())
	}
	b.Choose("Delete stored pictures…")
	if b.Asks() {
		t.Error("it asks about an empty store")
	}
}

// The whole sheet in the corner is shown and put away by its entry, remembered,
// and follows the look of the picture's panel.
func TestWholeSheetPanel(t *testing.T) {
	b := benchtest.Opened(t)
	card, whole := b.Parts.WholeSheet()
	if card.Visible() {
		t.Fatal("the panel is there unasked")
	}
	b.Choose("Show whole sheet in the corner")
	at, size := card.Position(), card.Size()
	next, _ := benchtest.Start(t, benchtest.Given{App: b.App}).Parts.WholeSheet()
	if !card.Visible() || !next.Visible() || b.Canvas().Focused() != fyne.Focusable(whole) {
		t.Error("the panel is not there for the keyboard")
	}
	if sheet := b.Sheet().Size(); size.Width < 100 || at.X+size.Width > sheet.Width || at.Y+size.Height > sheet.Height {
		t.Errorf("it stands at %v with %v on a sheet of %v", at, size, sheet)
	}
	before := b.Sheet().View()
	b.Sheet().ZoomBy(4)
	b.Key(fyne.KeyRight)
	if b.Sheet().View() == before {
		t.Error("the arrow keys do not move the view")
	}
	b.Choose("Show whole sheet in the corner")
	next, _ = benchtest.Start(t, benchtest.Given{App: b.App}).Parts.WholeSheet()
	if card.Visible() || next.Visible() {
		t.Error("the panel did not go away")
	}
}
