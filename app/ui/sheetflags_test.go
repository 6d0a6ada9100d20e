package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// offersIn are the buttons among the sheet's warnings, by their words.
func offersIn(o fyne.CanvasObject) []*widgets.Tool {
	switch o := o.(type) {
	case *widgets.Tool:
		return []*widgets.Tool{o}
	case *fyne.Container:
		var out []*widgets.Tool
		for _, c := range o.Objects {
			out = append(out, offersIn(c)...)
		}
		return out
	}
	return nil
}

// A control point that is named as wrong is left out with one click; until then
// every reading is marked, and undo brings it back.
func TestAWrongPointIsLeftOutWithOneClick(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 100, "NL 23 43")
	point(b, 100, 100, "NL 20 43") // it is NL 21 43
	if points(b) != 4 {
		t.Fatalf("%d points: %s", points(b), b.foot.Message())
	}
	offers := func(words string) []*widgets.Tool {
		return slices.DeleteFunc(offersIn(b.sheetP.checks.rows), func(t *widgets.Tool) bool { return t.Text() != words })
	}
	if len(offers("Look at point 4")) == 0 || !strings.Contains(b.sheetP.hint.Text(), "correct it") {
		t.Fatalf("said %q, hint %q", said(b), b.sheetP.hint.Text())
	}
	from, err := b.view.EndAt(tool.Spot{At: view.PicPt{X: 150, Y: 150}})
	if err != nil {
		t.Fatal(err)
	}
	to, err := b.view.EndAt(tool.Spot{At: view.PicPt{X: 250, Y: 120}})
	if err != nil {
		t.Fatal(err)
	}
	marked := func() bool {
		r, err := b.s.LiveEnds(from, to)
		if err != nil {
			t.Fatal(err)
		}
		return r.Stopped()
	}
	if !marked() {
		t.Error("a reading with the wrong point in the fit is not marked")
	}
	offers("Look at point 4")[0].OnTapped()
	if b.sheetP.chosen != 3 {
		t.Errorf("the first offer takes up point %d, want 4", b.sheetP.chosen+1)
	}
	b.escape()
	offers("Remove it")[0].OnTapped()
	if points(b) != 3 || marked() || len(offers("Remove it")) != 0 || !strings.Contains(said(b), "correcting another control point") {
		t.Errorf("removed: %d points, marked %v, said %q", points(b), marked(), said(b))
	}
	b.undo()
	if points(b) != 4 || !marked() {
		t.Errorf("undone: %d points, marked %v", points(b), marked())
	}
}

// Four points of a photograph that no camera tells of fit no flat sheet: the
// hint asks whether it is one.
func TestAPhotographIsAskedFor(t *testing.T) {
	b := calibrated(t)
	point(b, 310, 95, "NL 23 43")
	point(b, 80, 103, "NL 21 43")
	if hint := b.sheetP.hint.Text(); !strings.Contains(hint, "photograph") || !strings.Contains(hint, "Photograph") {
		t.Errorf("the hint is %q", hint)
	}
	b.sheetP.medium.OnChosen(1)
	if hint := b.sheetP.hint.Text(); strings.Contains(hint, "photograph") {
		t.Errorf("as a photograph the hint is %q", hint)
	}
}
