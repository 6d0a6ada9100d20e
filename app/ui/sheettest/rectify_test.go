package sheettest

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/widgets"
)

// readable is a calibrated bench whose picture can be read as a whole.
func readable(t *testing.T) *benchtest.Bench {
	t.Helper()
	b := benchtest.Calibrated(t)
	if err := b.Shown().Pyramid.Wait(0); err != nil {
		t.Fatal(err)
	}
	return b
}

// rectifyTo exports the rectified map to a path at a scale, through the dialog.
func rectifyTo(t *testing.T, b *benchtest.Bench, path, scale string) {
	t.Helper()
	b.Choose("Export rectified map…")
	if !b.Asks() {
		t.Fatalf("no file is asked for: %s", b.Foot.Message())
	}
	for _, o := range test.LaidOutObjects(b.Canvas().Overlays().Top()) {
		if e, ok := o.(*widgets.EscapeEntry); ok && e.PlaceHolder == "metres per pixel" {
			e.SetText(scale)
		}
	}
	b.Files.TypePath(path)
	b.Until("the rectified map", func() bool { return b.Foot.Failed() || strings.Contains(b.Foot.Message(), filepath.Base(path)) })
}

// TestRectifiedOpensNoBetter: a rectified map opens again calibrated by
// the files beside it, as exact as the sheet it was made from, and unchecked.
func TestRectifiedOpensNoBetter(t *testing.T) {
	b := readable(t)
	out := filepath.Join(t.TempDir(), "up.jpg")
	rectifyTo(t, b, out, "20")
	old, err := b.Session().Calibration()
	if err != nil {
		t.Fatal(err)
	}
	g := old.ToGrid(calib.PicturePt{Col: 200, Row: 150})
	before := old.Covariance(calib.PicturePt{Col: 200, Row: 150}, 0)

	again := benchtest.Open(t)
	again.Files.Drop(out)
	again.Until("the sheet, placed with nothing asked", func() bool {
		_, err := again.Session().Calibration()
		return err == nil && !again.Opening()
	})
	if again.Asks() {
		t.Error("something is asked")
	}
	if got := again.Shown().Header.PositionM; got <= 0 {
		t.Fatalf("the picture states a sigma of %g m", got)
	}
	c, err := again.Session().Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if again.Session().Reader().System() != b.Session().Reader().System() {
		t.Errorf("it opens on %v", again.Session().Reader().System())
	}
	after := c.Covariance(c.ToPicture(g), 0)
	if after.EE < before.EE || after.NN < before.NN || again.Session().Verdict().Checked {
		t.Errorf("variances %.2f and %.2f m², of the sheet %.2f and %.2f", after.EE, after.NN, before.EE, before.NN)
	}
}

// A picture rectified from a sheet with a stop opens with that stop.
func TestRectifiedKeepsTheStop(t *testing.T) {
	for _, name := range []string{"up.png", "up.jpg"} {
		b := benchtest.Placed(t, 120)
		b.Sheets.CompareWithLines()
		out := filepath.Join(t.TempDir(), name)
		rectifyTo(t, b, out, "10")
		again := benchtest.Open(t)
		again.Files.Drop(out)
		again.Until("the sheet, placed with nothing asked", func() bool {
			_, err := again.Session().Calibration()
			return err == nil && !again.Opening()
		})
		if got := again.InHand().FileCautions; got != "evidence-disagrees" || len(again.Session().Reader().SheetCautions()) == 0 {
			t.Errorf("%s: opened with %q: %s", name, got, again.Foot.Message())
		}
		v, err := again.Session().AddEvidence(calib.FromReceiver, calib.PicturePt{Col: 143, Row: 77}, "NL 2143 4323", 0.5)
		if err != nil || v.Checked {
			t.Errorf("%s: it is checked: %v", name, err)
		}
	}
}
