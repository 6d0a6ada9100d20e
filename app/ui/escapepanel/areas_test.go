package escapepanel_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/pace"
	"legwright/app/ui/escapepanel"
)

// An area of ground is drawn click by click, gets another ground in the panel, and a point on the
// side that closes it; each is one step.
func TestAnAreaOfGround(t *testing.T) {
	x := stand(t)
	x.DrawArea()
	x.clicks(100, 100, 200, 100, 200, 200, 100, 200)
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
	areas := x.s.Plan().Areas
	if len(areas) != 1 || areas[0].Ground != pace.Plantation || len(areas[0].Points) != 4 || x.s.Selection().ID != areas[0].ID {
		t.Fatalf("drawn: %+v, selected %v", areas, x.s.Selection())
	}
	if got := x.view.Scene().Areas; len(got) != 1 || !got[0].Closed || !got[0].Selected || got[0].Name != "plantation 1" {
		t.Errorf("on the sheet: %+v", got)
	}
	choose(t, x, 1, 1) // the ground of the selected area: rough
	if g := x.s.Plan().Areas[0].Ground; g != pace.Rough {
		t.Errorf("now %v", g)
	}
	x.clicks(200, 100, 100, 200) // the first keeps the second from being a double click
	x.Tap(t, "Add a point")
	x.near(t, x.s.Plan().Areas[0].Points[4], 100, 150)
	for _, points := range []int{4, 4, 0} { // the point, the ground, the area
		x.s.Undo()
		if list := x.s.Plan().Areas; points == 0 && len(list) != 0 || points > 0 && len(list[0].Points) != points {
			t.Errorf("after undo: %+v", list)
		}
	}
}

// What is selected brings its section to the front.
func TestSelectedGroundIsShown(t *testing.T) {
	x := stand(t)
	x.ShowSection(escapepanel.Areas)
	x.DrawArea()
	x.clicks(100, 100, 200, 100, 200, 200)
	x.Window.Key(fyne.KeyReturn)
	x.ShowSection(escapepanel.Hazards)
	x.s.Select("")
	x.s.Select(x.s.Plan().Areas[0].ID)
	x.Drain()
	if text := strings.Join(x.Texts(), " "); !strings.Contains(text, "Inside an area, the ground drawn there sets the walking time") {
		t.Errorf("the panel says %q", text)
	}
}
