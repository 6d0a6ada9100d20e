package sheettest

import (
	"image"
	"testing"

	"legwright/app/ui/ask"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/opening/openingtest"
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
)

// byHand lets a test drive what the bench opens from now on.
func byHand(b *benchtest.Bench) *openingtest.Opener {
	o := openingtest.NewOpener()
	b.Pictures.Opener = o
	return o
}

// large is a picture of 800 × 600 pixels that is being read in place of the sheet shown.
func large(t *testing.T, b *benchtest.Bench) *openingtest.Reading {
	t.Helper()
	o := byHand(b)
	b.Files.Drop(openingtest.Picture(t, t.TempDir(), "large.png", 7))
	if b.Asks() {
		b.Answer("Replace the sheet")
	}
	r := o.Next(t)
	r.Header.Width, r.Header.Height = 800, 600
	return r
}

// usable reports whether the picture can be worked on while the rest of it is read.
func usable(b *benchtest.Bench) func() bool {
	return func() bool { return b.Opening() && b.Shown().Pyramid != nil }
}

// drags reports whether a drag across the sheet reads a bearing.
func drags(b *benchtest.Bench) bool {
	b.Mouse.Drag(100, 100, 200, 150)
	defer b.Discard()
	return b.Offered() || b.Sheet().Tool() != tool.Pan
}

// Before the hash of its file is known a picture can be looked at, but nothing of the
// plan lies on it, nothing is read off it and nothing is set on it.
func TestNothingIsReadOffAPreview(t *testing.T) {
	b := benchtest.Calibrated(t)
	if !drags(b) {
		t.Fatal("no bearing is read on the sheet: the test tries nothing")
	}
	before := b.Plan()
	b.Ledger.ToggleFold()
	b.Ledger.ToggleFold() // it stays open: folding would give the sheet another view
	b.Mouse.Hover(100, 100)
	if b.Foot.Pointer().Ref == "" {
		t.Fatal("no reference under the pointer: the test tries nothing")
	}
	r := large(t, b)
	r.Preview()
	b.Until("the preview", func() bool { return b.Pyramid() != nil && b.Shown().Pyramid == nil })
	if b.Shown().Pyramid != nil || b.Pyramid() == nil || b.Pyramid().Size() != image.Pt(800, 600) || b.Sheet().View().IsZero() {
		t.Fatal("the preview is not what is shown")
	}
	if b.Mouse.Click(100, 100); b.Parts.Front() != "Sheet" || b.Sheets.Aiming() {
		t.Errorf("in panel %q a click aims %v", b.Parts.Front(), b.Sheets.Aiming())
	}
	b.GoTo("Route")
	if drags(b) {
		t.Error("a bearing is read off a picture whose hash is not known")
	}
	b.Mouse.Click(100, 100)
	if b.Plan() != before {
		t.Error("something was set on a picture whose hash is not known")
	}
	b.GoTo("Sheet")
	if b.Foot.Pointer().Ref != "" || b.Parts.Hint() != sheetview.PreviewHint {
		t.Errorf("foot line %q of the sheet before, hint %q", b.Foot.Pointer().Ref, b.Parts.Hint())
	}
	b.GoTo("Route")
	b.Mouse.Hover(100, 100)
	if b.Foot.Pointer().Ref != "" || b.Foot.Scale() != 0 {
		t.Errorf("foot line %q, %g m a pixel, want neither", b.Foot.Pointer().Ref, b.Foot.Scale())
	}
	seen := b.Sheet().View()
	r.Hash()
	b.Until("the picture", usable(b))
	if b.Shown().Pyramid == nil || b.Sheet().View() != seen || b.Sheet().Tool() != tool.Calibrate {
		t.Errorf("preview %v, tool %v, view kept %v, want that of the panel and the view as it was", b.Shown().Pyramid == nil, b.Sheet().Tool(), b.Sheet().View() == seen)
	}
	r.Finish()
	b.Until("the end", func() bool { return b.Whole() })
}

// A picture can be worked on as soon as its hash is known; when the rest has come, what
// was done stands.
func TestWorkBeginsBeforeTheRest(t *testing.T) {
	b := benchtest.Open(t)
	r := large(t, b)
	r.PreviewHashed()
	b.Until("the picture", usable(b))
	if b.Asks() {
		t.Fatal("a dialog lies over a picture that can be worked on")
	}
	r.Tell("decoding", 30, 600)
	strip := benchtest.Part[*ask.Strip](b)
	b.Until("how far it is", strip.Visible)
	b.Sheets.Point(100, 500, "NL 22 47")
	if b.Points() != 1 {
		t.Fatalf("%d points set before the rest came, want 1", b.Points())
	}
	b.Mouse.Click(600, 500)
	waits := b.Parts.Hint()
	r.Finish()
	b.Until("the end", func() bool { return b.Whole() })
	b.Until("the enlargement", func() bool { return b.Parts.Hint() != waits })
	if strip.Visible() || b.Points() != 1 {
		t.Errorf("strip %v, %d points, want the strip away and the point kept", strip.Visible(), b.Points())
	}
}
