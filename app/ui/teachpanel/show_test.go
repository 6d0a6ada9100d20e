package teachpanel_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/dial"
	"legwright/app/ui/uitest"
	"legwright/app/units"
	"legwright/canvas/view"
)

// A line that is dragged is that of the lesson from its first step on: words first, then
// the figure, and an arc that grows with it.
func TestDraggedLineIsShown(t *testing.T) {
	x := stand(t)
	x.says(t, "Press on a position and drag to a feature")
	x.to(100, 200)
	x.Press()
	x.to(140, 100) // 400 m east, 1000 m north
	x.Drain()
	x.says(t, "between north and east, nearer north: NNE", "022° grid")
	first := x.view.Scene().Lesson
	x.to(200, 100)
	x.Drain()
	x.says(t, "half-way between north and east: NE", "045° grid")
	second := x.view.Scene().Lesson
	if second.Line == nil || len(second.Norths.Lines) != 3 || second.Arc.North != units.GridNorth || equalArcs(first.Arc, second.Arc) {
		t.Errorf("drawn: line %v, %d norths, arc from %v", second.Line, len(second.Norths.Lines), second.Arc.North)
	}
	x.Release()
	x.Drain()
	if line, ok := x.lesson.Line(); !ok || line.ID != "" || !x.view.Offer().On() {
		t.Errorf("the line is %+v, %v, offered %v", line, ok, x.view.Offer().On())
	}
	x.view.Discard()
	if _, ok := x.lesson.Line(); ok {
		t.Error("a line that is discarded stays in the lesson")
	}
	x.hush(t, "NE")
}

// A line that is kept joins the row and stays that of the lesson.
func TestKeptLineJoinsTheRow(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.view.Offer().KeepSight()
	line, _ := x.lesson.Line()
	if n, of := x.lesson.Place(); n != 1 || of != 1 || line.ID != x.s.Plan().Sights[0].ID {
		t.Errorf("place %d of %d, line %q", n, of, line.ID)
	}
}

// Page Down and Page Up walk through the plan's lines from the sheet, which does not
// zoom; what is selected and what the dial shows go along.
func TestWalkingByKeys(t *testing.T) {
	x := stand(t)
	x.legs(t, 150, 200, 250, 100, 350, 200)
	before := x.view.Area().View()
	for _, c := range []struct {
		key   fyne.KeyName
		place int
		grid  string
	}{{fyne.KeyPageDown, 1, "045°"}, {fyne.KeyPageDown, 2, "135°"}, {fyne.KeyPageDown, 2, "135°"}, {fyne.KeyPageUp, 1, "045°"}, {fyne.KeyPageUp, 1, "045°"}} {
		x.Window.Key(c.key)
		line, _ := x.lesson.Line()
		n, _ := x.lesson.Place()
		if got := x.dial.Figures().Texts[dial.Grid]; n != c.place || x.s.Selection().ID != line.ID || !strings.HasPrefix(got, c.grid) {
			t.Errorf("%s: place %d, selected %q, dial %q, want %d and %s", c.key, n, x.s.Selection().ID, got, c.place, c.grid)
		}
	}
	if x.view.Area().View() != before || len(x.found) != 0 {
		t.Errorf("the view moved, or lines in sight were looked for: %v", x.found)
	}
}

// A line whose start lies near the edge of what is seen is brought into sight with room
// around its start.
func TestWalkingBringsIntoSight(t *testing.T) {
	x := stand(t)
	x.legs(t, 40, 200, 60, 190, 40, 180)
	x.Window.Key(fyne.KeyPageDown)
	v := x.view.Area().View()
	w, h := v.Viewport()
	at := v.ToScreen(view.PicPt{X: 40, Y: 200})
	if math.Abs(at.X-float64(w)/2) > 2 || math.Abs(at.Y-float64(h)/2) > 2 {
		t.Errorf("its start is seen at %v, want the middle of %d × %d", at, w, h)
	}
}

// A leg that is clicked is the line; Escape takes it away; the arrows and the list
// choose too.
func TestChoosingByMouse(t *testing.T) {
	x := stand(t)
	x.legs(t, 100, 200, 200, 100, 300, 200)
	x.s.Select(x.s.Plan().Legs[1].ID)
	if n, _ := x.lesson.Place(); n != 2 {
		t.Errorf("the selected leg is in place %d, want 2", n)
	}
	x.s.Select("")
	if _, ok := x.lesson.Line(); ok {
		t.Error("a leg that is not selected any more stays in the lesson")
	}
	x.Tap(t, "Previous line")
	if n, _ := x.lesson.Place(); n != 2 {
		t.Errorf("Previous leads to place %d, want back to 2", n)
	}
	x.Tap(t, "Previous line")
	x.Tap(t, "Next line")
	if n, _ := x.lesson.Place(); n != 2 {
		t.Errorf("Previous and Next lead to place %d, want 2", n)
	}
}

// The north of the angle is chosen with the mouse and with N; each north line can be
// left away but that of the angle.
func TestNorthOfTheAngle(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	for _, north := range []units.North{units.MagneticNorth, units.TrueNorth, units.GridNorth} {
		x.Type("n")
		x.Drain()
		if got := x.view.Scene().Lesson.Arc.North; x.lesson.North() != north || got != north {
			t.Errorf("N leads to %v, the arc is from %v, want %v", x.lesson.North(), got, north)
		}
		x.says(t, "° "+north.String())
	}
	x.Tap(t, "T  true")
	x.Drain()
	if got := x.view.Scene().Lesson.Norths.Lines; len(got) != 2 {
		t.Errorf("%d north lines, want grid and magnetic", len(got))
	}
	x.Tap(t, "T  true")
	if !x.lesson.Draws(units.TrueNorth) {
		t.Error("true north does not come back")
	}
}

// A training GMA is seen on panel, dial and strip with its stop and never in the plan;
// it goes with an empty field, and when the panel goes.
func TestTrainingGMA(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.lesson.SetNorth(units.MagneticNorth)
	before := x.s.Plan()
	x.training(t, "12 east")
	x.says(t, "033° mag", "training GMA 12° east", "The grid-magnetic angle (GMA) here is")
	if f := x.dial.Figures(); !strings.HasPrefix(f.Texts[dial.Magnetic], "033°") || f.Stop == "" {
		t.Errorf("the dial shows %q, stop %q", f.Texts[dial.Magnetic], f.Stop)
	}
	if l, ok := uitest.Find[*widget.Label](x.Window, "033° mag"); !ok || l.Importance != widget.DangerImportance {
		t.Errorf("the panel's figure is not marked as one to stop at: %q", x.Texts())
	}
	if x.s.Plan() != before {
		t.Error("a training GMA changed the plan")
	}
	x.view.Offer().KeepLeg()
	row := x.s.Rows()[0].Reading
	if math.Abs(row.Magnetic.Angle().Deg()-33) < 2 || row.Stopped() {
		t.Errorf("the leg's magnetic bearing is %.1f°, stopped %v", row.Magnetic.Angle().Deg(), row.Stopped())
	}
	if f := x.dial.Figures(); !strings.HasPrefix(f.Texts[dial.Magnetic], "033°") {
		t.Errorf("the dial shows %q of the kept leg", f.Texts[dial.Magnetic])
	}
	x.training(t, "")
	if f := x.dial.Figures(); strings.HasPrefix(f.Texts[dial.Magnetic], "033°") || f.Stop != "" {
		t.Errorf("without training GMA the dial shows %q, stop %q", f.Texts[dial.Magnetic], f.Stop)
	}
	x.training(t, "17 west")
	x.says(t, "062° mag")
	x.Panel.Show(false)
	x.view.SetTool(sightAlone())
	if f := x.dial.Figures(); strings.HasPrefix(f.Texts[dial.Magnetic], "062°") {
		t.Error("the training GMA stays on the dial after the panel has gone")
	}
}

// What cannot be a training GMA is refused in a sentence, and the one before stays.
func TestBadTrainingGMA(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.training(t, "12 east")
	for _, text := range []string{"12", "91 east", "much", "-3 east", "400 west"} {
		x.training(t, text)
		if g, _ := x.lesson.Training(); !x.line.Failed() || math.Abs(g.Angle().Deg()-12) > 1e-9 {
			t.Errorf("%q: %q, training %v°", text, x.line.Message(), g.Angle().Deg())
		}
	}
}

// A training GMA that is too large is called that, with the bound.
func TestTrainingGMATooLarge(t *testing.T) {
	x := stand(t)
	for _, text := range []string{"91 east", "200 east", "180 west"} {
		x.training(t, text)
		if got := x.line.Message(); !x.line.Failed() || !strings.Contains(got, "too large") || !strings.Contains(got, "90° west and 90° east") {
			t.Errorf("%q: %q", text, got)
		}
	}
	x.training(t, "90 west")
	if g, ok := x.lesson.Training(); !ok || math.Abs(g.Angle().Deg()+90) > 1e-9 {
		t.Errorf("90 west: %q, training %v°", x.line.Message(), g.Angle().Deg())
	}
}

// Under a training GMA the figures along the plan's lines are the lesson's, marked as ones
// that nobody may walk on. They are the plan's again without it, and when the panel goes.
func TestLabelsFollowTheTrainingGMA(t *testing.T) {
	x := stand(t)
	x.legs(t, 100, 200, 200, 100, 300, 200) // grid 045 and 135
	x.drag(100, 100, 200, 200)
	x.view.Offer().KeepSight()
	x.Window.Key(fyne.KeyPageDown)
	labels := func() (out []string) {
		x.Drain()
		s := x.view.Scene()
		for _, l := range s.Legs {
			out = append(out, l.Label)
		}
		return append(out, s.Sights[0].Label)
	}
	real := labels()
	trained := []string{"! 1: 033° mag", "! 2: 123° mag", "! 123° mag"}
	x.training(t, "12 east")
	for i, got := range labels() {
		if !strings.HasPrefix(got, trained[i]) {
			t.Errorf("along line %d stands %q, want %q", i+1, got, trained[i])
		}
	}
	x.Type("h")
	if got := strings.Join(labels(), ""); got != "" {
		t.Errorf("hidden: %q", got)
	}
	x.Type("h")
	x.training(t, "")
	if got := labels(); !slices.Equal(got, real) {
		t.Errorf("without it %q, want %q", got, real)
	}
	x.training(t, "12 east")
	x.Panel.Show(false)
	if got := labels(); !slices.Equal(got, real) {
		t.Errorf("without the panel %q, want %q", got, real)
	}
}

// The panel says what is missing.
func TestEmptyStates(t *testing.T) {
	x := stand(t)
	x.Window.Key(fyne.KeyPageDown)
	if got := x.line.Message(); got == "" {
		t.Error("Page Down without lines says nothing")
	}
	x.view.ShowPicture(nil, false)
	must(t, x.s.Use(plan.New(x.s.Plan().Date)))
	x.says(t, "Open the picture of a map")
}

// Hidden figures stand nowhere on the panel, whatever is done, until they are shown.
func TestHiddenFigures(t *testing.T) {
	x := stand(t)
	x.legs(t, 100, 200, 200, 100, 300, 200)
	x.Window.Key(fyne.KeyPageDown)
	x.says(t, "045° grid")
	x.Type("h")
	x.hush(t, "045", "NE", "1414", "half-way")
	x.Type("n")
	x.hush(t, "045", "NE", "°")
	x.Tap(t, "Show the figures")
	x.says(t, "between north and east")
	x.Tap(t, "Hide the figures")
	x.hush(t, "between north and east")
}

// training types into the field for the training GMA.
func (x *stood) training(t *testing.T, text string) {
	t.Helper()
	x.FocusOn(t, "none, or for example 12 east")
	x.Replace(text)
	x.Window.Key(fyne.KeyReturn)
	x.Canvas().Unfocus()
	x.Drain()
}
