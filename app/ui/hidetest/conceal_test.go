package hidetest

import (
	"bytes"
	"image"
	"image/draw"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/terrain"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/teachpanel"
	"legwright/app/units"
)

// onGround is a bench with a small picture, calibrated by two points 200 pixels apart,
// the second of which has a reference of its own: by that the ground lies turned or
// stretched under the same picture.
func onGround(t *testing.T, second string) *benchtest.Bench {
	t.Helper()
	b := benchtest.Opened(t)
	b.Resize(fyne.NewSize(960, 800)) // as much as the rooms need: the larger, the longer it takes
	b.Sheets.Point(100, 200, "NL 21 42")
	b.Sheets.Point(300, 200, second)
	if n := b.Points(); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.Foot.Message())
	}
	b.GoTo("Route")
	return b
}

// A line as it is dragged, in pixels of the picture.
type dragged struct{ x0, y0, x1, y1 float64 }

// lessonStep is what a coach does with a line while the group sees the window.
type lessonStep struct {
	name string
	do   func(*testing.T, *benchtest.Bench, dragged)
	// norths says that north lines are drawn. Like printed grid lines they show how the
	// ground lies under the picture, so the sheet itself is left out.
	norths bool
}

// lessonSteps go through all rooms that write of a line.
func lessonSteps() []lessonStep {
	section := func(s routepanel.Section) func(*testing.T, *benchtest.Bench, dragged) {
		return func(_ *testing.T, b *benchtest.Bench, _ dragged) { b.Route.Section(s) }
	}
	return []lessonStep{
		{"dragging", func(_ *testing.T, b *benchtest.Bench, l dragged) {
			b.Mouse.Press(l.x0, l.y0)
			b.Mouse.Pull(b.Mouse.At(l.x0, l.y0), b.Mouse.At(l.x1, l.y1))
		}, false},
		{"released", func(_ *testing.T, b *benchtest.Bench, l dragged) {
			b.Mouse.Release(l.x1, l.y1)
		}, false},
		{"kept as a sight", func(_ *testing.T, b *benchtest.Bench, _ dragged) { b.Letters("s") }, false},
		{"sights listed", section(routepanel.Sights), false},
		{"kept as a leg", func(t *testing.T, b *benchtest.Bench, l dragged) {
			b.Route.KeepLine(l.x0, l.y0, l.x1, l.y1)
			b.Route.Section(routepanel.Selected)
		}, false},
		{"marks listed", func(_ *testing.T, b *benchtest.Bench, l dragged) {
			b.Mouse.NewMark(l.x1, l.y1)
			b.Route.Section(routepanel.Marks)
		}, false},
		{"mark selected and copied", func(t *testing.T, b *benchtest.Bench, l dragged) {
			b.Route.Section(routepanel.Selected)
			if entries := b.Mouse.MenuAt(l.x1, l.y1); slices.ContainsFunc(entries, func(e string) bool { return strings.HasPrefix(e, "Copy") }) {
				t.Errorf("the menu of a point offers %q while figures are hidden", entries)
			}
		}, false},
		{"typed into the ledger, and undone", func(_ *testing.T, b *benchtest.Bench, _ dragged) {
			b.Ledger.Edit(b.Session().Rows()[0].ID, session.FieldGrid)
			b.Undo()
		}, false},
		{"pointed at", func(_ *testing.T, b *benchtest.Bench, l dragged) { b.Mouse.Hover(l.x1, l.y1) }, false},
		{"shown to a group", func(_ *testing.T, b *benchtest.Bench, l dragged) {
			b.Job(teachpanel.Show)
			b.Mouse.Drag(l.x0, l.y0, l.x1, l.y1)
		}, true},
		{"shown from magnetic north", func(_ *testing.T, b *benchtest.Bench, _ dragged) { b.Letters("n") }, true},
		{"guessed", func(t *testing.T, b *benchtest.Bench, _ dragged) {
			b.Letters("g")
			guessed(t, b.Lesson().GuessBearing(units.Degrees(40)), b.Lesson().GuessBearing(units.Degrees(55)))
		}, true},
		{"guessed as a distance", func(t *testing.T, b *benchtest.Bench, _ dragged) {
			b.Letters("d")
			guessed(t, b.Lesson().GuessNumber(teach.AskDistance, 850), b.Lesson().GuessNumber(teach.AskDistance, 900))
		}, true},
		{"guessed as a climb", func(t *testing.T, b *benchtest.Bench, _ dragged) {
			b.Letters("c")
			guessed(t, b.Lesson().GuessNumber(teach.AskClimb, 40), b.Lesson().GuessNumber(teach.AskClimb, 60))
		}, true},
		{"guessed as a time", func(t *testing.T, b *benchtest.Bench, _ dragged) {
			b.Letters("m")
			guessed(t, b.Lesson().GuessNumber(teach.AskTime, 25), b.Lesson().GuessNumber(teach.AskTime, 40))
		}, true},
		{"another line", func(_ *testing.T, b *benchtest.Bench, _ dragged) {
			b.Choose("Previous line")
			b.Choose("Show whole sheet")
		}, true},
		{"what lies on a bearing", func(_ *testing.T, b *benchtest.Bench, l dragged) { turnedFrom(b, teachpanel.Identify, l) }, false},
		{"two people", func(_ *testing.T, b *benchtest.Bench, l dragged) { turnedFrom(b, teachpanel.TwoPeople, l) }, false},
		{"stepped through the compass, wrong", func(t *testing.T, b *benchtest.Bench, _ dragged) {
			b.Job(teachpanel.Compass)
			b.Session().Select(b.Session().Rows()[0].ID)
			for _, r := range "4w" {
				b.Letters(string(r))
			}
			if s, on := b.Lesson().Stepping(); !on || s.Step != teach.LastStep || s.Wrong == teach.DoneRight {
				t.Fatalf("stepped to %+v, %v", s, on)
			}
		}, true},
		{"back at the route", func(_ *testing.T, b *benchtest.Bench, _ dragged) {
			b.GoTo("Route")
			b.Session().Select(b.Session().Rows()[0].ID)
		}, false},
	}
}

// turnedFrom goes to a job of bearings, stands at the start of a line, turns the dial and
// clicks on a feature at the line's end.
func turnedFrom(b *benchtest.Bench, job teachpanel.Job, l dragged) {
	b.Job(job)
	b.Mouse.Click(l.x0, l.y0)
	b.Dial.Focus()
	b.Keys(40, fyne.KeyRight)
	b.Mouse.Click(l.x1, l.y1)
	b.FocusSheet()
}

// onSlope lays terrain under the sheet that rises to the east, and gives the route a
// clock.
func onSlope(t *testing.T, b *benchtest.Bench, rise float32) {
	t.Helper()
	low, high, ok := b.Session().Reader().SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	const step = 250
	tile := &terrain.Tile{
		Name: "slope", System: b.Session().Reader().System(), NorthWest: geodesy.Grid{E: low.E, N: high.N}, StepE: step, StepN: step,
		Cols: int((high.E-low.E)/step) + 1, Rows: int((high.N-low.N)/step) + 1, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, 100+rise*step*float32(i%tile.Cols))
	}
	m, err := terrain.NewModel(tile)
	guessed(t, err, b.Session().SetStart("9:30"), b.Session().SetZone("Europe/London"))
	guessed(t, b.Session().OpenTerrain(plan.Terrain{Path: "/slope.hgt", SHA256: strings.Repeat("0", 64)}))
	b.Until("the terrain is missed", b.Foot.Failed)
	b.Session().SetGround(b.Plan().Terrain, m)
	b.Foot.Say("")
}

// Every figure of the ledger is hidden, also in the columns that a narrow window does not
// show: what the ground and the clock make of a leg tells its length too.
func TestHiddenLedgerTellsNothing(t *testing.T) {
	b := onGround(t, "NL 23 42")
	onSlope(t, b, 0.1)
	b.Route.KeepLine(100, 200, 200, 100)
	b.Route.KeepLine(200, 100, 310, 40)
	heads := []string{"grid", "magnetic", "distance", "climb", "time", "clock", "paces", "back"}
	cells := func(leg int) (out []string) {
		for _, head := range heads {
			text, under := b.Ledger.Cell(leg, head)
			out = append(out, text, under)
		}
		return out
	}
	for i, text := range cells(0) {
		if i%2 == 0 && (text == "" || text == cells(1)[i]) {
			t.Errorf("shown: the column %s has %q and %q: the test tries nothing", heads[i/2], text, cells(1)[i])
		}
	}
	b.Lesson().SetHidden(true)
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

// still is the window as it is drawn once nothing on it changes any more. What changes it
// comes through the queue; painting may ask for more, and then it is painted again.
func still(t *testing.T, b *benchtest.Bench) *image.NRGBA {
	t.Helper()
	rest(t, b)
	for range 20 {
		img := b.Canvas().Capture().(*image.NRGBA)
		if rest(t, b) {
			return img
		}
	}
	t.Fatal("the window does not come to rest")
	return nil
}

// rest waits until the whole sheet is shown and for a moment nothing comes into the queue.
// It returns true if nothing came at all.
func rest(t *testing.T, b *benchtest.Bench) bool {
	t.Helper()
	still := b.Sheet().Settled()
	b.Until("the sheet", b.Sheet().Settled)
	for moment := time.After(50 * time.Millisecond); ; {
		select {
		case f := <-b.App.Queue:
			f()
			still, moment = false, time.After(50*time.Millisecond)
		case <-moment:
			return still
		}
	}
}

// part is what an object shows in a picture of the window, nil if it is hidden.
func part(b *benchtest.Bench, img *image.NRGBA, o fyne.CanvasObject) *image.NRGBA {
	if !o.Visible() {
		return nil
	}
	scale := b.Canvas().Scale()
	at, size := benchtest.PlaceOf(o), o.Size()
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
			benchtest.WritePNG(t, filepath.Join(dir, name+"-"+string(rune('a'+i))+".png"), img)
		}
	}
}

// While figures are hidden, the whole window is the same pixel for pixel whether the
// ground under the picture lies one way, or turned a quarter and stretched by two, which
// changes the bearing and the length of every line and the reference of every point: at
// each step of a lesson, in each room. Only the scale bar, which belongs to the sheet, may
// differ, and north lines. Once the figures are shown, the window is not the same. With the
// race detector the steps are the same, but only each fourth window is drawn and compared:
// nothing runs beside the painting.
func TestHiddenFiguresTellNothing(t *testing.T) {
	steps, every := lessonSteps(), 1
	if testing.Short() {
		every = 4
	}
	var seen, open [2][]*image.NRGBA
	for i, second := range []string{"NL 23 42", "NL 21 46"} {
		b := onGround(t, second)
		onSlope(t, b, []float32{0.1, 0.3}[i])
		b.Lesson().SetHidden(true)
		b.Foot.Say("")
		for n, s := range steps {
			s.do(t, b, dragged{100, 200, 200, 100})
			if rest(t, b); n%every > 0 {
				seen[i] = append(seen[i], nil)
				continue
			}
			img := withoutScale(b, still(t, b))
			if s.norths {
				img = withoutSheet(b, img)
			}
			seen[i] = append(seen[i], img)
		}
		if text := fyne.CurrentApp().Clipboard().Content(); text != "" {
			t.Errorf("copied %q while figures were hidden", text)
		}
		b.Lesson().SetHidden(false)
		open[i] = append(open[i], withoutScale(b, still(t, b)))
	}
	for n, s := range steps {
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
func withoutScale(b *benchtest.Bench, img *image.NRGBA) *image.NRGBA {
	at := benchtest.PlaceOf(b.Foot)
	draw.Draw(img, image.Rect(0, int(at.Y), 160, img.Rect.Dy()), image.Black, image.Point{}, draw.Src)
	return img
}

// withoutSheet blots out the sheet but for the strip over it.
func withoutSheet(b *benchtest.Bench, img *image.NRGBA) *image.NRGBA {
	strip, size := part(b, img, b.Strip), b.Sheet().Size()
	place := benchtest.PlaceOf
	at, over := place(b.Sheet()), place(b.Strip)
	draw.Draw(img, image.Rect(int(at.X), int(at.Y), int(at.X+size.Width), int(at.Y+size.Height)), image.Black, image.Point{}, draw.Src)
	if strip != nil {
		draw.Draw(img, strip.Rect.Add(image.Pt(int(over.X), int(over.Y))), strip, image.Point{}, draw.Src)
	}
	return img
}

// rooms are the parts of the window that write of a line.
func rooms(b *benchtest.Bench) map[string]fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"dial": b.Dial, "strip": b.Strip, "ledger": b.Ledger, "panel": b.Parts.Lower(), "foot line": b.Foot}
}

// Two lines of other bearing and length on one sheet: dial, strip, ledger, panel and foot
// line are the same pixel for pixel, while they are offered and after they are kept.
func TestTwoHiddenLinesLookAlike(t *testing.T) {
	var offered, kept [2]map[string]*image.NRGBA
	for i, l := range []dragged{{100, 200, 200, 100}, {310, 40, 60, 120}} {
		b := onGround(t, "NL 23 42")
		b.Lesson().SetHidden(true)
		b.Mouse.Drag(l.x0, l.y0, l.x1, l.y1)
		if !b.Offered() {
			t.Fatal("no line is offered")
		}
		offered[i] = cut(b, still(t, b))
		b.Letters("l")
		kept[i] = cut(b, still(t, b))
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

// cut returns the parts of a picture of the window by the names of rooms.
func cut(b *benchtest.Bench, img *image.NRGBA) map[string]*image.NRGBA {
	out := map[string]*image.NRGBA{}
	for name, body := range rooms(b) {
		out[name] = part(b, img, body)
	}
	return out
}

// A room that forgets to hide is seen: the picture of each of them changes with its figures,
// and comes back when they are hidden again.
func TestARoomThatForgetsIsSeen(t *testing.T) {
	b := onGround(t, "NL 23 42")
	b.Route.KeepLine(300, 100, 120, 40)
	b.Session().Select("")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Mouse.Hover(150, 150)
	b.Lesson().SetHidden(true)
	whole := still(t, b)
	hidden := cut(b, whole)
	b.Lesson().SetHidden(false)
	for name, img := range cut(b, still(t, b)) {
		if alike(hidden[name], img) {
			t.Errorf("the %s looks the same with its figures: the tests cannot see it forget", name)
		}
	}
	b.Lesson().SetHidden(true)
	if !alike(whole, still(t, b)) {
		t.Error("the window does not hide again")
	}
}

// Going to another panel while figures are hidden leaves them hidden.
func TestHiddenFiguresStayHiddenInEveryPanel(t *testing.T) {
	b := onGround(t, "NL 23 42")
	b.Route.KeepLine(100, 200, 200, 100)
	b.Lesson().SetHidden(true)
	for _, i := range b.Parts.Titles() {
		b.GoTo(i)
		b.Settle()
		if text, under := b.Ledger.Cell(0, "grid"); text != "?" || under != "" {
			t.Errorf("panel %s: the ledger has %q, %q", i, text, under)
		}
		for _, l := range b.Scene().Legs {
			if l.Label != "" || l.LengthM != 0 {
				t.Errorf("panel %s: the leg on the sheet has %q, ticks for %v m", i, l.Label, l.LengthM)
			}
		}
		if !b.Dial.Concealed() {
			t.Errorf("panel %s: the dial shows its figures", i)
		}
	}
	b.Lesson().SetHidden(false)
	b.Settle()
	if text, _ := b.Ledger.Cell(0, "grid"); text != "045°" || b.Scene().Legs[0].Label == "" {
		t.Errorf("shown again: the ledger has %q, the leg %q", text, b.Scene().Legs[0].Label)
	}
}

// What was written or begun before the figures were hidden goes with them: the message
// of an act, the label of a line under the pointer, a cell that is being typed into.
func TestHidingTakesWhatStoodThere(t *testing.T) {
	b := onGround(t, "NL 23 42")
	b.Route.KeepLine(100, 200, 200, 100)
	b.Mouse.CopyReference(50, 50)
	if b.Foot.Message() == "" {
		t.Fatal("nothing was copied")
	}
	b.Ledger.Edit(b.Session().Rows()[0].ID, session.FieldGrid)
	field := b.Canvas().Focused()
	b.Lesson().SetHidden(true)
	if b.Foot.Message() != "" {
		t.Errorf("the foot line still says %q", b.Foot.Message())
	}
	if now := b.Canvas().Focused(); now == field {
		t.Error("the cell is still open")
	}
}
