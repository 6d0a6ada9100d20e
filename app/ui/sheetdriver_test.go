package ui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/mapio/georef"
)

// seen calls f with each object of a tree that can be seen.
func seen(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if !o.Visible() {
		return
	}
	f(o)
	if c, ok := o.(*fyne.Container); ok {
		for _, in := range c.Objects {
			seen(in, f)
		}
	}
}

// typeReference writes over the reference of the position aimed at.
func typeReference(b *Bench, text string) {
	ref := b.sheetP.Controls()["reference"].(*widgets.EscapeEntry)
	b.window.Canvas().Focus(ref)
	ref.SetText("")
	test.Type(ref, text)
}

// chooseOrigin says where the reference of the position aimed at comes from.
func chooseOrigin(b *Bench, origin string) {
	seen(b.sheetP.Body(), func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Select); ok && slices.Contains(s.Options, origin) {
			s.SetSelected(origin)
		}
	})
}

// saidBy is all that a panel says in sentences.
func saidBy(body fyne.CanvasObject) string {
	text := ""
	seen(body, func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Sentence); ok {
			text += s.Text() + "\n"
		}
	})
	return text
}

// sheetInHand is the sheet that is shown.
func sheetInHand(b *Bench) plan.Sheet {
	sheet, _ := b.s.Sheet()
	return sheet
}

// placedBench is a bench whose picture of 400 × 300 pixels says itself where it lies:
// 10 m a pixel, the intersection of madeLattice at 21 and 42 km, shiftM metres too far
// east.
func placedBench(t *testing.T, shiftM float64) *Bench {
	t.Helper()
	b := opened(t)
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	b.sheetP.TakeFile(georef.Found{Georeference: &georef.Georeference{Source: "GeoTIFF keys", System: sys, Matrix: &[6]float64{10, 0, 20000 + shiftM, 0, -10, 744000}}}, true)
	b.goTo(panelSheet)
	if !sheetInHand(b).ByMatrix() {
		t.Fatalf("the sheet is not positioned: %s", b.foot.Message())
	}
	return b
}

// keepPickedLeg keeps a leg between two points picked on the sheet.
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

// compareWithLines compares the sheet with printed lines as madeLattice has them.
func compareWithLines(t *testing.T, b *Bench) {
	t.Helper()
	if _, _, err := b.s.CompareWithLines(madeLattice()); err != nil {
		t.Fatal(err)
	}
}
