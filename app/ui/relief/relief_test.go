package relief_test

import (
	"image"
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/relief"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// host is the window as the sheet needs it.
type host struct{}

func (host) Find(plan.ID)               {}
func (host) NameMark()                  {}
func (host) MayKeep(keep func())        { keep() }
func (host) Typed(rune, *fyne.KeyEvent) {}

// stood is the room over the demo's plan, whose sheet shows ground that rises by a half
// toward the north.
type stood struct {
	*relief.Relief
	s     *session.Session
	w     *uitest.Window
	line  *foot.Line
	view  *sheetview.View
	queue uitest.Queue
}

func stand(t *testing.T) *stood {
	t.Helper()
	w := uitest.NewWindow(t, container.NewStack())
	x := &stood{s: uitest.DemoSession(t), w: w, line: foot.New(), queue: uitest.NewQueue()}
	x.view = sheetview.New(x.s, x.line, dial.New(), x.queue.Later, host{})
	x.Relief = relief.New(relief.Needs{
		Session: x.s, Foot: x.line, Ask: ask.New(w, x.line, x.queue.Later), View: x.view, Later: x.queue.Later, Arrange: func() {},
	})
	w.SetContent(container.NewStack(x.view.Area(), x.Legend()))
	w.Resize(fyne.NewSize(600, 400))
	return x
}

// ground gives the plan terrain, read as a file of so many metres between posts.
func (x *stood) ground(t *testing.T, name string, step float64) {
	t.Helper()
	low, _, _ := x.s.Reader().SheetsGround()
	uitest.Ground(t, x.s, name, step, step, func(at geodesy.Grid) float64 { return (at.N - low.N) / 2 })
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// drawn is what the sheet's drawing holds of the ground.
func (x *stood) drawn() *overlay.Relief { return x.view.Scene().Relief }

// until lets the main thread work until something is drawn, or is not.
func (x *stood) until(t *testing.T, what string, is bool) {
	t.Helper()
	x.queue.Until(t, what, func() bool { return (x.drawn() != nil) == is })
}

// Steepness is read beside the window and drawn, with what it cannot show; another terrain
// is read anew, and meanwhile nothing of the old one is drawn.
func TestSteepnessFollowsTheTerrain(t *testing.T) {
	x := stand(t)
	x.ground(t, "a.hgt", 50)
	x.ShowSteep(true)
	x.until(t, "the ground is drawn", true)
	if !x.w.Shows("cross-hatched from 35°") || !x.w.Shows("Crags lower than about 40 m do not show") { // 2 × 50 m × tan 20°
		t.Errorf("the legend says %v", x.w.Texts())
	}
	first := x.drawn()
	x.s.Undo() // the terrain that the plan named before is not read here
	x.until(t, "the old ground is gone", false)
	if x.w.Shows("crossed") || !x.w.Shows("Nothing is known") && !x.w.Shows("no terrain") {
		t.Errorf("the legend says %v", x.w.Texts())
	}
	x.ground(t, "b.hgt", 20)
	x.until(t, "the new ground is drawn", true)
	if x.drawn() == first || !x.w.Shows("about 15 m do not show") {
		t.Errorf("another terrain: the legend says %v", x.w.Texts())
	}
	x.ShowSteep(false)
	x.until(t, "the ground is gone", false)
	if x.Legend().Visible() {
		t.Error("the legend stays")
	}
}

// Contours need an interval, which is asked for once and is part of the plan.
func TestContoursAskForTheInterval(t *testing.T) {
	x := stand(t)
	x.ground(t, "a.hgt", 50)
	must(t, x.s.SetContour(0))
	x.ShowContours(true)
	if x.Contours() {
		t.Fatal("contours are drawn at an unknown interval")
	}
	x.w.Type("0")
	x.w.Key(fyne.KeyReturn)
	if sheet, _ := x.s.Sheet(); sheet.Contour != 0 || !x.w.Shows("is not an interval") {
		t.Errorf("an interval of 0: %v, %v", sheet.Contour, x.w.Texts())
	}
	x.w.Replace("15 m")
	x.w.Key(fyne.KeyReturn)
	x.until(t, "contours are drawn", true)
	if sheet, _ := x.s.Sheet(); sheet.Contour != 15 || !x.w.Shows("every 15 m") {
		t.Errorf("the interval is %v: %v", sheet.Contour, x.w.Texts())
	}
	x.s.Undo()
	if sheet, _ := x.s.Sheet(); sheet.Contour != 0 {
		t.Error("the interval is not a step of undo")
	}
}

// What is missing is said, and cancelling ends what was asked for.
func TestNoGroundAndCancelling(t *testing.T) {
	x := stand(t)
	must(t, x.s.RemoveTerrain())
	if x.ShowSteep(true); x.Steep() || !strings.Contains(x.line.Message(), "no terrain") {
		t.Errorf("without terrain: %v, %q", x.Steep(), x.line.Message())
	}
	x.ground(t, "a.hgt", 10)
	x.ShowSteep(true)
	if !x.w.Shows("Reading the terrain under this sheet") {
		t.Fatalf("the legend says %v", x.w.Texts())
	}
	x.w.Tap(t, "Cancel")
	time.Sleep(20 * time.Millisecond)
	x.queue.Drain()
	if x.Steep() || x.drawn() != nil || x.Legend().Visible() {
		t.Errorf("after cancelling: asked for %v, drawn %v, legend %v", x.Steep(), x.drawn() != nil, x.Legend().Visible())
	}
}

// picture shows a blank picture in place of the demo's, of its first 400 × 300 pixels.
func (x *stood) picture(t *testing.T) {
	t.Helper()
	tiles := pyramid.New(image.NewRGBA(image.Rect(0, 0, 400, 300)), pyramid.Options{})
	must(t, tiles.WaitWhole())
	t.Cleanup(func() { tiles.Close() })
	x.view.ShowPicture(tiles, false)
	x.view.Area().Fit()
}

// Steep ground is drawn first, and comes in as one act when the person keeps it; what the terrain
// cannot show is said with it. Cancelling, or another slope meanwhile, changes nothing.
func TestSteepGroundIsProposed(t *testing.T) {
	x := stand(t)
	x.picture(t)
	must(t, x.s.RemoveTerrain())
	x.ProposeSteep()
	if !x.line.Failed() || x.Proposes() {
		t.Fatal("without terrain something was looked for")
	}
	before := len(x.s.Plan().Hazards)
	x.ground(t, "slope", 50) // 26.6°, over 20° all over
	plan := x.s.Plan()
	propose := func() {
		t.Helper()
		x.ProposeSteep()
		x.queue.Until(t, "the proposal is drawn", func() bool { return x.Proposes() && len(x.view.Scene().Proposed) == 1 })
	}
	propose()
	if !x.w.Shows("Proposed: 1 area of 20° or steeper") || !x.w.Shows("Crags lower than about") || x.s.Plan() != plan {
		t.Errorf("it says %q", x.w.Texts())
	}
	for name, end := range map[string]func(){"Cancel": func() { x.w.Tap(t, "Cancel") }, "Escape": func() { x.Escape() }} {
		end()
		x.queue.Until(t, name+" takes it off the sheet", func() bool { return len(x.view.Scene().Proposed) == 0 })
		if x.Proposes() || x.Legend().Visible() || x.s.Plan() != plan {
			t.Errorf("%s leaves something", name)
		}
		propose()
	}
	must(t, x.s.SetOverSteep("22"))
	if x.Proposes() || !strings.Contains(x.line.Message(), "discarded") {
		t.Errorf("the slope changed, and 20° are still proposed: %q", x.line.Message())
	}
	propose()
	x.w.Tap(t, "Keep")
	if n := len(x.s.Plan().Hazards); n != before+1 || x.Proposes() {
		t.Errorf("%d hazards came in, want 1: %s", n-before, x.line.Message())
	}
	x.ProposeSteep()
	x.queue.Until(t, "it says that the plan has it", func() bool { return strings.Contains(x.line.Message(), "The plan already has all the steep ground") })
	if x.KeepProposed(); x.Proposes() || len(x.s.Plan().Hazards) != before+1 {
		t.Errorf("the same ground came in twice: %s", x.line.Message())
	}
	if x.s.Undo(); len(x.s.Plan().Hazards) != before {
		t.Error("it is more than one step of undo")
	}
}

// The slope that counts as over-steep is the person's to change: the same ground of 26.6° is then
// not proposed, and the crags that do not show are higher: 2 × 50 m × tan 30° is 57.7, so 60 m. What
// is out of bounds stays in the form.
func TestOverSteepIsChosen(t *testing.T) {
	x := stand(t)
	x.picture(t)
	x.ground(t, "slope", 50)
	x.ShowSteep(true)
	x.until(t, "the ground is drawn", true)
	x.AskOverSteep()
	x.w.Type("60")
	x.w.Key(fyne.KeyReturn)
	if x.s.Plan().OverSteepDeg != 0 || !x.w.Shows("between 10 and 45") {
		t.Errorf("60°: %d, %q", x.s.Plan().OverSteepDeg, x.w.Texts())
	}
	x.w.Replace("30")
	x.w.Key(fyne.KeyReturn)
	if x.s.Plan().OverSteepDeg != 30 || !x.w.Shows("Crags lower than about 60 m do not show") || !x.w.Shows("Thick lines: over-steep, 30° or more.") {
		t.Errorf("30°: %d, %q", x.s.Plan().OverSteepDeg, x.w.Texts())
	}
	x.ProposeSteep()
	x.queue.Until(t, "the answer", func() bool { return x.w.Shows("No steep ground found") })
	if !x.w.Shows("no ground as steep as 30° here") {
		t.Errorf("it says %q", x.w.Texts())
	}
	x.w.Key(fyne.KeyReturn)
	x.AskOverSteep()
	x.w.Replace("")
	x.w.Key(fyne.KeyReturn)
	if x.s.Plan().OverSteepDeg != 0 || !x.w.Shows("Crags lower than about 40 m do not show") {
		t.Errorf("empty: %d, %q", x.s.Plan().OverSteepDeg, x.w.Texts())
	}
}

// Small areas of steep ground are not proposed. However the search ends, it says how many there
// are and that the terrain may not show all of them.
func TestSmallSteepAreasAreCountedAloud(t *testing.T) {
	x := stand(t)
	x.picture(t)
	fit, err := x.s.Calibration()
	must(t, err)
	mid := fit.ToGrid(sheetview.PicturePt(view.PicPt{X: 200, Y: 150}))
	pits := func(at geodesy.Grid) float64 { // three of one post each, steep at the posts beside it
		for _, east := range []float64{0, 100, 200} {
			if math.Abs(at.E-mid.E-east) <= 2.5 && math.Abs(at.N-mid.N) <= 15 {
				return -12
			}
		}
		return 0
	}
	wall := func(at geodesy.Grid) float64 {
		if east := at.E - mid.E + 200; east > 0 && east < 100 && math.Abs(at.N-mid.N) < 100 {
			return 1.5 * east
		}
		return pits(at)
	}
	uitest.Ground(t, x.s, "pits", 5, 30, pits)
	x.ProposeSteep()
	x.queue.Until(t, "the answer", func() bool { return x.w.Shows("Only small areas of steep ground found") })
	if !x.w.Shows("except in areas smaller than about 0.36 ha. There may be more. Not proposed: ") || !x.w.Shows("areas smaller than about 0.36 ha") {
		t.Errorf("it says %q", x.w.Texts())
	}
	x.w.Key(fyne.KeyReturn)
	uitest.Ground(t, x.s, "wall", 5, 30, wall)
	x.ProposeSteep()
	x.queue.Until(t, "the proposal", x.Proposes)
	if !x.w.Shows("Not proposed: ") || !x.w.Shows("areas smaller than about 0.36 ha. Look for such ground on the map: the terrain may not show all of it.") {
		t.Errorf("it says %q", x.w.Texts())
	}
	x.KeepProposed()
	x.ProposeSteep()
	x.queue.Until(t, "it says that the plan has it", func() bool { return strings.Contains(x.line.Message(), "The plan already has all the steep ground") })
	if !strings.Contains(x.line.Message(), "in areas of about 0.36 ha or more: nothing is proposed. Not proposed: ") {
		t.Errorf("it says %q", x.line.Message())
	}
}
