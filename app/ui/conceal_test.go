package ui

import (
	"bytes"
	"image"
	"image/draw"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/terrain"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/teachpanel"
	"legwright/app/units"
	"legwright/canvas/view"
)

// onGround is a bench with a small picture, calibrated by two points 200 pixels apart,
// the second of which has a reference of its own: by that the ground lies turned or
// stretched under the same picture.
func onGround(t *testing.T, second string) *Bench {
	t.Helper()
	b := opened(t)
	b.window.Resize(fyne.NewSize(960, 800)) // as much as the rooms need: the larger, the longer it takes
	point(b, 100, 200, "NL 21 42")
	point(b, 300, 200, second)
	if n := points(b); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.foot.Message())
	}
	b.goTo(panelRoute)
	return b
}

// A line as it is dragged, in pixels of the picture.
type dragged struct{ x0, y0, x1, y1 float64 }

// lessonStep is what a coach does with a line while the group sees the window.
type lessonStep struct {
	name string
	do   func(*testing.T, *Bench, dragged)
	// norths says that north lines are drawn. Like printed grid lines they show how the
	// ground lies under the picture, so the sheet itself is left out.
	norths bool
}

// lessonSteps go through all rooms that write of a line.
func lessonSteps() []lessonStep {
	section := func(s routepanel.Section) func(*testing.T, *Bench, dragged) {
		return func(_ *testing.T, b *Bench, _ dragged) { b.route.ShowSection(s) }
	}
	return []lessonStep{
		{"dragging", func(_ *testing.T, b *Bench, l dragged) {
			b.view.Area().MouseDown(mouse(b, picAt(l.x0, l.y0)))
			b.view.Area().Dragged(&fyne.DragEvent{PointEvent: eventAt(b, picAt(l.x1, l.y1)), Dragged: fyne.NewDelta(20, 20)})
		}, false},
		{"released", func(_ *testing.T, b *Bench, l dragged) {
			b.view.Area().DragEnd()
			b.view.Area().MouseUp(mouse(b, picAt(l.x1, l.y1)))
		}, false},
		{"kept as a sight", func(_ *testing.T, b *Bench, _ dragged) { b.rune('s') }, false},
		{"sights listed", section(routepanel.Sights), false},
		{"kept as a leg", func(t *testing.T, b *Bench, l dragged) { keepLine(t, b, l); b.route.ShowSection(routepanel.Selected) }, false},
		{"marks listed", func(_ *testing.T, b *Bench, l dragged) {
			b.view.NewMark(picAt(l.x1, l.y1))
			b.route.ShowSection(routepanel.Marks)
			b.view.Focus()
		}, false},
		{"mark selected and copied", func(_ *testing.T, b *Bench, l dragged) {
			b.route.ShowSection(routepanel.Selected)
			b.view.CopyReference(picAt(l.x1, l.y1))
		}, false},
		{"typed into the ledger, and undone", func(_ *testing.T, b *Bench, _ dragged) {
			b.ledger.Edit(b.s.Rows()[0].ID, session.FieldGrid)
			b.undo()
		}, false},
		{"pointed at", func(_ *testing.T, b *Bench, l dragged) { hoverAt(b, picAt(l.x1, l.y1)) }, false},
		{"shown to a group", func(_ *testing.T, b *Bench, l dragged) {
			b.teach.panel.Choose(teachpanel.Show)
			drag(b, l.x0, l.y0, l.x1, l.y1)
		}, true},
		{"shown from magnetic north", func(_ *testing.T, b *Bench, _ dragged) { b.rune('n') }, true},
		{"guessed", func(t *testing.T, b *Bench, _ dragged) {
			b.rune('g')
			guessed(t, b.teach.lesson.GuessBearing(units.Degrees(40)), b.teach.lesson.GuessBearing(units.Degrees(55)))
		}, true},
		{"guessed as a distance", func(t *testing.T, b *Bench, _ dragged) {
			b.rune('d')
			guessed(t, b.teach.lesson.GuessNumber(teach.AskDistance, 850), b.teach.lesson.GuessNumber(teach.AskDistance, 900))
		}, true},
		{"guessed as a climb", func(t *testing.T, b *Bench, _ dragged) {
			b.rune('c')
			guessed(t, b.teach.lesson.GuessNumber(teach.AskClimb, 40), b.teach.lesson.GuessNumber(teach.AskClimb, 60))
		}, true},
		{"guessed as a time", func(t *testing.T, b *Bench, _ dragged) {
			b.rune('m')
			guessed(t, b.teach.lesson.GuessNumber(teach.AskTime, 25), b.teach.lesson.GuessNumber(teach.AskTime, 40))
		}, true},
		{"another line", func(_ *testing.T, b *Bench, _ dragged) { b.teach.panel.Acts().Previous(); b.view.Area().Fit() }, true},
		{"what lies on a bearing", func(_ *testing.T, b *Bench, l dragged) { turnedFrom(b, teachpanel.Identify, l) }, false},
		{"two people", func(_ *testing.T, b *Bench, l dragged) { turnedFrom(b, teachpanel.TwoPeople, l) }, false},
		{"stepped through the compass, wrong", func(t *testing.T, b *Bench, _ dragged) {
			b.teach.panel.Choose(teachpanel.Compass)
			b.s.Select(b.s.Rows()[0].ID)
			for _, r := range "4w" {
				b.rune(r)
			}
			if s, on := b.teach.lesson.Stepping(); !on || s.Step != teach.LastStep || s.Wrong == teach.DoneRight {
				t.Fatalf("stepped to %+v, %v", s, on)
			}
		}, true},
		{"back at the route", func(_ *testing.T, b *Bench, _ dragged) {
			b.goTo(panelRoute)
			b.s.Select(b.s.Rows()[0].ID)
		}, false},
	}
}

// turnedFrom goes to a job of bearings, stands at the start of a line, turns the dial and
// clicks on a feature at the line's end.
func turnedFrom(b *Bench, job teachpanel.Job, l dragged) {
	b.teach.panel.Choose(job)
	clickAt(b, picAt(l.x0, l.y0))
	b.frame.dial.Focus()
	for range 40 {
		b.frame.dial.Ring().(fyne.Focusable).TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	clickAt(b, picAt(l.x1, l.y1))
	b.view.Focus()
}

// onSlope lays terrain under the sheet that rises to the east, and gives the route a
// clock.
func onSlope(t *testing.T, b *Bench, rise float32) {
	t.Helper()
	low, high, ok := b.s.Reader().SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	const step = 250
	tile := &terrain.Tile{
		Name: "slope", System: b.s.Reader().System(), NorthWest: geodesy.Grid{E: low.E, N: high.N}, StepE: step, StepN: step,
		Cols: int((high.E-low.E)/step) + 1, Rows: int((high.N-low.N)/step) + 1, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, 100+rise*step*float32(i%tile.Cols))
	}
	m, err := terrain.NewModel(tile)
	guessed(t, err, b.s.SetStart("9:30"), b.s.SetZone("Europe/London"))
	guessed(t, b.s.OpenTerrain(plan.Terrain{Path: "/slope.hgt", SHA256: strings.Repeat("0", 64)}))
	until(t, b, "the terrain is missed", b.foot.Failed)
	b.s.SetGround(b.s.Plan().Terrain, m)
	b.foot.Say("")
}

// Every figure of the ledger is hidden, also in the columns that a narrow window does not
// show: what the ground and the clock make of a leg tells its length too.
func TestHiddenLedgerTellsNothing(t *testing.T) {
	b := onGround(t, "NL 23 42")
	onSlope(t, b, 0.1)
	keepLine(t, b, dragged{100, 200, 200, 100})
	keepLine(t, b, dragged{200, 100, 310, 40})
	heads := []string{"grid", "magnetic", "distance", "climb", "time", "clock", "paces", "back"}
	cells := func(leg int) (out []string) {
		for _, head := range heads {
			text, under := b.ledger.Cell(leg, head)
			out = append(out, text, under)
		}
		return out
	}
	for i, text := range cells(0) {
		if i%2 == 0 && (text == "" || text == cells(1)[i]) {
			t.Errorf("shown: the column %s has %q and %q: the test tries nothing", heads[i/2], text, cells(1)[i])
		}
	}
	b.conceal(true)
	for leg := range 2 {
		for i, text := range cells(leg) {
			if want := []string{"?", ""}[i%2]; text != want {
				t.Errorf("hidden: the column %s of leg %d has %q", heads[i/2], leg+1, text)
			}
		}
	}
}

// guessed fails the test unless guesses were taken.
func guessed(t *testing.T, errs ...error) {
	t.Helper()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
}

// keepLine keeps a line as a leg.
func keepLine(t *testing.T, b *Bench, l dragged) {
	t.Helper()
	var ends [2]plan.End
	for i, at := range []calib.PicturePt{{Col: l.x0, Row: l.y0}, {Col: l.x1, Row: l.y1}} {
		pos, err := b.s.PositionAt(at, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		ends[i] = plan.AtPosition(pos)
	}
	if _, err := b.s.KeepLeg(ends[0], ends[1]); err != nil {
		t.Fatal(err)
	}
}

// still is the window as it is drawn once nothing on it changes any more. What changes it
// comes through the queue; painting may ask for more, and then it is painted again.
func still(t *testing.T, b *Bench) *image.NRGBA {
	t.Helper()
	rest(t, b)
	for range 20 {
		img := b.window.Canvas().Capture().(*image.NRGBA)
		if rest(t, b) {
			return img
		}
	}
	t.Fatal("the window does not come to rest")
	return nil
}

// rest waits until the whole sheet is shown and for a moment nothing comes into the queue.
// It returns true if nothing came at all.
func rest(t *testing.T, b *Bench) bool {
	t.Helper()
	still := b.view.Area().Settled()
	until(t, b, "the sheet", b.view.Area().Settled)
	for moment := time.After(50 * time.Millisecond); ; {
		select {
		case f := <-queueOf(b):
			f()
			still, moment = false, time.After(50*time.Millisecond)
		case <-moment:
			return still
		}
	}
}

// part is what an object shows in a picture of the window, nil if it is hidden.
func part(b *Bench, img *image.NRGBA, o fyne.CanvasObject) *image.NRGBA {
	if !o.Visible() {
		return nil
	}
	scale := b.window.Canvas().Scale()
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	px := func(v float32) int { return int(v*scale + 0.5) }
	r := image.Rect(px(at.X), px(at.Y), px(at.X+size.Width), px(at.Y+size.Height)).Intersect(img.Rect)
	out := image.NewNRGBA(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(out, out.Rect, img, r.Min, draw.Src)
	return out
}

// alike reports whether two pictures are the same.
func alike(a, b *image.NRGBA) bool {
	return (a == nil) == (b == nil) && (a == nil || a.Rect == b.Rect && bytes.Equal(a.Pix, b.Pix))
}

// keepPictures writes pictures that differ to the folder of LEGWRIGHT_SHOTS, if it is set.
func keepPictures(t *testing.T, name string, list ...*image.NRGBA) {
	dir := os.Getenv("LEGWRIGHT_SHOTS")
	for i, img := range list {
		if dir != "" && img != nil {
			writePNG(t, filepath.Join(dir, name+"-"+string(rune('a'+i))+".png"), img)
		}
	}
}

// While figures are hidden, the whole window is the same pixel for pixel whether the
// ground under the picture lies one way, or turned a quarter and stretched by two, which
// changes the bearing and the length of every line and the reference of every point: at
// each step of a lesson, in each room. Only the scale bar, which belongs to the sheet, may
// differ, and north lines. Once the figures are shown, the window is not the same.
func TestHiddenFiguresTellNothing(t *testing.T) {
	var seen, open [2][]*image.NRGBA
	for i, second := range []string{"NL 23 42", "NL 21 46"} {
		b := onGround(t, second)
		onSlope(t, b, []float32{0.1, 0.3}[i])
		b.teach.lesson.SetHidden(true)
		b.foot.Say("")
		for _, s := range lessonSteps() {
			s.do(t, b, dragged{100, 200, 200, 100})
			img := withoutScale(b, still(t, b))
			if s.norths {
				img = withoutSheet(b, img)
			}
			seen[i] = append(seen[i], img)
		}
		if text := fyne.CurrentApp().Clipboard().Content(); text != "" {
			t.Errorf("copied %q while figures were hidden", text)
		}
		b.teach.lesson.SetHidden(false)
		open[i] = append(open[i], withoutScale(b, still(t, b)))
	}
	for n, s := range lessonSteps() {
		if !alike(seen[0][n], seen[1][n]) {
			t.Errorf("%s: the window tells the lines apart", s.name)
			keepPictures(t, s.name, seen[0][n], seen[1][n])
		}
	}
	if alike(open[0][0], open[1][0]) {
		t.Error("with its figures the window is the same too: the test tries nothing")
	}
}

// withoutScale blots out the scale bar of the foot line.
func withoutScale(b *Bench, img *image.NRGBA) *image.NRGBA {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.foot)
	draw.Draw(img, image.Rect(0, int(at.Y), 160, img.Rect.Dy()), image.Black, image.Point{}, draw.Src)
	return img
}

// withoutSheet blots out the sheet but for the strip over it.
func withoutSheet(b *Bench, img *image.NRGBA) *image.NRGBA {
	strip, size := part(b, img, b.view.Strip()), b.view.Area().Size()
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	at, over := place(b.view.Area()), place(b.view.Strip())
	draw.Draw(img, image.Rect(int(at.X), int(at.Y), int(at.X+size.Width), int(at.Y+size.Height)), image.Black, image.Point{}, draw.Src)
	if strip != nil {
		draw.Draw(img, strip.Rect.Add(image.Pt(int(over.X), int(over.Y))), strip, image.Point{}, draw.Src)
	}
	return img
}

// rooms are the parts of the window that write of a line, with what hides it there.
func rooms(b *Bench) []struct {
	name    string
	body    fyne.CanvasObject
	conceal func(bool)
} {
	return []struct {
		name    string
		body    fyne.CanvasObject
		conceal func(bool)
	}{
		{"dial", b.frame.dial, b.frame.dial.Conceal},
		{"strip", b.view.Strip(), b.view.Conceal},
		{"ledger", b.ledger, b.ledger.Conceal},
		{"panel", b.route.Body(), b.route.Conceal},
		{"foot line", b.foot, b.foot.Conceal},
	}
}

// Two lines of other bearing and length on one sheet: dial, strip, ledger, panel and foot
// line are the same pixel for pixel, while they are offered and after they are kept.
func TestTwoHiddenLinesLookAlike(t *testing.T) {
	var offered, kept [2]map[string]*image.NRGBA
	for i, l := range []dragged{{100, 200, 200, 100}, {310, 40, 60, 120}} {
		b := onGround(t, "NL 23 42")
		b.conceal(true)
		drag(b, l.x0, l.y0, l.x1, l.y1)
		if !b.view.Offer().On() {
			t.Fatal("no line is offered")
		}
		offered[i] = cut(t, b)
		b.rune('l')
		kept[i] = cut(t, b)
	}
	for what, pair := range map[string][2]map[string]*image.NRGBA{"offered": offered, "kept": kept} {
		for name, img := range pair[0] {
			if !alike(img, pair[1][name]) {
				t.Errorf("%s: the %s tells the lines apart", what, name)
				keepPictures(t, what+" "+name, img, pair[1][name])
			}
		}
	}
}

// cut are the parts of the window by the names of rooms.
func cut(t *testing.T, b *Bench) map[string]*image.NRGBA {
	t.Helper()
	img, out := still(t, b), map[string]*image.NRGBA{}
	for _, r := range rooms(b) {
		out[r.name] = part(b, img, r.body)
	}
	return out
}

// A room that forgets to hide is seen: with each of them alone shown again its picture
// changes, and comes back when it hides.
func TestARoomThatForgetsIsSeen(t *testing.T) {
	b := onGround(t, "NL 23 42")
	keepLine(t, b, dragged{300, 100, 120, 40})
	b.s.Select("")
	drag(b, 100, 200, 200, 100)
	hoverAt(b, picAt(150, 150))
	b.conceal(true)
	hidden := cut(t, b)
	whole := still(t, b)
	for _, r := range rooms(b) {
		r.conceal(false)
		if alike(hidden[r.name], cut(t, b)[r.name]) {
			t.Errorf("the %s looks the same with its figures: the tests cannot see it forget", r.name)
		}
		r.conceal(true)
		b.frame.root.Refresh()
		if !alike(whole, still(t, b)) {
			t.Errorf("the %s does not hide again", r.name)
		}
	}
}

// Going to another panel while figures are hidden leaves them hidden.
func TestHiddenFiguresStayHiddenInEveryPanel(t *testing.T) {
	b := onGround(t, "NL 23 42")
	keepLine(t, b, dragged{100, 200, 200, 100})
	b.conceal(true)
	for i := range b.frame.panel.entries {
		b.goTo(panelID(i))
		settle(b)
		if text, under := b.ledger.Cell(0, "grid"); text != "?" || under != "" {
			t.Errorf("panel %d: the ledger has %q, %q", i, text, under)
		}
		for _, l := range b.view.Scene().Legs {
			if l.Label != "" || l.LengthM != 0 {
				t.Errorf("panel %d: the leg on the sheet has %q, ticks for %v m", i, l.Label, l.LengthM)
			}
		}
		if !b.frame.dial.Concealed() {
			t.Errorf("panel %d: the dial shows its figures", i)
		}
	}
	b.conceal(false)
	settle(b)
	if text, _ := b.ledger.Cell(0, "grid"); text != "045°" || b.view.Scene().Legs[0].Label == "" {
		t.Errorf("shown again: the ledger has %q, the leg %q", text, b.view.Scene().Legs[0].Label)
	}
}

// What was written or begun before the figures were hidden goes with them: the message
// of an act, the label of a line under the pointer, a cell that is being typed into.
func TestHidingTakesWhatStoodThere(t *testing.T) {
	b := onGround(t, "NL 23 42")
	keepLine(t, b, dragged{100, 200, 200, 100})
	b.view.CopyReference(view.PicPt{X: 50, Y: 50})
	if b.foot.Message() == "" {
		t.Fatal("nothing was copied")
	}
	b.ledger.Edit(b.s.Rows()[0].ID, session.FieldGrid)
	field := b.window.Canvas().Focused()
	b.conceal(true)
	if b.foot.Message() != "" {
		t.Errorf("the foot line still says %q", b.foot.Message())
	}
	if now := b.window.Canvas().Focused(); now == field {
		t.Error("the cell is still open")
	}
}
