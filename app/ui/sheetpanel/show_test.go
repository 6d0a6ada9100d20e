package sheetpanel_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// The arrows at the points are lengthened and shortened by round figures, while there
// are residuals and the panel is in front.
func TestArrowsAreLengthened(t *testing.T) {
	d := calibrated(t)
	d.point(300, 100, "NL 23 43")
	d.panel.Arrows().Step(1)
	if got := d.scene().ResidualTimes; got != 0 {
		t.Errorf("points that fit: lengthened × %v", got)
	}
	d.point(101.5, 101, "NL 21 43")
	d.panel.Arrows().Step(1)
	longer := d.scene().ResidualTimes
	d.panel.Arrows().Step(-1)
	d.panel.Arrows().Step(-1)
	if shorter := d.scene().ResidualTimes; !(longer > shorter && shorter >= 1) {
		t.Errorf("longer × %v, then shorter × %v", longer, shorter)
	}
	d.panel.Arrows().Automatic()
	if got := d.scene().ResidualTimes; got != 0 {
		t.Errorf("automatic: × %v", got)
	}
	d.panel.Show(false)
	d.panel.Arrows().Step(1)
	if got := d.scene().ResidualTimes; got != 0 {
		t.Error("the arrows changed while the panel was away")
	}
}

// The accuracy is worked out aside, shown while the panel is in front, and follows the
// calibration.
func TestAccuracy(t *testing.T) {
	d := calibrated(t)
	d.point(300, 100, "NL 23 43")
	d.point(101.5, 101, "NL 21 43")
	if !d.scene().Local.Empty() {
		t.Fatal("it is shown unasked")
	}
	d.Tap(t, "Show accuracy")
	d.Until(t, "the accuracy", func() bool { return !d.scene().Local.Empty() })
	c, err := d.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	k := c.Covariance(calib.PicturePt{Col: 400, Row: 300}, 0)
	first := d.scene().Local.MostM
	if first < 2*math.Sqrt(max(k.EE, k.NN))*0.99 {
		t.Errorf("at most ± %v m are shown", first)
	}
	d.point(200, 150, "22000 742500")
	d.Until(t, "that of another calibration", func() bool { return d.scene().Local.MostM != first })
	d.panel.Show(false)
	d.view.Redraw()
	if !d.scene().Local.Empty() {
		t.Error("it is drawn while the panel is away")
	}
	d.panel.Show(true)
	d.panel.Accuracy().Toggle()
	if d.panel.Accuracy().On() || !d.scene().Local.Empty() {
		t.Error("it stays after it was turned off")
	}
}

// A plan of several sheets lists them; a click shows one, and one can be removed.
func TestSheetsAreListed(t *testing.T) {
	d := calibrated(t)
	if d.offers("Another sheet…") {
		t.Error("a plan of one sheet lists it")
	}
	first := d.sheet().ID
	d.show(t, "other.png", blank(300, 300), func(p session.Picture) error { return d.s.AddSheet(p) })
	d.Tap(t, "ground.png")
	d.Tap(t, "Another sheet…")
	d.Tap(t, "Delete ground.png")
	want := []string{"show " + string(first), "add sheet", "remove " + string(first)}
	if len(d.acts) != 3 || d.acts[0] != want[0] || d.acts[1] != want[1] || d.acts[2] != want[2] {
		t.Errorf("the window was asked for %q, want %q", d.acts, want)
	}
}

// While the panel is away it does not repaint; when it comes back it shows what is.
func TestPanelAwayRests(t *testing.T) {
	d := calibrated(t)
	d.panel.Show(false)
	before := d.panel.Hint()
	if err := d.s.RemoveControlPoint(0); err != nil {
		t.Fatal(err)
	}
	if d.panel.Hint() != before {
		t.Error("it changed while it was away")
	}
	d.panel.Show(true)
	if d.panel.Hint() == before {
		t.Error("it is as before, and a point is gone")
	}
}

// Rows of control points that are scrolled out of sight are empty, and Tab reaches each of
// them all the same.
func TestTabReachesEveryListedPoint(t *testing.T) {
	d := calibrated(t)
	for i := range 10 {
		d.point(20+36*float64(i), 30, fmt.Sprintf("NL %d 44", 21+i))
	}
	all, reached := len(d.sheet().Points), map[string]bool{}
	rows := func() int {
		seen := map[string]bool{}
		for _, text := range d.Texts() {
			if regexp.MustCompile(`^\d+   NL`).MatchString(text) {
				seen[text] = true
			}
		}
		return len(seen)
	}
	if n := rows(); n == all {
		t.Errorf("all %d rows are drawn in a panel that is too low for them", n)
	}
	for range 60 {
		d.Canvas().FocusNext()
		if tool, ok := d.Canvas().Focused().(*widgets.Tool); ok && strings.HasPrefix(tool.Hint(), "Delete control point ") {
			reached[tool.Hint()] = true
		}
	}
	if len(reached) != all {
		t.Errorf("Tab reaches %d of %d rows", len(reached), all)
	}
}
