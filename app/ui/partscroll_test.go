package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
)

// In a low window a wheel over any part of the panel turns the panel, and in a
// high one a part that is too high for its room.
func TestWheelOverThePanel(t *testing.T) {
	b := calibrated(t)
	down := &fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -40}}
	b.window.Resize(fyne.NewSize(853, 496))
	for _, p := range []post{postSheet, postRoute} {
		b.goTo(p)
		parts := []fyne.CanvasObject{b.panel.tops[p], b.panel.lowers[p]}
		if p == postRoute {
			parts = []fyne.CanvasObject{b.routeP.legScroll}
		}
		for i, o := range parts {
			view := b.panel.layout.inner
			view.ScrollToTop()
			for range 20 {
				o.(fyne.Scrollable).Scrolled(down)
			}
			if view.Offset.Y == 0 {
				t.Errorf("post %d, part %d: the wheel does nothing", p, i)
			}
		}
	}
	b.window.Resize(fyne.NewSize(1280, 776))
	b.goTo(postSheet)
	for i := range 8 {
		point(b, 20+30*float64(i), 40+25*float64(i%3), "20300 743500")
	}
	lower := b.panel.lowers[postSheet].(*widgets.NestedScroll)
	lower.Scrolled(down)
	if lower.Offset.Y == 0 || b.panel.layout.inner.Offset.Y != 0 {
		t.Errorf("in a high window the part is at %v, the panel at %v", lower.Offset.Y, b.panel.layout.inner.Offset.Y)
	}
}
