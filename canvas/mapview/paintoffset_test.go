package mapview

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/canvas/view"
)

func TestGlass(t *testing.T) {
	test.NewTempApp(t)
	for _, c := range []struct {
		name       string
		scale      float32
		dipW, dipH float32
		winW, winH int
		rise       float64
	}{
		{"scale 1 fits", 1, 1200, 801, 1200, 801, 0},
		{"scale 2, odd height", 2, 600, 401, 1200, 801, 1},
		{"scale 1.5, 801 of 801", 1.5, 800, 534, 1200, 801, 0},
		{"scale 1.5, 802 painted as 803", 1.5, 801, 535, 1201, 802, 1},
		{"another window is not ours", 1.5, 801, 535, 300, 200, 0},
	} {
		cv := test.NewCanvas()
		cv.SetPadded(false)
		cv.SetScale(c.scale)
		cv.Resize(fyne.NewSize(c.dipW, c.dipH))
		g := paintOffsetOf(cv, float64(c.scale), c.winW, c.winH)
		if g.rise != c.rise {
			t.Errorf("%s: rise %v, want %v", c.name, g.rise, c.rise)
		}
		p := view.ScreenPt{X: 1199.5, Y: 799.5}
		if q := g.toCanvas(p); q.Dist(p.Add(0, c.rise)) > 1 {
			t.Errorf("%s: %v goes to %v, want within a pixel of %v below", c.name, p, q, c.rise)
		}
	}
}
