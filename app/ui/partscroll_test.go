package ui_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// In a low window a wheel over any part of the panel scrolls the panel.
func TestWheelOverThePanel(t *testing.T) {
	b := benchtest.WithALeg(t)
	down := &fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -40}}
	b.Resize(fyne.NewSize(853, 496))
	for _, p := range []string{"Sheet", "Route"} {
		b.GoTo(p)
		o := fyne.Scrollable(b.Parts.Column().Scroll)
		if p == "Route" {
			o, _ = uitest.Find[*widgets.NestedScroll](b.Window, "bearing")
		}
		for range 20 {
			o.Scrolled(down)
		}
		if b.Parts.Column().Scroll.Offset.Y == 0 {
			t.Errorf("panel %s: the wheel does nothing", p)
		}
	}
}

// The wheel over a field of the Route panel scrolls the panel too: in a low window fields fill what is
// seen of a section.
func TestWheelOverAField(t *testing.T) {
	b := benchtest.WithALeg(t)
	for section, label := range map[routepanel.Section]string{routepanel.Selected: "name", routepanel.Plan: "title of the plan"} {
		b.Resize(fyne.NewSize(853, 1200))
		b.Route.Section(section)
		field, ok := uitest.Find[*widgets.EditField](b.Window, label)
		if !ok {
			t.Fatalf("section %d has no field %q", section, label)
		}
		b.Resize(fyne.NewSize(853, benchtest.PlaceOf(field).Y+120)) // the lowest in which it is seen
		for range 20 {
			test.Scroll(b.Canvas(), benchtest.PlaceOf(field).AddXY(10, 10), 0, 40)
		}
		before := benchtest.PlaceOf(field)
		test.Scroll(b.Canvas(), before.AddXY(10, 10), 0, -40)
		if after := benchtest.PlaceOf(field); after.Y >= before.Y {
			t.Errorf("section %d: %q stays at %v", section, label, after.Y)
		}
	}
}

// Over the fields of the Escape panel it scrolls too.
func TestWheelOverAFieldOfEscape(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.GoTo("Escape")
	points := []plan.Position{b.Plan().Resolve(b.Plan().Legs[0].From), b.Plan().Resolve(b.Plan().Legs[0].To)}
	if _, err := b.Session().AddHazard(plan.Crag, false, points); err != nil {
		t.Fatal(err)
	}
	b.Session().Select(b.Plan().Hazards[0].ID)
	for _, label := range []string{"crag 1", "distance, such as 50 m"} {
		field, ok := uitest.Find[*widgets.EditField](b.Window, label)
		if !ok {
			t.Fatalf("no field %q: %q", label, b.Texts())
		}
		b.Resize(fyne.NewSize(853, 320)) // so that not all fits
		b.Parts.Column().Scroll.ScrollToTop()
		before := benchtest.PlaceOf(field)
		test.Scroll(b.Canvas(), before.AddXY(10, 10), 0, -40)
		if after := benchtest.PlaceOf(field); after.Y >= before.Y {
			c := b.Parts.Column().Scroll
			t.Errorf("%q stays at %v of %v, %v in %v", label, after.Y, c.Offset, c.Content.Size(), c.Size())
		}
	}
}

// In a low window a dial without a reading leaves its room to what stands below it. When
// a reading comes, that stays where it is while somebody types into it.
func TestADialWithoutAReadingLeavesItsRoom(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Resize(fyne.NewSize(853, 496))
	leg, scroll := b.Selected(), b.Parts.Column().Scroll
	place := func() float32 {
		at := benchtest.PlaceOf
		return at(b.Parts.Lower()).Y - at(scroll).Y
	}
	for _, c := range []struct {
		id   plan.ID
		seen bool
	}{{leg, false}, {"", true}, {leg, false}, {"", true}} {
		b.Session().Select(c.id)
		if got := place()+lowerLeast <= scroll.Size().Height; got != c.seen {
			t.Fatalf("with %q selected the panel begins at %v of %v", c.id, place(), scroll.Size().Height)
		}
	}
	b.FocusOn(t, "bearing")
	stood := place()
	if b.Session().Select(leg); place() != stood {
		t.Errorf("the panel is typed into and goes from %v to %v", stood, place())
	}
}

// Another job of the Teach panel is seen from its beginning, however far the last one was
// scrolled.
func TestAnotherJobIsSeenFromItsBeginning(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Resize(fyne.NewSize(853, 496))
	b.GoTo("Teach")
	scroll := b.Parts.Column().Scroll
	for _, job := range []teachpanel.Job{teachpanel.Guess, teachpanel.TwoPeople, teachpanel.Show} {
		for range 20 {
			scroll.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -40}})
		}
		if scroll.Offset.Y == 0 {
			t.Fatalf("before job %d nothing scrolls", job)
		}
		if b.Job(job); scroll.Offset.Y != 0 {
			t.Errorf("job %d begins at %v", job, -scroll.Offset.Y)
		}
	}
}
