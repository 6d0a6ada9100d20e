package escapepanel_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/escapepanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// made has a cairn at 100 200, recognisable in cloud, and a wall that begins there, and the
// section of escapes in front.
func made(t *testing.T) (x *stood, cairn, wall plan.ID) {
	t.Helper()
	x = stand(t)
	at := func(col, row float64) plan.Position {
		pos, err := x.view.PositionAt(view.PicPt{X: col, Y: row})
		must(t, err)
		return pos
	}
	cairn, err := x.s.AddMark("Cairn", at(100, 200))
	must(t, err)
	must(t, x.s.SetInCloud(cairn, true))
	wall, err = x.s.AddLine(plan.WallLine, []plan.Position{at(200, 200), at(250, 200), at(250, 100)})
	must(t, err)
	x.ShowSection(escapepanel.Escapes)
	x.s.Select(cairn)
	x.Drain()
	return x, cairn, wall
}

// dragTo drags from one point of the picture to another.
func (x *stood) dragTo(x0, y0, x1, y1 float64) {
	x.to(x0, y0)
	x.Press()
	for i := range 5 {
		f := float64(i+1) / 5
		x.to(x0+f*(x1-x0), y0+f*(y1-y0))
	}
	x.Release()
	x.Drain()
}

// check ticks a box, if it can be ticked.
func (x *stood) check(t testing.TB, text string) {
	t.Helper()
	box, ok := uitest.Find[*widgets.Check](x.Window, text)
	if !ok {
		t.Fatalf("there is no box %q", text)
	}
	box.Tapped(&fyne.PointEvent{})
	x.Drain()
}

// A drag from the mark begins an escape, a click on a line goes on along it up to there.
// Each is one step of undo.
func TestAWayOffIsDraggedAndFollowsALine(t *testing.T) {
	x, cairn, wall := made(t)
	x.dragTo(100, 200, 200, 200)
	x.view.Offer().KeepEscape()
	x.Drain()
	x.clicks(250, 150)
	p := x.s.Plan()
	if len(p.Escapes) != 1 || len(p.Escapes[0].Legs) != 2 || p.Escapes[0].Start.Mark != cairn {
		t.Fatalf("made %+v", p.Escapes)
	}
	leg := p.Escapes[0].Legs[1]
	if leg.Along != wall {
		t.Errorf("the second leg follows %q, want the wall", leg.Along)
	}
	x.near(t, leg.To.Position, 250, 150)
	if way := x.s.Escapes().Escapes[0].Legs[1].Way; len(way) != 3 {
		t.Errorf("it goes over %d positions, want the corner of the wall between its ends", len(way))
	}
	x.s.Undo()
	if n := len(x.s.Plan().Escapes[0].Legs); n != 1 {
		t.Errorf("after undo it has %d legs", n)
	}
	x.s.Undo()
	if n := len(x.s.Plan().Escapes); n != 0 {
		t.Errorf("after another undo there are %d", n)
	}
}

// A click on a haven at which the followed line ends goes on along that line to the haven; one on a
// haven that the line does not reach selects it.
func TestAWayOffFollowsALineToAHaven(t *testing.T) {
	x, cairn, wall := made(t)
	var havens []plan.ID
	for _, at := range []view.PicPt{{X: 250, Y: 100}, {X: 200, Y: 100}} {
		pos, err := x.view.PositionAt(at)
		must(t, err)
		id, err := x.s.AddHaven(plan.RoadHaven, []plan.Position{pos})
		must(t, err)
		havens = append(havens, id)
	}
	x.ShowSection(escapepanel.Escapes)
	x.s.Select(cairn)
	x.Drain()
	x.dragTo(100, 200, 200, 200)
	x.view.Offer().KeepEscape()
	x.Drain()
	x.clicks(250, 100)
	if legs := x.s.Plan().Escapes[0].Legs; len(legs) != 2 || legs[1].Along != wall {
		t.Errorf("a click on the haven at the end of the wall makes %+v, want a leg along the wall", legs)
	}
	x.clicks(200, 100)
	if got, legs := x.s.Selection().ID, x.s.Plan().Escapes[0].Legs; got != havens[1] || len(legs) != 2 {
		t.Errorf("a click on a haven without a line selects %q and leaves %d legs, want %q and 2", got, len(legs), havens[1])
	}
}

// Ticks are taken while 100 m are at least 40 units of the window long and all of the leg
// was seen. An escape that changes is a draft again.
func TestTicksAreTakenNearEnough(t *testing.T) {
	x, cairn, _ := made(t)
	mark, _ := x.s.Plan().MarkByID(cairn)
	pos, err := x.view.PositionAt(view.PicPt{X: 103, Y: 200})
	must(t, err)
	id, err := x.s.AddEscape(plan.AtMark(mark), plan.AtPosition(pos), "")
	must(t, err)
	x.view.Area().Fit()
	x.Drain()
	x.TickMap()
	x.Drain()
	c, _ := x.s.Calibration()
	long := func() float64 {
		return 100 / c.MetresPerPixel() * x.view.Area().View().Scale() / float64(x.Canvas().Scale())
	}
	if long() < 40 {
		t.Fatalf("100 m are %.0f long", long())
	}
	tick := func(names ...string) {
		for _, name := range names {
			x.check(t, name)
		}
	}
	x.view.Area().ZoomBy(30 / long())
	tick("contours")
	if x.s.Plan().Escapes[0].Legs[0].Ticks.Contours {
		t.Error("a box can be ticked while 100 m are 30 long")
	}
	x.view.Area().ZoomBy(1.5)
	tick("contours", "crags", "water")
	if e := x.s.Escapes().Escapes[0]; !e.Draft || !caution.Has(e.Cautions, caution.EscapeDraft) {
		t.Error("three of four ticks are enough")
	}
	tick("end feature")
	if e := x.s.Escapes().Escapes[0]; e.Draft {
		t.Errorf("with all ticks it is a draft: %+v", e.Legs[0].Ticks)
	}
	must(t, x.s.ExtendEscape(id, plan.AtMark(mark), ""))
	must(t, x.s.ShortenEscape(id))
	if x.s.Escapes().Escapes[0].Draft {
		t.Error("as it was when it was ticked, it is a draft")
	}
	must(t, x.s.MovePoint(id, 1, plan.AtPosition(plan.Position{Grid: pos.Grid, Code: pos.Code, Origin: plan.Typed})))
	moved := pos
	moved.Grid.E += 20
	moved.Origin = plan.Typed
	must(t, x.s.MovePoint(id, 1, plan.AtPosition(moved)))
	if !x.s.Escapes().Escapes[0].Draft {
		t.Error("its end moved by 20 m and it is no draft")
	}
}

// A leg that is longer than the sheet shows must be seen in parts before it is ticked.
func TestALongLegIsSeenInParts(t *testing.T) {
	x, cairn, _ := made(t)
	mark, _ := x.s.Plan().MarkByID(cairn)
	pos, err := x.view.PositionAt(view.PicPt{X: 300, Y: 200})
	must(t, err)
	_, err = x.s.AddEscape(plan.AtMark(mark), plan.AtPosition(pos), "")
	must(t, err)
	x.TickMap()
	x.Drain()
	x.check(t, "crags")
	if x.s.Plan().Escapes[0].Legs[0].Ticks.Crags {
		t.Fatal("a leg of 2 km is ticked of which the sheet shows the beginning")
	}
	for range 6 {
		x.Tap(t, "Show next part")
		x.Drain()
	}
	x.check(t, "crags")
	if !x.s.Plan().Escapes[0].Legs[0].Ticks.Crags {
		t.Error("all of it was seen, and it cannot be ticked")
	}
}

// An escape of many legs is judged beside the window. Until then the panel says so, shows no
// figure and keeps the field that somebody types into; ticking goes on once it is judged.
func TestAWayOffWaitsToBeJudged(t *testing.T) {
	x, cairn, _ := made(t)
	mark, _ := x.s.Plan().MarkByID(cairn)
	end := func(col float64) plan.End {
		pos, err := x.view.PositionAt(view.PicPt{X: col, Y: 200})
		must(t, err)
		return plan.AtPosition(pos)
	}
	id, err := x.s.AddEscape(plan.AtMark(mark), end(103), "")
	must(t, err)
	for i := range 9 {
		must(t, x.s.ExtendEscape(id, end(106+3*float64(i)), ""))
	}
	var under *session.Judging
	x.s.JudgeBeside(func(w *session.Judging) { under = w })
	judge := func() {
		under.Do()
		x.s.EndJudging(under)
		x.Drain()
	}
	x.TickMap()
	x.Drain()
	for _, box := range []string{"contours", "crags", "water", "end feature"} {
		if x.check(t, box); !x.s.Escapes().Waits {
			t.Fatal("judged at once: the test tries nothing")
		}
	}
	if !x.Shows("The escape or something near it has just changed") || x.Shows("on compass legs, the longest") {
		t.Error("the panel does not say that it waits, or shows figures")
	}
	if _, ok := uitest.Find[*widgets.EditField](x.Window, "contours on leg 2"); !ok || !x.Shows("Leg 1 of 10") {
		t.Error("while it waits a field goes, or another leg is shown")
	}
	if judge(); !x.Shows("Leg 2 of 10") || x.Shows("has just changed") {
		t.Error("once it is judged the next leg is not shown")
	}
}

// Of an escape the slips of one compass leg are drawn, with each repeat those of the next one, then
// none; while its legs are ticked, those of the leg that is.
func TestSlipsOfAnEscapeAreDrawnLegByLeg(t *testing.T) {
	x, _, _ := made(t)
	end := func(col, row float64) plan.End {
		pos, err := x.view.PositionAt(view.PicPt{X: col, Y: row})
		must(t, err)
		return plan.AtPosition(pos)
	}
	x.dragTo(100, 200, 200, 200)
	x.view.Offer().KeepEscape()
	x.Drain()
	x.clicks(250, 150) // along the wall
	id := x.s.Plan().Escapes[0].ID
	must(t, x.s.ExtendEscape(id, end(250, 250), ""))
	x.s.Select(id)
	x.Drain()
	from := func() (at []view.PicPt) {
		x.Drain()
		for _, w := range x.view.Scene().Slips {
			if len(at) == 0 || w.From != at[len(at)-1] {
				at = append(at, w.From)
			}
		}
		return at
	}
	begins := func(when string, col, row float64) {
		t.Helper()
		if got := from(); len(got) != 1 || got[0].Dist(view.PicPt{X: col, Y: row}) > 1.5 {
			t.Errorf("%s: slips begin at %v, want %g %g alone", when, got, col, row)
		}
	}
	x.ToggleSlips()
	begins("at first", 100, 200)
	if text := x.line.Message(); text != "The sheet shows where each usual slip would lead in the first 300 m of leg 1 of the escape; other slips are possible. Press Ctrl+D again for leg 3." {
		t.Errorf("the foot line says %q", text)
	}
	x.ToggleSlips()
	begins("repeated", 250, 150)
	x.ToggleSlips()
	if got := from(); got != nil || x.ShowsSlips() {
		t.Errorf("after the last leg: slips begin at %v", got)
	}
	x.ToggleSlips()
	x.TickMap()
	begins("ticking leg 1", 100, 200)
	x.Tap(t, "Next leg")
	if got := from(); got != nil {
		t.Errorf("ticking the leg along the wall: slips begin at %v", got)
	}
	x.Tap(t, "Next leg")
	begins("ticking leg 3", 250, 150)
}

// The slips of the chosen leg are drawn on demand.
func TestSlipsAreDrawn(t *testing.T) {
	x, cairn, _ := made(t)
	if len(x.view.Scene().Slips) != 0 {
		t.Fatal("slips are drawn unasked")
	}
	mark, _ := x.s.Plan().MarkByID(cairn)
	pos, err := x.view.PositionAt(view.PicPt{X: 150, Y: 150})
	must(t, err)
	leg, err := x.s.KeepLeg(plan.AtMark(mark), plan.AtPosition(pos))
	must(t, err)
	x.ToggleSlips()
	x.Drain()
	got := x.view.Scene().Slips
	if len(got) < 3 {
		t.Fatalf("%d slips of the leg are drawn", len(got))
	}
	for _, w := range got {
		if d := w.From.Dist(w.To); d < 29 || d > 31 { // 10 m to the pixel
			t.Errorf("%s leads %.1f pixels away, want 30", w.Text, d)
		}
	}
	x.s.Select("")
	x.Drain()
	if len(x.view.Scene().Slips) != 0 {
		t.Error("without a leg there are slips")
	}
	x.s.Select(leg)
	x.ToggleSlips()
	x.Drain()
	if len(x.view.Scene().Slips) != 0 {
		t.Error("they do not go again")
	}
}

// The field for the name of the selected escape takes the keys at once.
func TestAWayOffIsNamed(t *testing.T) {
	x, cairn, _ := made(t)
	mark, _ := x.s.Plan().MarkByID(cairn)
	pos, err := x.view.PositionAt(view.PicPt{X: 150, Y: 150})
	must(t, err)
	_, err = x.s.AddEscape(plan.AtMark(mark), plan.AtPosition(pos), "")
	must(t, err)
	x.NameEscape()
	for _, r := range "Burn" {
		x.Canvas().Focused().TypedRune(r)
	}
	x.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if e := x.s.Plan().Escapes[0]; e.Name != "Burn" {
		t.Errorf("it is called %q", e.Name)
	}
}
