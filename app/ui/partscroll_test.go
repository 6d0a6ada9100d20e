package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// In a low window a wheel over any part of the panel scrolls the panel.
func TestWheelOverThePanel(t *testing.T) {
	b := withALeg(t)
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

// In a low window a dial without a reading leaves its room to what stands below it. When
// a reading comes, that stays where it is while somebody types into it.
func TestADialWithoutAReadingLeavesItsRoom(t *testing.T) {
	b := withALeg(t)
	b.window.Resize(fyne.NewSize(853, 496))
	leg, scroll := b.selectedID(), b.frame.panel.scroll
	place := func() float32 {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject
		return at(b.route.Body()).Y - at(scroll).Y
	}
	for _, c := range []struct {
		id   plan.ID
		seen bool
	}{{leg, false}, {"", true}, {leg, false}, {"", true}} {
		b.s.Select(c.id)
		if got := place()+lowerLeast <= scroll.Size().Height; got != c.seen {
			t.Fatalf("with %q selected the panel begins at %v of %v", c.id, place(), scroll.Size().Height)
		}
	}
	b.window.Canvas().Focus(b.route.Controls()["typed bearing"].(fyne.Focusable))
	stood := place()
	if b.s.Select(leg); place() != stood {
		t.Errorf("the panel is typed into and goes from %v to %v", stood, place())
	}
}
