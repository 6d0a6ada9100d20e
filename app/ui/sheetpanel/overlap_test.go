package sheetpanel_test

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/session"
	"legwright/canvas/view"
)

// inkAt is how dark invented ground is at a position: blots and lines a hundred metres
// apart, none of them in a row.
func inkAt(e, n float64) float64 {
	a := math.Sin(e/31+3*math.Sin(n/170)) + math.Sin(n/43+3*math.Sin(e/230)) + math.Sin((e+n)/59+2*math.Cos((e-n)/140))
	return math.Max(0, math.Min(1, 0.6*a))
}

// ground draws that ground at metres per pixel, north up, from its top-left corner on,
// with a white border.
func ground(w, h int, mpp, east, north float64) *image.RGBA {
	img := blank(w, h)
	const border = 90
	for y := border; y < h-border; y++ {
		for x := border; x < w-border; x++ {
			img.Set(x, y, color.Gray{Y: uint8(250 - 180*inkAt(east+mpp*(float64(x)+0.5), north-mpp*(float64(y)+0.5)))})
		}
	}
	return img
}

// overlapping is a desk with two sheets of the same ground, the second in hand: the
// first is checked and has the mark Chapel at E 22 567 N 742 871. The second's references
// are out by so many metres.
func overlapping(t *testing.T, outM float64) *desk {
	t.Helper()
	d := newDesk(t)
	d.show(t, "west.png", ground(500, 400, 10, 20000, 744000), d.s.OpenSheet)
	for _, p := range []struct {
		col, row float64
		ref      string
	}{{100, 100, "NL 21 43"}, {400, 100, "NL 24 43"}, {400, 300, "NL 24 41"}, {100, 300, "NL 21 41"}} {
		d.point(p.col, p.row, p.ref)
	}
	if v, err := d.s.AddEvidence(calib.FromList, calib.PicturePt{Col: 233.5, Row: 177.5}, "NL 2233 4222", 0.5); err != nil || !v.Checked {
		t.Fatalf("the first sheet: %v, %+v", err, v)
	}
	pos, err := d.view.PositionAt(view.PicPt{X: 256.7, Y: 112.9})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.s.AddMark("Chapel", pos); err != nil {
		t.Fatal(err)
	}
	d.show(t, "east.png", ground(600, 500, 8, 20500, 744500), func(p session.Picture) error { return d.s.AddSheet(p) })
	for _, p := range [][2]float64{{21000, 744000}, {25000, 744000}, {25000, 741000}, {21000, 741000}} {
		d.point((p[0]-20500)/8, (744500-p[1])/8, fmt.Sprintf("%.0f %.0f", p[0]+outM, p[1]))
	}
	return d
}

// compareAt aims at ground and compares it with the mark.
func (d *desk) compareAt(t *testing.T, e, n float64) {
	t.Helper()
	d.click((e-20500)/8, (744500-n)/8)
	d.from(t, "another sheet")
	d.choose(t, "choose a mark", "Chapel  (west.png)")
	d.Until(t, "the other picture", func() bool { d.Drain(); return d.panel.Compares() })
	d.Key("Return")
	d.Drain()
}

// Where two sheets overlap, a mark of a checked sheet checks the other one: but only
// where both pictures show the same.
func TestOverlapChecks(t *testing.T) {
	d := overlapping(t, 0)
	if n := len(d.scene().Marks); n != 0 {
		t.Errorf("%d marks of the other sheet are drawn on an unchecked one", n)
	}
	for _, c := range []struct {
		what string
		e, n float64
	}{
		{"the white border", 20700, 744300},
		{"another position", 23800, 741900},
		{"160 m beside", 22727, 742871},
	} {
		d.compareAt(t, c.e, c.n)
		if len(d.sheet().Evidence) > 0 || !d.line.Failed() {
			t.Errorf("%s: %d pieces of evidence: %s", c.what, len(d.sheet().Evidence), d.line.Message())
		}
		d.panel.Points().Cancel()
	}
	d.compareAt(t, 22567, 742871)
	if !d.s.Verdict().Checked || len(d.scene().Marks) != 1 {
		t.Errorf("the same feature: %q, %d marks", d.line.Message(), len(d.scene().Marks))
	}
	first := d.s.Plan().Sheets[1].ID
	for _, s := range d.s.Plan().Sheets {
		if s.Picture == "/maps/west.png" {
			first = s.ID
		}
	}
	second := d.sheet().ID
	if err := d.s.ShowSheet(first); err != nil {
		t.Fatal(err)
	}
	if err := d.s.RemoveEvidence(0); err != nil {
		t.Fatal(err)
	}
	if d.s.Reader().Verdict(second).Checked {
		t.Error("the check outlives that of the sheet it rests on")
	}
}

// A sheet that is a kilometre out disagrees at the same feature, and one act corrects
// all its references.
func TestOverlapShowsASheetThatIsOut(t *testing.T) {
	d := overlapping(t, 1000)
	d.compareAt(t, 22567, 742871)
	if v := d.s.Verdict(); v.Checked || !caution.Stops(v.Cautions, caution.All) {
		t.Errorf("it says %q", d.line.Message())
	}
	d.Tap(t, "Correct them")
	if got := d.sheet().Points[0].Text; got != "21000 744000" || !d.s.Verdict().Checked {
		t.Errorf("corrected to %q, checked %v", got, d.s.Verdict().Checked)
	}
}

// Without the other sheet's picture there is no such check.
func TestOverlapNeedsThePicture(t *testing.T) {
	d := overlapping(t, 0)
	delete(d.album.all, "/maps/west.png")
	d.compareAt(t, 22567, 742871)
	if len(d.sheet().Evidence) > 0 || !d.line.Failed() {
		t.Errorf("%d pieces of evidence: %s", len(d.sheet().Evidence), d.line.Message())
	}
}
