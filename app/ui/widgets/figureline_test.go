package widgets

import (
	"bytes"
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/look"
)

// A line of figures stands where a text of the toolkit would, follows its words and its
// colour, and is cut where there is no room.
func TestFigureLine(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	f := NewFigureLine()
	w := test.NewTempWindow(t, f)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(200, f.MinSize().Height))
	drawn := func(text string, ink look.Role) *image.NRGBA {
		f.Set(text, ink)
		return w.Canvas().Capture().(*image.NRGBA)
	}
	empty := drawn("", look.Quiet)
	full := drawn("ruled out · 12° left · 850 m", look.Quiet)
	for name, other := range map[string]*image.NRGBA{
		"no words": empty, "other figures": drawn("ruled out · 13° left · 850 m", look.Quiet), "another colour": drawn(f.Text(), look.Fault),
	} {
		if bytes.Equal(full.Pix, other.Pix) {
			t.Errorf("%s: the line looks the same", name)
		}
	}
	inked := func(img *image.NRGBA) (box image.Rectangle) {
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				if img.NRGBAAt(x, y) != empty.NRGBAAt(x, y) {
					box = box.Union(image.Rect(x, y, x+1, y+1))
				}
			}
		}
		return box
	}
	if box := inked(full); box.Min.X > 3 || box.Min.Y < 1 || box.Max.Y > full.Rect.Dy() || box.Max.X < 120 {
		t.Errorf("inked is %v of %v", box, full.Rect)
	}
	w.Resize(fyne.NewSize(60, f.MinSize().Height))
	if box := inked(drawn(f.Text(), look.Quiet)); box.Max.X > 60 || box.Max.X < 40 {
		t.Errorf("on 60 units inked is %v", box)
	}
}
