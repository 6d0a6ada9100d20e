package overlay

import (
	"math"
	"testing"

	"legwright/canvas/view"
)

// missedScene has three control points and what the fit misses of them by; the
// printed intersections lie in the middle of the symbols.
func missedScene() Scene {
	var s Scene
	for _, c := range []struct{ x, y, dx, dy float64 }{{120, 90, 0.8, 0.1}, {460, 100, -0.3, 0.5}, {300, 300, -0.1, -0.75}} {
		at := view.PicPt{X: c.x, Y: c.y}
		s.Controls = append(s.Controls, Control{At: at, Text: "NN 245 813"})
		s.Residuals = append(s.Residuals, Residual{From: at, To: view.PicPt{X: c.x + c.dx, Y: c.y + c.dy}})
	}
	return s
}

func TestRoundFigure(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ v, want float64 }{
		{1, 1},
		{1.4, 1},
		{1.5, 2},
		{3.1, 2},
		{3.2, 5},
		{7, 5},
		{7.1, 10},
		{50, 50},
		{0.03, 0.02},
		{990, 1000},
		{0, 0},
		{-3, 0},
		{math.NaN(), 0},
		{math.Inf(1), 0},
	} {
		if got := RoundFigure(c.v); math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("RoundFigure(%v): got %v, want %v", c.v, got, c.want)
		}
	}
}

// The longest arrow is about 40 device-independent pixels long at every zoom,
// never shorter than life and never lengthened beyond reason.
func TestMagnified(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	near := v.ScaledTo(8, view.PicPt{X: 300, Y: 200}, v.Middle())
	huge := Scene{Residuals: []Residual{{To: view.PicPt{X: 900}}}}
	tiny := Scene{Residuals: []Residual{{To: view.PicPt{X: 0.49}}}}
	asked := missedScene()
	asked.ResidualTimes = 200
	for _, c := range []struct {
		name string
		s    Scene
		v    view.View
		px   float64
		want float64
	}{
		{"0.81 px pixel for pixel", missedScene(), v, 1, 50},
		{"the same on a fine screen", missedScene(), v, 2, 100},
		{"the same eight times as near", missedScene(), near, 1, 5},
		{"longer than the screen", huge, v, 1, 1},
		{"half a pixel", Scene{Residuals: []Residual{{To: view.PicPt{X: 0.5}}}}, v, 1, 100},
		{"the same on a huge sheet, seen whole", Scene{Residuals: []Residual{{To: view.PicPt{X: 0.5}}}}, view.New(60000, 40000, 600, 400).Fit(), 1, mostTimes},
		{"less than half a pixel", tiny, v, 1, 0},
		{"as asked for", asked, near, 1, 200},
		{"no residual", Scene{}, v, 1, 0},
		{"all of length 0", Scene{Residuals: make([]Residual, 2)}, v, 1, 0},
	} {
		if got := c.s.Magnified(c.v, c.px); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: got × %v, want × %v", c.name, got, c.want)
		}
	}
	if got := TimesWords(0.5) + TimesWords(5000); got != "× 0.5× 5000" {
		t.Errorf("TimesWords: got %q", got)
	}
}

// Nothing of an arrow is drawn over the intersection it belongs to.
func TestArrowsLeaveTheIntersectionFree(t *testing.T) {
	t.Parallel()
	s := missedScene()
	s.Controls = nil
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	img := NewPainter().Paint(600, 400, v, 1, s)
	inked := 0
	for y := range 400 {
		for x := range 600 {
			if img.RGBAAt(x, y).A == 0 {
				continue
			}
			inked++
			for _, r := range s.Residuals {
				if d := math.Hypot(float64(x)+0.5-r.From.X, float64(y)+0.5-r.From.Y); d < residualRim-4 {
					t.Fatalf("pixel %d, %d is drawn on, %.1f px from an intersection", x, y, d)
				}
			}
		}
	}
	if inked < 300 {
		t.Errorf("%d pixels drawn, want three arrows and their figure", inked)
	}
}
