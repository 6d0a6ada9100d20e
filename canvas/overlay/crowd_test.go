package overlay

import (
	"testing"

	"legwright/canvas/view"
)

// Control points that stand close, as the intersections of a printed grid do, have
// no corners, which would hide the map; the chosen one keeps its own, and so do
// few or distant ones.
func TestCrowdedControlPointsHaveNoCorners(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	for _, c := range []struct {
		name    string
		across  int // and down
		apart   float64
		chosen  bool
		corners bool
	}{
		{"close", 8, 30, false, false},
		{"close, the chosen one", 8, 30, true, true},
		{"distant", 6, 60, false, true},
		{"few", 4, 30, false, true},
	} {
		var s Scene
		for i := range c.across * c.across {
			at := view.PicPt{X: 40 + c.apart*float64(i%c.across), Y: 40 + c.apart*float64(i/c.across)}
			s.Controls = append(s.Controls, Control{At: at, Selected: c.chosen && i == 0})
		}
		img := NewPainter().Paint(600, 400, v, 1, s)
		if got := img.RGBAAt(40-11, 40-9).A > 200; got != c.corners {
			t.Errorf("%s: corners %t, want %t", c.name, got, c.corners)
		}
		if img.RGBAAt(40-6, 40).A < 200 {
			t.Errorf("%s: no cross", c.name)
		}
	}
}
