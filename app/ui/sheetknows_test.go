package ui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/ui/sheetview"
	"legwright/app/units"
)

// The arrows at the points say how much longer they are than the misses, and
// keys change that.
func TestArrowsSayTheirLength(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 100, "NL 23 43")
	settle()
	if k := b.sheetP.knows; !k.arrows.Visible() || k.magnified() != 0 || !strings.Contains(k.times.Text, "No arrows") {
		t.Errorf("points that fit: shown %v, × %v, %q", k.arrows.Visible(), k.magnified(), k.times.Text)
	}
	point(b, 101.5, 101, "NL 21 43")
	k := b.sheetP.knows
	settle()
	auto := k.magnified()
	if auto < 5 || k.times.Text != "Arrows: residuals × "+strings.TrimPrefix(k.times.Text, "Arrows: residuals × ") {
		t.Fatalf("got × %v, %q (%s)", auto, k.times.Text, b.foot.Message())
	}
	b.stepArrows(1)
	settle()
	if got := k.magnified(); got != 2*auto && got != 2.5*auto {
		t.Errorf("longer: got × %v after × %v", got, auto)
	}
	b.stepArrows(-1)
	settle()
	b.stepArrows(-1)
	settle()
	if got := k.magnified(); got >= auto || k.scene.ResidualTimes != got {
		t.Errorf("shorter: got × %v, want less than × %v", got, auto)
	}
	b.setArrows(0)
	settle()
	if k.magnified() != auto {
		t.Errorf("as suits the view: got × %v, want × %v", k.magnified(), auto)
	}
	b.goTo(postRoute)
	b.stepArrows(1)
	if k.asked != 0 {
		t.Error("the arrows changed at another post")
	}
}

// Esc gives up the search, and lets a found grid go; the sheet is as before.
func TestFoundGridIsLetGo(t *testing.T) {
	b := calibrated(t)
	before := b.s.Plan()
	b.foundGrid(madeLattice())
	if len(sceneNow(b).Found.Lines) == 0 || !b.sheetP.knows.take.Visible() {
		t.Fatal("what was found is not shown")
	}
	b.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.printed.found != nil || b.printed.offer != nil || len(sceneNow(b).Found.Lines) != 0 || b.sheetP.knows.finds.Visible() || b.s.Plan() != before {
		t.Errorf("after Esc: found %v, shown %v", b.printed.found != nil, b.sheetP.knows.finds.Visible())
	}
	b.findPrintedGrid()
	if b.printed.cancel == nil || !strings.Contains(b.sheetP.hint.Text(), "Looking for the printed grid") || b.sheetP.knows.take.Visible() {
		t.Fatalf("searching: hint %q", b.sheetP.hint.Text())
	}
	b.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.printed.cancel != nil || !strings.Contains(b.foot.Message(), "Cancelled") {
		t.Errorf("the search goes on: foot %q", b.foot.Message())
	}
}

// The error over the sheet is worked out aside, shown at the Sheet post alone,
// and follows the calibration.
func TestErrorOverTheSheet(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 100, "NL 23 43")
	point(b, 101.5, 101, "NL 21 43")
	e := b.sheetP.knows.error
	if e.on || !e.body.Visible() || e.words.Visible() {
		t.Fatalf("at first: on %v, offered %v, told %v", e.on, e.body.Visible(), e.words.Visible())
	}
	b.toggleError()
	if !strings.Contains(e.words.Text(), "Working") {
		t.Errorf("while it is worked out: %q", e.words.Text())
	}
	until(t, "the error", func() bool { return e.have })
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	k := c.Covariance(calib.PicturePt{Col: 400, Row: 300}, 0)
	if l := sceneNow(b).Local; l.Empty() || l.MostM < 2*math.Sqrt(max(k.EE, k.NN))*0.99 || !strings.Contains(e.words.Text(), "± "+units.ErrorM(l.MostM)) {
		t.Errorf("drawn %v up to ± %v m, told %q", !l.Empty(), l.MostM, e.words.Text())
	}
	before := e.drawn
	b.view.NewMark(picAt(50, 50)) // goes to Route
	b.goTo(postSheet)
	if e.cancel != nil || &e.drawn.Contours == &before.Contours {
		t.Error("a mark had it worked out anew")
	}
	point(b, 200, 150, "22000 742500")
	if e.cancel == nil {
		t.Errorf("another control point did not: %d points, %s", points(b), b.foot.Message())
	}
	until(t, "the new error", func() bool { return e.cancel == nil && e.have })
	b.goTo(postRoute)
	b.toggleError()
	if b.post != postSheet || e.on || !sceneNow(b).Local.Empty() {
		t.Errorf("turned off from Route: post %v, on %v", b.post, e.on)
	}
}

// The words about the error over the sheet are brought into sight when they are
// asked for; and of a sheet that its file places they speak of no measurement.
func TestErrorWordsAreSeen(t *testing.T) {
	b := calibrated(t)
	for i := range 12 { // so many that all fits are listed
		x, y := 60+70*float64(i%4), 60+80*float64(i/4)
		if _, err := b.s.AddControlPoint(sheetview.PicturePt(picAt(x, y)), fmt.Sprintf("%.0f %.0f", 20000+10*x, 744000-10*y+2*float64(i*i%5))); err != nil {
			t.Fatal(err)
		}
	}
	e := b.sheetP.knows.error
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	for _, size := range []fyne.Size{{Width: 853, Height: 496}, {Width: 1280, Height: 776}} {
		b.window.Resize(size)
		b.goTo(postSheet)
		b.refreshAll()
		b.toggleError()
		until(t, "the error", func() bool { return e.have && !e.asked })
		end := place(e.words).Y + e.words.MinSize().Height
		for _, s := range []fyne.CanvasObject{b.panel.tops[postSheet], b.panel.layout.inner} {
			if edge := place(s).Y + s.Size().Height; end > edge+0.5 {
				t.Errorf("%v: the words end at %v, what is seen at %v", size, end, edge)
			}
		}
		b.toggleError()
	}
	b = placedBench(t, 0)
	b.toggleError()
	until(t, "the error of a file", func() bool { return b.sheetP.knows.error.have })
	if got := b.sheetP.knows.error.words.Text(); !strings.Contains(got, "does not say how exact it is: ± 17 m") || strings.Contains(got, "fit's own") {
		t.Errorf("of a file: %q", got)
	}
}
