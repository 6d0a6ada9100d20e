package escapepanel_test

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/dial"
	"legwright/app/ui/escapepanel"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// stood is a panel in a window of the test driver, beside a sheet on which one pixel of
// the picture is 10 m. It is the window around the panel too.
type stood struct {
	*escapepanel.Panel
	*uitest.Window
	*uitest.Mouse
	uitest.Queue
	s     *session.Session
	view  *sheetview.View
	line  *foot.Line
	found []plan.ID
}

func (x *stood) Find(id plan.ID)     { x.found = append(x.found, id) }
func (x *stood) NameMark()           {}
func (x *stood) MayKeep(keep func()) { keep() }
func (x *stood) Typed(_ rune, e *fyne.KeyEvent) {
	if e != nil {
		x.Panel.Key(e)
	}
}

func stand(t testing.TB) *stood {
	t.Helper()
	x := &stood{Queue: uitest.NewQueue(), s: uitest.EmptySession(), line: foot.New()}
	x.Window = uitest.NewWindow(t, container.NewWithoutLayout())
	x.view = sheetview.New(x.s, x.line, dial.New(), x.Later, x)
	x.Mouse = uitest.NewMouse(x.view.Area())
	x.Panel = escapepanel.New(escapepanel.Needs{Session: x.s, Foot: x.line, View: x.view, Host: x, Outer: func() *container.Scroll { return nil }})
	x.SetContent(container.NewBorder(nil, x.line, nil, x.Body(), x.view.Area()))
	x.Resize(fyne.NewSize(1292, 1000))
	x.view.ShowPicture(uitest.WhiteSheet(t, x.s), false)
	x.view.Area().Fit()
	x.Panel.Show(true)
	x.view.SetTool(x.Tool())
	x.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { x.Panel.Key(e) })
	x.view.Focus()
	x.Drain()
	return x
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// to moves the pointer to a point of the picture.
func (x *stood) to(col, row float64) {
	at := x.view.Area().View().ToScreen(view.PicPt{X: col, Y: row})
	x.Move(at.X, at.Y)
}

// clicks clicks on points of the picture, one after the other.
func (x *stood) clicks(points ...float64) {
	for i := 0; i+1 < len(points); i += 2 {
		x.to(points[i], points[i+1])
		x.Click()
		x.Drain()
	}
}

// double clicks twice at once.
func (x *stood) double(col, row float64) {
	x.clicks(col, row)
	x.Press()
	x.Release()
	x.Drain()
}

// near fails the test unless a position lies within a metre or two of a point of the picture.
func (x *stood) near(t testing.TB, got plan.Position, col, row float64) {
	t.Helper()
	if d := (view.PicPt{X: got.At.Col, Y: got.At.Row}).Dist(view.PicPt{X: col, Y: row}); got.Origin != plan.Picked || d > 0.5 {
		t.Errorf("a point at %v, want %v %v", got.At, col, row)
	}
}

func (x *stood) hazard(t testing.TB) plan.Hazard {
	t.Helper()
	p := x.s.Plan()
	if len(p.Hazards) == 0 {
		t.Fatalf("no hazard: %q", x.line.Message())
	}
	return p.Hazards[len(p.Hazards)-1]
}

// Click by click an area is drawn, and Return ends it: one step of undo.
func TestAnAreaIsDrawn(t *testing.T) {
	x := stand(t)
	before := x.s.Plan()
	x.Tap(t, "Draw area")
	x.clicks(100, 100, 200, 100, 200, 200)
	if n := len(x.view.Scene().Drawn.Points); n < 3 || !x.view.Scene().Drawn.Closed {
		t.Errorf("%d points are drawn, closed %v", n, x.view.Scene().Drawn.Closed)
	}
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
	h := x.hazard(t)
	if h.Kind != plan.Crag || !h.Closed || len(h.Points) != 3 || h.KeepM != 50 || x.s.Selection().ID != h.ID {
		t.Fatalf("drawn: %+v, selected %v", h, x.s.Selection())
	}
	for i, at := range [][2]float64{{100, 100}, {200, 100}, {200, 200}} {
		x.near(t, h.Points[i], at[0], at[1])
	}
	if n := len(x.view.Scene().Hazards); n != 1 || len(x.view.Scene().Drawn.Points) != 0 {
		t.Errorf("%d hazards and %d points of a drawing are on the sheet", n, len(x.view.Scene().Drawn.Points))
	}
	x.s.Undo()
	if x.s.Plan() != before {
		t.Error("drawing is not one step")
	}
}

// A double click ends a line; Backspace takes a point back; Escape discards all.
func TestALineIsDrawn(t *testing.T) {
	x := stand(t)
	x.ShowSection(escapepanel.Lines)
	x.Tap(t, "Draw line")
	x.clicks(100, 100, 150, 250)
	x.Window.Key(fyne.KeyBackspace)
	x.clicks(200, 150)
	x.double(300, 150)
	l := x.s.Plan().Lines
	if len(l) != 1 || l[0].Kind != plan.PathLine || len(l[0].Points) != 3 {
		t.Fatalf("lines %+v", l)
	}
	x.near(t, l[0].Points[1], 200, 150)
	before := x.s.Plan()
	x.Tap(t, "Draw line")
	x.clicks(50, 50, 60, 60)
	x.Window.Key(fyne.KeyEscape)
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
	if x.s.Plan() != before || len(x.view.Scene().Drawn.Points) != 0 {
		t.Errorf("Escape left %+v", x.s.Plan().Lines)
	}
}

// Without a mouse: the arrows move the cursor, Return sets a point, and Return on the last
// point again ends the line.
func TestALineIsDrawnByKeys(t *testing.T) {
	x := stand(t)
	x.ShowSection(escapepanel.Lines)
	x.Tap(t, "Draw line")
	for _, way := range []fyne.KeyName{fyne.KeyRight, fyne.KeyDown, fyne.KeyRight} {
		for range 40 {
			x.Window.Key(way)
		}
		x.Window.Key(fyne.KeyReturn)
		x.Drain()
	}
	if len(x.s.Plan().Lines) != 0 {
		t.Fatalf("ended early: %+v", x.s.Plan().Lines)
	}
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
	if l := x.s.Plan().Lines; len(l) != 1 || len(l[0].Points) != 3 {
		t.Errorf("lines %+v: %s", l, x.line.Message())
	}
}

// One click sets a haven; its way out is unknown until it is typed.
func TestAHavenIsSet(t *testing.T) {
	x := stand(t)
	x.ShowSection(escapepanel.Havens)
	x.Tap(t, "Set point")
	x.clicks(120, 130)
	h := x.s.Plan().Havens
	if len(h) != 1 || len(h[0].Points) != 1 || h[0].Out.Known {
		t.Fatalf("havens %+v", h)
	}
	x.FocusOn(t, "not known")
	x.Replace("45")
	x.Window.Key(fyne.KeyReturn)
	if h := x.s.Plan().Havens[0]; h.Out != (plan.Minutes{Known: true, Min: 45}) {
		t.Errorf("the way out is %+v", h.Out)
	}
}

// Too few points stay to be drawn on, and so does an outline that crosses itself.
func TestWhatCannotBeAddedStays(t *testing.T) {
	x := stand(t)
	x.Tap(t, "Draw area")
	x.clicks(100, 100, 200, 200)
	x.Window.Key(fyne.KeyReturn)
	x.clicks(200, 100, 100, 200)
	x.Window.Key(fyne.KeyReturn)
	if len(x.s.Plan().Hazards) != 0 || !x.line.Failed() {
		t.Fatalf("a bow tie was taken: %q", x.line.Message())
	}
	x.Window.Key(fyne.KeyBackspace)
	x.Window.Key(fyne.KeyReturn)
	if n := len(x.hazard(t).Points); n != 3 {
		t.Errorf("%d points, want 3", n)
	}
}

// A click on the first corner closes an area; corners snap to points that are there.
func TestCornersSnap(t *testing.T) {
	x := stand(t)
	pos, err := x.view.PositionAt(view.PicPt{X: 200, Y: 100})
	must(t, err)
	_, err = x.s.AddMark("Cairn", pos)
	must(t, err)
	x.Drain()
	x.Tap(t, "Draw area")
	x.clicks(100, 100, 201, 101, 200, 200, 100, 100)
	h := x.hazard(t)
	if len(h.Points) != 3 || !h.Points[1].Same(pos) {
		t.Errorf("drawn: %+v, want 3 points, the second at the mark", h.Points)
	}
}

// drawn draws a crag with the corners (100, 100), (200, 100), (200, 200), (100, 200).
func (x *stood) drawn(t testing.TB) plan.Hazard {
	t.Helper()
	x.Tap(t, "Draw area")
	x.clicks(100, 100, 200, 100, 200, 200, 100, 200)
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
	return x.hazard(t)
}

// Points are dragged, added by a double click on a side and deleted; each is one step of
// undo. The side that closes the outline counts too. Marks stay where they are.
func TestPointsAreChanged(t *testing.T) {
	x := stand(t)
	before := x.drawn(t)
	x.to(200, 200)
	x.Press()
	x.to(230, 220)
	x.to(250, 240)
	x.Release()
	x.Drain()
	x.near(t, x.hazard(t).Points[2], 250, 240)
	x.s.Undo()
	if got := x.hazard(t).Points[2]; !got.Same(before.Points[2]) {
		t.Error("a drag is not one step")
	}
	x.Drain()
	x.double(100, 150)
	h := x.hazard(t)
	if len(h.Points) != 5 {
		t.Fatalf("%d points after one was added", len(h.Points))
	}
	x.near(t, h.Points[4], 100, 150)
	x.Tap(t, "Delete point")
	if n := len(x.hazard(t).Points); n != 4 {
		t.Errorf("%d points after one was deleted", n)
	}
	x.Drain()
	x.clicks(200, 100)
	x.Tap(t, "Add a point")
	x.near(t, x.hazard(t).Points[2], 200, 150)
	del := &fyne.KeyEvent{Name: fyne.KeyDelete}
	if !x.Panel.Key(del) || len(x.hazard(t).Points) != 4 || x.Panel.Key(del) {
		t.Errorf("Delete leaves %d points, and not the next Delete to the window", len(x.hazard(t).Points))
	}
	x.s.Undo()
	mark, err := x.s.AddMark("Cairn", x.s.Plan().Resolve(plan.AtPosition(before.Points[0])))
	must(t, err)
	x.s.Select("")
	x.Drain()
	marks := x.s.Plan().Marks
	x.to(100, 100)
	x.Press()
	x.to(60, 60)
	x.Release()
	if got, _ := x.s.Plan().MarkByID(mark); !got.Position.Same(marks[0].Position) {
		t.Error("a mark was dragged")
	}
}

// Kind, distance and crossing are changed in the panel; a refused distance stays to be
// mended.
func TestFieldsOfAHazard(t *testing.T) {
	x := stand(t)
	id := x.drawn(t).ID
	now := func() plan.Hazard { h, _ := x.s.Plan().HazardByID(id); return h }
	x.FocusOn(t, "distance, such as 50 m")
	x.Replace("80")
	x.Window.Key(fyne.KeyReturn)
	if now().KeepM != 80 {
		t.Errorf("keeps %v m", now().KeepM)
	}
	before := x.s.Plan()
	x.FocusOn(t, "distance, such as 50 m")
	x.Replace("far")
	x.Window.Key(fyne.KeyReturn)
	if x.s.Plan() != before || !x.line.Failed() {
		t.Errorf("keeps %v m: %q", now().KeepM, x.line.Message())
	}
	x.Canvas().Unfocus()
	choose(t, x, 1, 2) // the list of kinds: water
	if now().Kind != plan.Water || now().KeepM != 80 {
		t.Fatalf("now %+v", now())
	}
	choose(t, x, 2, 2) // the list of crossings: a ford
	if now().Crosses != plan.Ford {
		t.Errorf("crossed by %q", now().Crosses)
	}
}

// choose chooses an entry of list n of those that drop down, as they stand in the panel.
func choose(t testing.TB, x *stood, n, entry int) {
	t.Helper()
	lists := uitest.All[*widgets.Select](x.Window)
	if n >= len(lists) {
		t.Fatalf("%d lists that drop down, want more than %d", len(lists), n)
	}
	lists[n].SetSelectedIndex(entry)
	x.Drain()
}

// What is selected on the sheet brings its section to the front; showing it changes
// nothing in the plan.
func TestSectionsFollowTheSelection(t *testing.T) {
	x := stand(t)
	x.drawn(t)
	x.ShowSection(escapepanel.Lines)
	x.Tap(t, "Draw line")
	x.clicks(300, 50)
	x.double(350, 250)
	before := x.s.Plan()
	x.clicks(100, 150)
	if _, ok := uitest.Find[fyne.Focusable](x.Window, "distance, such as 50 m"); !ok {
		t.Error("a click on a crag does not show its fields")
	}
	x.clicks(350, 250)
	if n := len(uitest.All[*widgets.Check](x.Window)); n != 1 || x.s.Plan() != before {
		t.Errorf("%d boxes to tick, want that of a catching feature; showing changed the plan: %v", n, x.s.Plan() != before)
	}
	x.Tap(t, "Find")
	if len(x.found) != 1 || x.found[0] != x.s.Selection().ID {
		t.Errorf("found %v, want the line", x.found)
	}
	x.Tap(t, "Delete")
	if len(x.s.Plan().Lines) != 0 {
		t.Error("the line is still there")
	}
}

// Only the leader says that a mark is recognisable in cloud.
func TestMarksInCloud(t *testing.T) {
	x := stand(t)
	pos, err := x.view.PositionAt(view.PicPt{X: 200, Y: 100})
	must(t, err)
	id, err := x.s.AddMark("Cairn", pos)
	must(t, err)
	x.ShowSection(escapepanel.Marks)
	check := uitest.All[*widgets.Check](x.Window)
	if m, _ := x.s.Plan().MarkByID(id); len(check) != 1 || m.InCloud {
		t.Fatalf("%d boxes to tick, ticked before anybody did: %v", len(check), m.InCloud)
	}
	check[0].SetChecked(true)
	if m, _ := x.s.Plan().MarkByID(id); !m.InCloud {
		t.Error("the tick is not in the plan")
	}
	x.ToggleInCloud(id)
	if m, _ := x.s.Plan().MarkByID(id); m.InCloud || !strings.Contains(x.line.Message(), "not recognisable") {
		t.Errorf("from the menu: %q", x.line.Message())
	}
	before := x.s.Plan()
	x.s.Select("")
	x.s.Select(id)
	if x.s.Plan() != before {
		t.Error("selecting changed the plan")
	}
	if k := x.Tool(); k.Kind != tool.Sight || !k.Off {
		t.Errorf("a drag is %+v, want one that can be kept as an escape", k)
	}
}

// What is being drawn is discarded when the panel goes, and when the sheet is
// calibrated anew.
func TestADrawingEndsWithItsGround(t *testing.T) {
	x := stand(t)
	for what, end := range map[string]func(){
		"the panel went":         func() { x.Show(false) },
		"a control point moved":  func() { must(t, x.s.MoveControlPoint(0, calib.PicturePt{Col: 101, Row: 200})) },
		"another section chosen": func() { x.ShowSection(escapepanel.Havens) },
	} {
		x.Show(true)
		x.ShowSection(escapepanel.Hazards)
		x.Tap(t, "Draw area")
		x.clicks(100, 100, 200, 100)
		end()
		x.Drain()
		if n := len(x.view.Scene().Drawn.Points); n != 0 || x.Escape() {
			t.Errorf("%s, and %d points are still drawn", what, n)
		}
	}
}

// Nothing moves when a drawing begins and ends: its acts stand where it was begun.
func TestADrawingMovesNothing(t *testing.T) {
	x := stand(t)
	x.drawn(t)
	x.s.Select("")
	x.Drain()
	at := func(label string) float32 {
		tool, ok := uitest.Find[*widgets.Tool](x.Window, label)
		if !ok {
			t.Fatalf("%q is not seen: %q", label, x.Texts())
		}
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(tool).Y
	}
	row := func() float32 {
		for _, text := range uitest.All[*canvas.Text](x.Window) {
			if strings.HasPrefix(text.Text, "crag, area") {
				return fyne.CurrentApp().Driver().AbsolutePositionForObject(text).Y
			}
		}
		t.Fatalf("the hazard is not listed: %q", x.Texts())
		return 0
	}
	act, listed := at("Draw area"), row()
	x.Tap(t, "Draw area")
	if got := at("Finish"); got != act || row() != listed {
		t.Errorf("while something is drawn its acts stand at %v, want %v, and the list at %v, want %v", got, act, row(), listed)
	}
	x.Tap(t, "Cancel")
	if got := at("Draw area"); got != act || row() != listed {
		t.Errorf("after the drawing its acts stand at %v, want %v, and the list at %v, want %v", got, act, row(), listed)
	}
}

// What stands below the hint keeps its place from section to section, whatever the hint says there,
// so that a choice is where it was the last time.
func TestSectionsKeepTheirControlsInPlace(t *testing.T) {
	x := stand(t)
	x.DrawHazard(false)
	x.clicks(100, 100, 200, 100)
	x.Window.Key(fyne.KeyReturn)
	x.s.Select("")
	x.Panel = escapepanel.New(escapepanel.Needs{Session: x.s, Foot: x.line, View: x.view, Host: x, Outer: func() *container.Scroll { return nil }})
	x.SetContent(container.NewStack(x.Body()))
	x.Panel.Show(true)
	x.Drain()
	high := float32(800)
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	below := func() float32 {
		high++
		x.Resize(fyne.NewSize(328, high)) // as wide as in the bench, and laid out anew
		least := float32(math.Inf(1))
		for _, s := range uitest.All[*widgets.Select](x.Window) {
			if s.Visible() {
				least = min(least, place(s).Y)
			}
		}
		return least
	}
	sections := []escapepanel.Section{escapepanel.Hazards, escapepanel.Havens, escapepanel.Lines, escapepanel.Areas}
	first := below()
	for i := range 2 * len(sections) {
		x.ShowSection(sections[i%len(sections)])
		if got := below(); got != first {
			t.Errorf("section %d: the choice stands at %v, before at %v: %q", i%len(sections), got, first, x.Texts())
		}
	}
	x.ShowSection(escapepanel.Marks)
	x.ShowSection(escapepanel.Escapes)
	x.ShowSection(escapepanel.Hazards)
	if got := below(); got != first {
		t.Errorf("after all sections the choice stands at %v, before at %v", got, first)
	}
}
