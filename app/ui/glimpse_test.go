package ui

import (
	"crypto/sha256"
	"errors"
	"image"
	"testing"

	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
	"legwright/mapio/scan"
)

// glance lets an opening show its preview ahead of the file's hash.
func glance(b *Bench, o *opening) {
	h := scan.Header{Format: "TIFF", Width: 800, Height: 600}
	o.preview(scan.Preview{Header: h, Level: 1, Image: image.NewGray(image.Rect(0, 0, 400, 300))}, [32]byte{1})
	b.arrived(o, <-o.arrivals)
}

// drags are the bearings that a drag across the sheet reads.
func drags(b *Bench) bool {
	drag(b, 100, 100, 200, 150)
	defer b.view.Discard()
	return b.offered() || b.sheet.Tool() != tool.Pan
}

// Before the hash is there the picture can be looked at, but nothing of the
// plan lies on it, nothing is read off it and nothing is set on it.
func TestNothingStandsByAGlimpse(t *testing.T) {
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
	o := byHand(b, "/ground/big.tif", b.useSheet)
	glance(b, o)
	if b.picture.pyramid != nil || b.Pyramid() == nil || b.Pyramid().Size() != image.Pt(800, 600) || b.sheet.View().IsZero() {
		t.Fatal("the glimpse is not what is shown")
	}
	clickAt(b, view.PicPt{X: 100, Y: 100})
	b.goTo(postRoute)
	if drags(b) {
		t.Error("a bearing is read off a picture of which nothing is known")
	}
	clickAt(b, view.PicPt{X: 100, Y: 100})
	if b.s.Plan() != before || b.sheetP.Points().Aiming() {
		t.Error("something was set on a picture of which nothing is known")
	}
	if b.foot.Pointer().Ref != "" || b.sheetP.Hint() != sheetview.PreviewHint {
		t.Errorf("foot line %q of the sheet before, hint %q", b.foot.Pointer().Ref, b.sheetP.Hint())
	}
	hoverAt(b, view.PicPt{X: 100, Y: 100})
	if b.foot.Pointer().Ref != "" || b.foot.Scale() != 0 {
		t.Errorf("foot line %q, %g m a pixel, want neither", b.foot.Pointer().Ref, b.foot.Scale())
	}
	seen := b.sheet.View()
	sum := sha256.Sum256([]byte("big"))
	o.hashed(sum)
	b.arrived(o, <-o.arrivals)
	sheet, _ := b.s.Plan().Sheet()
	if b.glimpsed() || b.picture.pyramid == nil || sheet.SHA256 != (loaded{key: sum}).sha() || b.picture.sha != sheet.SHA256 {
		t.Errorf("glimpse %v, sheet %.8s, want the sheet with the file's hash", b.glimpsed(), sheet.SHA256)
	}
	if b.sheet.View() != seen || b.sheet.Tool() != tool.Calibrate {
		t.Errorf("tool %v, view kept %v, want that of the post and the view as it was", b.sheet.Tool(), b.sheet.View() == seen)
	}
	b.picture.pyramid.Fill(image.NewGray(image.Rect(0, 0, 800, 600)))
	finish(b, o, ending{})
}

// An opening that fails or is given up while there is but a glimpse brings
// back what was there.
func TestGlimpseThatComesToNothing(t *testing.T) {
	for name, end := range map[string]func(*Bench, *opening){
		"fails": func(b *Bench, o *opening) {
			o.show(loaded{path: o.path, err: errors.New("the drive was pulled")})
			b.arrived(o, <-o.arrivals)
		},
		"given up": func(b *Bench, _ *opening) { b.giveUpOpening() },
	} {
		b := calibrated(t)
		before, sha := b.s.Plan(), b.picture.sha
		o := byHand(b, "/ground/big.tif", b.useSheet)
		glance(b, o)
		end(b, o)
		b.escape()
		until(t, "the picture before", func() bool { return b.picture.sha == sha && b.picture.pyramid != nil })
		if b.glimpsed() || b.s.Plan() != before {
			t.Errorf("%s: glimpse %v, plan kept %v", name, b.glimpsed(), b.s.Plan() == before)
		}
	}
}

// The file of a plan's sheet with another content asks, and what was glimpsed
// of it goes.
func TestGlimpseOfAChangedPicture(t *testing.T) {
	b := calibrated(t)
	sheet, _ := b.s.Plan().Sheet()
	o := byHand(b, sheet.Picture, b.useSheet)
	glance(b, o)
	o.hashed(sha256.Sum256([]byte("other")))
	b.arrived(o, <-o.arrivals)
	if !b.dialogOpen() || b.glimpsed() || points(b) != 2 {
		t.Fatalf("asked %v, glimpse %v, %d points, want the question and the 2 points", b.dialogOpen(), b.glimpsed(), points(b))
	}
	finish(b, o, ending{})
	b.dialogs.Escape()
	now, _ := b.s.Plan().Sheet()
	if b.picture.pyramid != nil || now.SHA256 != sheet.SHA256 || now.Page != (plan.Page{}) {
		t.Errorf("picture %v, hash %.8s after no, want none and the plan's", b.picture.pyramid != nil, now.SHA256)
	}
}
