package projector_test

import (
	"bytes"
	"image"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/dial"
	"legwright/app/ui/projector"
	"legwright/app/ui/uitest"
	"legwright/app/units"
	"legwright/canvas/pyramid"
)

// stood is the projector's window on the demo's plan, with a lesson whose row is the plan's.
type stood struct {
	*projector.Projector
	uitest.Queue
	t      *testing.T
	app    *uitest.App
	s      *session.Session
	lesson *teach.Lesson
	clock  uitest.Clock
}

func stand(t *testing.T) *stood {
	t.Helper()
	x := &stood{Queue: uitest.NewQueue(), t: t, app: uitest.NewApp(t), s: uitest.DemoSession(t), lesson: teach.NewLesson()}
	x.lesson.SetRow(teach.RowOf(x.s.Plan()))
	bench := x.app.NewWindow("bench")
	t.Cleanup(bench.Close)
	x.Projector = projector.New(projector.Needs{App: x.app, Bench: bench, Session: x.s, Lesson: x.lesson, Later: x.Later, After: x.clock.After})
	return x
}

// open opens the window at a size.
func (x *stood) open(w, h float32) *uitest.Window {
	x.t.Helper()
	x.Open()
	out := x.app.Windows[len(x.app.Windows)-1]
	out.Resize(fyne.NewSize(w, h))
	x.settle()
	x.t.Cleanup(x.Close)
	return out
}

// settle waits until the board shows the last thing that it was to say.
func (x *stood) settle() {
	x.t.Helper()
	x.Until(x.t, "the board", x.Board().Settled)
	x.Drain()
	x.paintBoard()
}

// paintBoard paints the board alone, as a frame of the window does, which draws another
// size at once, and returns its picture. To paint whole windows would take most of the time
// of these tests.
func (x *stood) paintBoard() *image.RGBA {
	x.t.Helper()
	objects := test.WidgetRenderer(x.Board()).Objects()
	if len(objects) != 1 {
		x.t.Fatalf("%d objects make up the board, want its picture alone", len(objects))
	}
	r, scale := objects[0].(*canvas.Raster), x.Window().Canvas().Scale()
	return r.Generator(int(r.Size().Width*scale+0.5), int(r.Size().Height*scale+0.5)).(*image.RGBA)
}

// sheetPicture is a picture as large as the plan's, of which nothing is there yet.
func (x *stood) sheetPicture() *pyramid.Pyramid {
	sheet, _ := x.s.Sheet()
	p := pyramid.NewPending(image.Pt(sheet.Width, sheet.Height), pyramid.Options{})
	x.t.Cleanup(p.Close)
	return p
}

// written is all that stands on the board.
func (x *stood) written() string {
	var all []string
	for _, w := range x.Board().Written() {
		all = append(all, w.Text)
	}
	return strings.Join(all, " ")
}

// says reports whether the board has a text.
func (x *stood) says(text string) bool {
	x.settle()
	return strings.Contains(x.written(), text)
}

// picture holds the pixels of the board as it is painted.
func (x *stood) picture() []byte {
	x.settle()
	img := x.paintBoard()
	if img.Rect.Dx() < 100 || img.Rect.Dy() < 100 {
		x.t.Fatalf("the board is painted at %v", img.Rect)
	}
	return bytes.Clone(img.Pix)
}

func ends(s *session.Session, from, to int) teach.Line {
	m := s.Plan().Marks
	return teach.Line{Name: "drawn", From: plan.AtMark(m[from]), To: plan.AtMark(m[to])}
}

// The window opens and closes as often as wanted, by its keys and by its own button, and
// says so.
func TestOpensAndCloses(t *testing.T) {
	x := stand(t)
	told := 0
	x.OnChange(func() { told++ })
	x.ShowPicture(nil, false)
	for i, shut := range []func(w *uitest.Window){
		func(w *uitest.Window) { w.Key(fyne.KeyEscape) },
		func(w *uitest.Window) { w.RequestClose() },
		func(*uitest.Window) { x.Close() },
	} {
		w := x.open(1280, 800)
		if !x.IsOpen() || !w.FullScreen() || told != 2*i+1 {
			t.Fatalf("open %v, full %v, told %d times", x.IsOpen(), w.FullScreen(), told)
		}
		x.Open() // comes to the front
		if shut(w); x.IsOpen() || told != 2*i+2 {
			t.Fatalf("way %d: open %v, told %d times", i, x.IsOpen(), told)
		}
		x.lesson.NextNorth() // a closed window follows nothing
		x.Drain()
	}
	if len(x.app.Windows) != 4 {
		t.Errorf("%d windows were made, want the bench's and three", len(x.app.Windows))
	}
}

// A presenter's two keys do the whole lesson: hidden, shown, the next line.
func TestTwoKeysDoTheLesson(t *testing.T) {
	x := stand(t)
	x.lesson.SetEstimateFirst(true)
	w := x.open(1920, 1080)
	if !x.says("Page Down shows the first line.") {
		t.Error("without a line nothing says what to do")
	}
	for i, line := range teach.RowOf(x.s.Plan()) {
		w.Key(fyne.KeyPageDown)
		if got, _ := x.lesson.Line(); got.ID != line.ID || !x.lesson.Hidden() || !x.says("What is the bearing") {
			t.Fatalf("line %d: at %q, hidden %v", i, got.ID, x.lesson.Hidden())
		}
		w.Key(fyne.KeyPageDown)
		r, err := x.lesson.Read(x.s.Reader())
		if err != nil {
			t.Fatal(err)
		}
		if !x.says(r.SetFigure(units.WholeDegrees)) {
			t.Fatalf("line %d: the figure to set is not shown", i)
		}
	}
	w.Key(fyne.KeyPageUp)
	if n, of := x.lesson.Place(); n != of-1 || !x.lesson.Hidden() {
		t.Errorf("back: line %d of %d, hidden %v", n, of, x.lesson.Hidden())
	}
}

// One key hides and shows the figures, one changes the north; the words follow.
func TestKeysOfTheFigures(t *testing.T) {
	x := stand(t)
	w := x.open(1280, 800)
	w.Key(fyne.KeyPageDown)
	r, err := x.lesson.Read(x.s.Reader())
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []units.North{units.GridNorth, units.MagneticNorth, units.TrueNorth, units.GridNorth} {
		angle := map[units.North]units.Angle{units.GridNorth: r.Grid.Angle(), units.MagneticNorth: r.Magnetic.Angle(), units.TrueNorth: r.True.Angle()}[n]
		if x.lesson.North() != n || !x.says(n.Figure(units.WholeDegrees, angle)) || !x.says(teach.NameOf(angle).Point) {
			t.Errorf("%v: the board does not tell %s", n, n.Figure(units.WholeDegrees, angle))
		}
		w.Type("n")
	}
	w.Type("h")
	if !x.lesson.Hidden() || x.says(r.SetFigure(units.WholeDegrees)) {
		t.Error("h does not hide the figures")
	}
	w.Type("H")
	if x.lesson.Hidden() {
		t.Error("H does not show them again")
	}
}

// A click with the right button lists every act, and each can be chosen.
func TestMenu(t *testing.T) {
	x := stand(t)
	w := x.open(1280, 800)
	for words, done := range map[string]func() bool{
		"Go on: show what is hidden, then the next line  (Page Down)": func() bool { n, _ := x.lesson.Place(); return n == 1 },
		"Hide the figures  (H)":                             x.lesson.Hidden,
		"Switch between grid, magnetic and true north  (N)": func() bool { return x.lesson.North() == units.MagneticNorth },
		"Leave full screen  (F11)":                          func() bool { return !w.FullScreen() },
		"Close this window  (Esc)":                          func() bool { return !x.IsOpen() },
	} {
		if !x.IsOpen() {
			w = x.open(1280, 800)
		}
		x.Board().TappedSecondary(&fyne.PointEvent{})
		w.Tap(t, words)
		if !done() {
			t.Errorf("%q does nothing", words)
		}
	}
	if x.IsOpen() {
		x.Board().TappedSecondary(&fyne.PointEvent{})
		if w.Key(fyne.KeyEscape); !x.IsOpen() || w.Canvas().Overlays().Top() != nil && w.Canvas().Overlays().Top().Visible() {
			t.Error("Escape does not close the menu alone")
		}
	}
}

// While the figures are hidden two lines of other bearing and length make the same
// picture, whatever is asked; shown, they differ.
func TestHiddenFiguresGiveNothingAway(t *testing.T) {
	x := stand(t)
	x.open(1280, 800)
	a, b := ends(x.s, 0, 1), ends(x.s, 2, 0)
	for _, ask := range teach.Asks() {
		x.lesson.SetAsk(ask)
		for _, hidden := range []bool{true, false} {
			x.lesson.SetHidden(hidden)
			x.lesson.Show(a)
			first := x.picture()
			x.lesson.Show(b)
			if second := x.picture(); bytes.Equal(first, second) != hidden {
				t.Errorf("asked %v, hidden %v: the pictures are equal %v", ask, hidden, !hidden)
			}
		}
	}
}

// A single guess is no median, and guesses from a north that is not known there have one
// though nobody can say how far it is out.
func TestWhatTheGroupGuessed(t *testing.T) {
	x := stand(t)
	x.open(1920, 1080)
	if err := x.s.SetDate("2099-11-28"); err != nil {
		t.Fatal(err)
	}
	x.lesson.Show(ends(x.s, 0, 1))
	x.lesson.SetNorth(units.MagneticNorth)
	for i, want := range []string{"guess 040° mag", "2 guesses, no median", "3 guesses, median 042° mag"} {
		if err := x.lesson.GuessBearing(units.Degrees([]float64{40, 220, 42}[i])); err != nil {
			t.Fatal(err)
		}
		if !x.says(want) || x.says("too far") {
			t.Errorf("after guess %d the board does not say %q alone", i+1, want)
		}
	}
}

// The guesses are counted while the figures are hidden, and judged once they are shown.
func TestGuessesAreJudgedOnceShown(t *testing.T) {
	x := stand(t)
	x.open(1920, 1080)
	x.lesson.Show(ends(x.s, 0, 1))
	x.lesson.SetHidden(true)
	r, err := x.lesson.Read(x.s.Reader())
	if err != nil {
		t.Fatal(err)
	}
	for _, off := range []float64{10, 12, 30} {
		if err := x.lesson.GuessBearing(r.Grid.Angle() + units.Degrees(off)); err != nil {
			t.Fatal(err)
		}
	}
	if !x.says("3 guesses") || x.says("too far") {
		t.Error("hidden: the guesses are not counted, or judged already")
	}
	x.lesson.SetHidden(false)
	if want := teach.Difference(r.Grid.Angle()+units.Degrees(12), r.Grid.Angle(), units.WholeDegrees); !x.says(want) {
		t.Errorf("shown: %q is not said", want)
	}
}

// While the compass is stepped through it takes the place of the dial: the two keys go
// through its steps, each says what to do and what the ring shows, and the last one where
// it leads; hidden, nothing of it is seen.
func TestTheCompassIsSteppedThrough(t *testing.T) {
	x := stand(t)
	w := x.open(1920, 1080)
	x.lesson.Show(ends(x.s, 0, 1))
	x.lesson.SetStepping(teach.Stepping{Wrong: teach.PlateReversed})
	r, err := x.lesson.Read(x.s.Reader())
	if err != nil {
		t.Fatal(err)
	}
	task := teach.TaskOf(r, x.s.Plan().Party.Compass)
	var pictures [][]byte
	for step := range teach.LastStep + 1 {
		now, _ := x.lesson.Stepping()
		said := now.Words(task)
		figure, _, _ := strings.Cut(said.Index, " ")
		if now.Step != step || !x.says(said.Do) || !x.says(figure) || !x.says(said.Slip) {
			t.Errorf("at step %d of %d the board does not say %q, %q and %q", now.Step, step, said.Do, figure, said.Slip)
		}
		if x.Board().Face() < 0.4*1080 {
			t.Errorf("step %d: the compass is %v high", step, x.Board().Face())
		}
		pictures = append(pictures, x.picture())
		if step > 0 && bytes.Equal(pictures[step], pictures[step-1]) {
			t.Errorf("step %d looks as the one before", step)
		}
		if step < teach.LastStep {
			w.Key(fyne.KeyPageDown)
		}
	}
	last, _ := x.lesson.Stepping()
	if o := last.Outcome(task); !x.says(units.WholeDegrees.Figure(o.Bearing.Angle())) || !x.says(units.ErrorM(o.MissM)) {
		t.Errorf("the board does not say that it leads along %.0f° and %.0f m astray", o.Bearing.Angle().Deg(), o.MissM)
	}
	w.Type("h")
	if figure, _, _ := strings.Cut(last.Words(task).Index, " "); x.says(figure) || x.says("you walk") {
		t.Error("hidden, the figure or the outcome is still said")
	}
	w.Type("h")
	w.Key(fyne.KeyPageUp)
	if now, _ := x.lesson.Stepping(); now.Step != teach.LastStep-1 {
		t.Errorf("Page Up leads to step %d", now.Step)
	}
}

// The keys of the compass do in this window what they do at the bench, and nothing while
// the compass is not shown. The note on the keys goes when the lesson goes on anywhere.
func TestKeysOfTheCompass(t *testing.T) {
	x := stand(t)
	w := x.open(1280, 800)
	if !w.Shows("Press H to hide or show") {
		t.Error("the window names no keys at first")
	}
	x.lesson.Show(ends(x.s, 0, 1))
	if w.Shows("H hides and shows") {
		t.Error("the lesson went on, and the keys still stand over the sheet")
	}
	w.Type("3w")
	if s, on := x.lesson.Stepping(); on || s != (teach.Stepping{}) {
		t.Errorf("with the dial shown, 3 and W lead to %+v", s)
	}
	x.lesson.SetStepping(teach.Stepping{})
	for _, c := range []struct {
		key  string
		want teach.Stepping
	}{
		{"3", teach.Stepping{Step: 3}},
		{"w", teach.Stepping{Step: 3, Wrong: teach.PlateReversed}},
		{"M", teach.Stepping{Way: teach.GroundToMap, Wrong: teach.PlateReversed}},
		{"4", teach.Stepping{Way: teach.GroundToMap, Wrong: teach.PlateReversed, Step: 4}},
		{"0", teach.Stepping{Way: teach.GroundToMap, Wrong: teach.PlateReversed}},
	} {
		if w.Type(c.key); func() bool { s, _ := x.lesson.Stepping(); return s != c.want }() {
			s, _ := x.lesson.Stepping()
			t.Errorf("%s leads to %+v, want %+v", c.key, s, c.want)
		}
	}
	x.Board().TappedSecondary(&fyne.PointEvent{})
	w.Tap(t, "Second step  (2)")
	if s, _ := x.lesson.Stepping(); s.Step != 2 {
		t.Errorf("the menu leads to %+v", s)
	}
}

// What speaks against a figure is shown, and the figure of one that nobody may walk on is
// told as such; with a training GMA the trained figure is shown, watermarked.
func TestCautionsAreShown(t *testing.T) {
	x := stand(t)
	x.open(1920, 1080)
	x.lesson.Show(ends(x.s, 0, 1))
	if x.says("Do not walk on it.") {
		t.Error("the demo's leg says that nobody may walk on it")
	}
	if err := x.lesson.SetTraining(units.GMA(units.Degrees(12))); err != nil {
		t.Fatal(err)
	}
	r, err := x.lesson.Read(x.s.Reader())
	if err != nil {
		t.Fatal(err)
	}
	if !x.says("TRAINING GMA 12° east") || !x.says("Do not walk on it.") || !x.says(r.SetFigure(units.WholeDegrees)) {
		t.Error("trained: watermark, stop or figure is missing")
	}
	x.lesson.SetHidden(true)
	if !x.says("TRAINING GMA 12° east") {
		t.Error("hidden: no watermark")
	}
	x.lesson.SetHidden(false)
	x.lesson.ClearTraining()
	for range x.s.Plan().Sheets[0].Evidence {
		if err := x.s.RemoveEvidence(0); err != nil {
			t.Fatal(err)
		}
	}
	if !x.says("sheet unchecked") {
		t.Error("an unchecked sheet is not said")
	}
}

// The figure to set is struck through where the dial strikes it: by any stop, that of a
// training GMA too, in the answer and at the steps of the compass.
func TestStopStrikesTheFigure(t *testing.T) {
	x := stand(t)
	x.open(1920, 1080)
	x.lesson.Show(ends(x.s, 0, 1))
	check := func(name string, want bool) {
		t.Helper()
		for _, way := range []teach.Way{teach.MapToGround, teach.GroundToMap} {
			x.lesson.SetStepping(teach.Stepping{Way: way, Step: teach.LastStep, Wrong: teach.PlateReversed})
			if got := x.strikes(t); got != want {
				t.Errorf("%s, way %d of the compass: struck %v, want %v", name, way, got, want)
			}
		}
		x.lesson.ClearStepping()
		r, err := x.lesson.Read(x.s.Reader())
		if err != nil {
			t.Fatal(err)
		}
		dialStops := dial.FiguresOf(r, x.s.Plan().Party, "", 0).Stop != ""
		if got := x.strikes(t); got != want || dialStops != want {
			t.Errorf("%s: struck %v, by the dial %v, want %v", name, got, dialStops, want)
		}
	}
	check("nothing against it", false)
	if err := x.lesson.SetTraining(units.GMA(units.Degrees(12))); err != nil {
		t.Fatal(err)
	}
	check("training GMA", true)
	x.lesson.ClearTraining()
	states(x)["stopped"]()
	check("calibration that does not fit", true)
}

// strikes reports whether the figure to set stands struck through on the board.
func (x *stood) strikes(t *testing.T) bool {
	t.Helper()
	x.settle()
	for _, w := range x.Board().Written() {
		if w.Set {
			return w.Struck
		}
	}
	t.Fatal("the board shows no figure to set")
	return false
}

// The board follows the plan: another date and another circle are other figures.
func TestFollowsThePlan(t *testing.T) {
	x := stand(t)
	x.open(1920, 1080)
	x.lesson.Show(ends(x.s, 0, 1))
	before := x.picture()
	party := x.s.Plan().Party
	party.Compass.Circle = units.Mils6400
	if err := x.s.SetParty(party); err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(before, x.picture()) || !x.says("mil") {
		t.Error("the figures do not follow the party's compass")
	}
}

// The picture may be taken away and closed while the window is open, and the window may
// be closed before the picture.
func TestPictureComesAndGoes(t *testing.T) {
	x := stand(t)
	first, second := x.sheetPicture(), x.sheetPicture()
	x.ShowPicture(first, false)
	x.open(1280, 800)
	x.lesson.Next()
	x.settle()
	x.ShowPicture(second, true)
	first.Close()
	x.PictureChanged(0)
	x.settle()
	x.ShowPicture(nil, false)
	second.Close()
	x.settle()
	third := x.sheetPicture()
	x.ShowPicture(third, false)
	x.settle()
	x.Close()
	third.Close()
	x.PictureChanged(0)
	x.Drain()
}

// The note on the keys covers no part of the board, with the dial and with the compass, and
// its words stand whole in the window.
func TestNoteKeepsOffTheBoard(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(853, 533), fyne.NewSize(1280, 800), fyne.NewSize(1920, 1080)} {
		for _, compass := range []bool{false, true} {
			x := stand(t)
			x.lesson.Show(ends(x.s, 0, 1))
			if compass {
				x.lesson.SetStepping(teach.Stepping{Step: teach.LastStep})
			}
			x.open(size.Width, size.Height)
			place := fyne.CurrentApp().Driver().AbsolutePositionForObject
			note := x.Note()
			at, low := place(note), place(note).Y+note.Size().Height
			if !note.Visible() || at.X < 0 || at.Y < 0 || low > size.Height || note.Size().Height < note.MinSize().Height {
				t.Errorf("%v, compass %v: the note is at %v, %v", size, compass, at, note.Size())
			}
			if right := at.X + note.Size().Width; right > place(x.Board()).X {
				t.Errorf("%v, compass %v: the note ends at %v, the board begins at %v", size, compass, right, place(x.Board()).X)
			}
		}
	}
}

// Without a line, a sheet that is not calibrated says so to the group as the panel does; a
// calibrated one says what to do.
func TestWithoutCalibration(t *testing.T) {
	x := stand(t)
	x.open(1280, 800)
	if x.says("Calibrate the sheet first.") {
		t.Error("a calibrated sheet is called one that is not")
	}
	for range 4 {
		if err := x.s.RemoveControlPoint(0); err != nil {
			t.Fatal(err)
		}
	}
	if !x.says("Calibrate the sheet first.") {
		t.Error("nothing says that the sheet is not calibrated")
	}
}

// The board says the figures of the line that is drawn on the sheet, at every moment on the
// way from one line to the next, whichever of the two takes longer to draw.
func TestFiguresAreOfTheLineThatIsDrawn(t *testing.T) {
	x := stand(t)
	x.ShowPicture(x.sheetPicture(), false)
	x.open(1280, 800)
	drawn := map[int]string{} // what the board says, by the scene that the sheet shows
	agree := func() bool {
		x.paintBoard()
		scene, says := x.Area().SceneInSight(), x.written()
		if before, known := drawn[scene]; known && before != says {
			t.Errorf("with scene %d in sight the board says %q, then %q", scene, before, says)
		}
		drawn[scene] = says
		return x.Board().Settled()
	}
	for range 5 {
		before := x.written()
		x.lesson.Next()
		agree() // the lesson is ahead, the window is not
		x.Until(t, "the next line", agree)
		if x.written() == before {
			t.Fatalf("the next line did not come: the board says %q", before)
		}
	}
	x.lesson.Next() // two in a row: the first may not be drawn at all
	x.lesson.Previous()
	x.Until(t, "the last of two lines", agree)
	if len(drawn) < 6 {
		t.Errorf("%d scenes were in sight, want one for each line at least", len(drawn))
	}
}
