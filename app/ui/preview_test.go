package ui

import (
	"image"
	"testing"

	"legwright/app/ui/opening"
	"legwright/app/ui/opening/openingtest"
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// byHand lets a test drive what the bench opens from now on.
func byHand(b *Bench) *openingtest.Opener {
	o := openingtest.NewOpener()
	b.desk.Source().Opener = o
	return o
}

// large is a picture of 800 × 600 pixels that is being read in place of the sheet shown.
func large(t *testing.T, b *Bench) *openingtest.Reading {
	t.Helper()
	o := byHand(b)
	b.desk.Open(openingtest.Picture(t, t.TempDir(), "large.png", 7))
	if b.dialogs.Waiting() {
		answerWith(t, b, "Replace the sheet")
	}
	r := o.Next(t)
	r.Header.Width, r.Header.Height = 800, 600
	return r
}

// drags reports whether a drag across the sheet reads a bearing.
func drags(b *Bench) bool {
	drag(b, 100, 100, 200, 150)
	defer b.view.Discard()
	return b.offered() || b.view.Area().Tool() != tool.Pan
}

// Before the hash of its file is known a picture can be looked at, but nothing of the
// plan lies on it, nothing is read off it and nothing is set on it.
func TestNothingIsReadOffAPreview(t *testing.T) {
	b := calibrated(t)
	if !drags(b) {
		t.Fatal("no bearing is read on the sheet: the test tries nothing")
	}
	before := b.s.Plan()
	b.ledger.ToggleFold()
	b.ledger.ToggleFold() // it stays open: folding would give the sheet another view
	hoverAt(b, view.PicPt{X: 100, Y: 100})
	if b.foot.Pointer().Ref == "" {
		t.Fatal("no reference under the pointer: the test tries nothing")
	}
	r := large(t, b)
	r.Preview()
	until(t, b, "the preview", b.view.Preview)
	if b.desk.Pyramid() != nil || b.Pyramid() == nil || b.Pyramid().Size() != image.Pt(800, 600) || b.view.Area().View().IsZero() {
		t.Fatal("the preview is not what is shown")
	}
	clickAt(b, view.PicPt{X: 100, Y: 100})
	b.goTo(panelRoute)
	if drags(b) {
		t.Error("a bearing is read off a picture whose hash is not known")
	}
	clickAt(b, view.PicPt{X: 100, Y: 100})
	if b.s.Plan() != before || b.sheetP.Points().Aiming() {
		t.Error("something was set on a picture whose hash is not known")
	}
	if b.foot.Pointer().Ref != "" || b.sheetP.Hint() != sheetview.PreviewHint {
		t.Errorf("foot line %q of the sheet before, hint %q", b.foot.Pointer().Ref, b.sheetP.Hint())
	}
	hoverAt(b, view.PicPt{X: 100, Y: 100})
	if b.foot.Pointer().Ref != "" || b.foot.Scale() != 0 {
		t.Errorf("foot line %q, %g m a pixel, want neither", b.foot.Pointer().Ref, b.foot.Scale())
	}
	seen := b.view.Area().View()
	r.Hash()
	until(t, b, "the picture", func() bool { return b.desk.State() == opening.Usable })
	if b.view.Preview() || b.view.Area().View() != seen || b.view.Area().Tool() != tool.Calibrate {
		t.Errorf("preview %v, tool %v, view kept %v, want that of the panel and the view as it was", b.view.Preview(), b.view.Area().Tool(), b.view.Area().View() == seen)
	}
	r.Finish()
	until(t, b, "the end", func() bool { return whole(b) })
}

// A picture can be worked on as soon as its hash is known; when the rest has come, what
// was done stands.
func TestWorkBeginsBeforeTheRest(t *testing.T) {
	b := stand(t)
	r := large(t, b)
	r.PreviewHashed()
	until(t, b, "the picture", func() bool { return b.desk.State() == opening.Usable })
	if b.dialogs.Waiting() {
		t.Fatal("a dialog lies over a picture that can be worked on")
	}
	r.Tell("decoding", 30, 600)
	until(t, b, "how far it is", b.frame.opening.Visible)
	point(b, 100, 500, "NL 22 47")
	if points(b) != 1 {
		t.Fatalf("%d points set before the rest came, want 1", points(b))
	}
	clickAt(b, view.PicPt{X: 600, Y: 500})
	waits := b.sheetP.Hint()
	r.Finish()
	until(t, b, "the end", func() bool { return whole(b) })
	until(t, b, "the enlargement", func() bool { return b.sheetP.Hint() != waits })
	if b.frame.opening.Visible() || points(b) != 1 {
		t.Errorf("strip %v, %d points, want the strip away and the point kept", b.frame.opening.Visible(), points(b))
	}
}
