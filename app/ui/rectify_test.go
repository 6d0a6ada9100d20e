package ui

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/ui/widgets"
)

// readable is a calibrated bench whose picture can be read as a whole.
func readable(t *testing.T) *Bench {
	t.Helper()
	b := calibrated(t)
	if err := b.desk.Pyramid().Wait(0); err != nil {
		t.Fatal(err)
	}
	return b
}

// rectifyTo exports the rectified map to a path at a scale, through the dialog.
func rectifyTo(t *testing.T, b *Bench, path, scale string) {
	t.Helper()
	b.files.Rectify.Export()
	if !b.dialogs.Waiting() {
		t.Fatalf("no file is asked for: %s", b.foot.Message())
	}
	for _, o := range test.LaidOutObjects(b.window.Canvas().Overlays().Top()) {
		if e, ok := o.(*widgets.EscapeEntry); ok && e.PlaceHolder == "metres per pixel" {
			e.SetText(scale)
		}
	}
	typePath(t, b, path)
	until(t, b, "the rectified map", func() bool { return !b.files.Rectify.Exporting() })
}

// typePath types a path into the dialog that asks for one, and submits it.
func typePath(t *testing.T, b *Bench, path string) {
	t.Helper()
	field, ok := b.window.Canvas().Focused().(*widgets.EscapeEntry)
	if !ok {
		t.Fatal("no path is asked for")
	}
	field.SetText(path)
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

// TestRectifiedOpensNoBetter: a rectified map opens again calibrated by
// the files beside it, as exact as the sheet it was made from, and unchecked.
func TestRectifiedOpensNoBetter(t *testing.T) {
	b := readable(t)
	out := filepath.Join(t.TempDir(), "up.jpg")
	rectifyTo(t, b, out, "20")
	old, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	g := old.ToGrid(calib.PicturePt{Col: 200, Row: 150})
	before := old.Covariance(calib.PicturePt{Col: 200, Row: 150}, 0)

	again := stand(t)
	again.files.Opener.Open(out)
	until(t, again, "the sheet, placed with nothing asked", func() bool {
		_, err := again.s.Calibration()
		return err == nil && !again.openingPicture()
	})
	if again.dialogs.Waiting() {
		t.Error("something is asked")
	}
	if got := again.pictures.shown.Header.PositionM; got <= 0 {
		t.Fatalf("the picture states a sigma of %g m", got)
	}
	c, err := again.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if again.s.Reader().System() != b.s.Reader().System() {
		t.Errorf("it opens on %v", again.s.Reader().System())
	}
	after := c.Covariance(c.ToPicture(g), 0)
	if after.EE < before.EE || after.NN < before.NN || again.s.Verdict().Checked {
		t.Errorf("variances %.2f and %.2f m², of the sheet %.2f and %.2f", after.EE, after.NN, before.EE, before.NN)
	}
}

// A picture rectified from a sheet with a stop opens with that stop.
func TestRectifiedKeepsTheStop(t *testing.T) {
	for _, name := range []string{"up.png", "up.jpg"} {
		b := placedBench(t, 120)
		compareWithLines(t, b)
		out := filepath.Join(t.TempDir(), name)
		rectifyTo(t, b, out, "10")
		again := stand(t)
		again.files.Opener.Open(out)
		until(t, again, "the sheet, placed with nothing asked", func() bool {
			_, err := again.s.Calibration()
			return err == nil && !again.openingPicture()
		})
		if got := sheetInHand(again).FileCautions; got != "evidence-disagrees" || len(again.s.Reader().SheetCautions()) == 0 {
			t.Errorf("%s: opened with %q: %s", name, got, again.foot.Message())
		}
		v, err := again.s.AddEvidence(calib.FromReceiver, calib.PicturePt{Col: 143, Row: 77}, "NL 2143 4323", 0.5)
		if err != nil || v.Checked {
			t.Errorf("%s: it is checked: %v", name, err)
		}
	}
}
