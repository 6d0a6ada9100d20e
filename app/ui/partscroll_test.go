package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// In a low window a wheel over any part of the panel scrolls the panel.
func TestWheelOverThePanel(t *testing.T) {
	b := calibrated(t)
	down := &fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -40}}
	b.window.Resize(fyne.NewSize(853, 496))
	for _, p := range []panelID{panelSheet, panelRoute} {
		b.goTo(p)
		o := fyne.Scrollable(b.frame.panel.scroll)
		if p == panelRoute {
			o, _ = uitest.Find[*widgets.NestedScroll](&uitest.Window{Window: b.window}, "bearing")
		}
		for range 20 {
			o.Scrolled(down)
		}
		if b.frame.panel.scroll.Offset.Y == 0 {
			t.Errorf("panel %d: the wheel does nothing", p)
		}
	}
}
