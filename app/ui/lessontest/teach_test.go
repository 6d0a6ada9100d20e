package lessontest

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/benchtest"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// A lesson's letters mean nothing in the other panels, and hidden figures stay hidden
// there.
func TestLessonKeysStayInTheirPanel(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Job(teachpanel.Show)
	b.Letters("h")
	if !b.Lesson().Hidden() || !b.Dial.Concealed() {
		t.Fatal("H hides nothing")
	}
	b.GoTo("Route")
	b.Letters("h")
	b.Letters("a")
	b.Key(fyne.KeyPageDown)
	if !b.Lesson().Hidden() || !b.Dial.Concealed() {
		t.Error("leaving the panel, or a letter in another one, shows what was hidden")
	}
	if b.Parts.Front() != "Route" {
		t.Errorf("a letter leads to panel %q", b.Parts.Front())
	}
}

// Escape ends the turning of a guess first. The line and what the group guessed stay, of
// a leg and of a line just drawn.
func TestEscapeKeepsTheGuesses(t *testing.T) {
	b := benchtest.WithALeg(t)
	for _, line := range []func(){
		func() { b.Key(fyne.KeyPageDown) },
		func() { b.Mouse.Drag(100, 100, 200, 150) },
	} {
		b.Job(teachpanel.Guess)
		line()
		b.Letters("g")
		b.Letters("t")
		b.Key(fyne.KeyReturn)
		if len(b.Lesson().Bearings()) != 1 {
			t.Fatalf("turned guesses %v", b.Lesson().Bearings())
		}
		b.Key(fyne.KeyEscape)
		_, turning := b.Dial.Turned()
		if _, ok := b.Lesson().Line(); !ok || turning || len(b.Lesson().Bearings()) != 1 {
			t.Errorf("after Escape: line %v, turning %v, guesses %v", ok, turning, b.Lesson().Bearings())
		}
		b.Key(fyne.KeyEscape)
		if _, ok := b.Lesson().Line(); ok {
			t.Error("a second Escape leaves the line")
		}
	}
}

// The panel asks for a picture as long as there is none, and no longer.
func TestTeachFollowsThePicture(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.Job(teachpanel.Show)
	for _, c := range []struct{ act, says string }{
		{"Delete sheet from the plan", "Open the picture of a map"}, {"Undo", "Press on a position and drag"},
	} {
		b.Choose(c.act)
		b.Until("the picture to come or go", func() bool { return b.Whole() == (b.InHand().ID != "") })
		if got := strings.Join(b.Texts(), "\n"); !strings.Contains(got, c.says) {
			t.Errorf("the window does not say %q:\n%s", c.says, got)
		}
	}
}

// A click on a leg in the ledger leaves the lesson its letters and a presenter's keys; in
// another panel a letter opens the cell.
func TestLessonKeysPassTheLedger(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Job(teachpanel.Show)
	b.Ledger.Focus()
	b.Type("n")
	if got := b.Lesson().North(); got != units.MagneticNorth {
		t.Errorf("N on a row of the ledger leads to %v north", got)
	}
	b.Key(fyne.KeyPageDown)
	if n, _ := b.Lesson().Place(); n != 2 {
		t.Errorf("Page Down on a row of the ledger leads to line %d, want 2", n)
	}
	b.Key(fyne.KeyReturn)
	b.Type("n")
	if got := b.Lesson().North(); got != units.MagneticNorth {
		t.Error("N typed into a cell is taken as the lesson's")
	}
	b.Key(fyne.KeyEscape)
	b.GoTo("Route")
	b.Ledger.Focus()
	on := b.Canvas().Focused()
	b.Type("n")
	if b.Canvas().Focused() == on || b.Lesson().North() != units.MagneticNorth {
		t.Error("in another panel N opens no cell")
	}
}

// The menu does what the panel's controls do: each new line hidden, each north line, the
// field for a training GMA.
func TestTeachByMenu(t *testing.T) {
	b := benchtest.WithALeg(t)
	l := b.Lesson()
	b.Choose("Hide the figures of each new line")
	b.Choose("Draw the line of true north")
	if !l.EstimateFirst() || l.Draws(units.TrueNorth) || b.Parts.Front() != "Teach" {
		t.Errorf("estimate first %v, true north drawn %v, panel %q", l.EstimateFirst(), l.Draws(units.TrueNorth), b.Parts.Front())
	}
	b.Choose("Type a training GMA")
	field, ok := b.Canvas().Focused().(*widgets.EditField)
	if !ok {
		t.Fatalf("the focus is on %T", b.Canvas().Focused())
	}
	for _, r := range "17 west" {
		field.TypedRune(r)
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if g, on := l.Training(); !on || math.Abs(g.Angle().Deg()+17) > 1e-9 {
		t.Errorf("training GMA %v°, declared %v", g.Angle().Deg(), on)
	}
}

// In a low window the panel's words come before the dial, which is scrolled to when it is
// turned; in a high one the dial stands above them.
func TestDialOfALowWindow(t *testing.T) {
	b := benchtest.WithALeg(t)
	place := benchtest.PlaceOf
	b.Job(teachpanel.Guess)
	for _, c := range []struct {
		size fyne.Size
		last bool
	}{{fyne.NewSize(853, 533), true}, {fyne.NewSize(1280, 800), false}, {fyne.NewSize(1920, 1050), false}} {
		b.Resize(c.size)
		dial, words, view := place(b.Dial).Y, place(b.Parts.Lower()).Y, b.Parts.Column().Scroll
		if (dial > words) != c.last {
			t.Errorf("%v: the dial is at %v, the words at %v", c.size, dial, words)
		}
		b.Choose("Start or stop guessing on the dial")
		if y := place(b.Dial).Y - place(view).Y; y < -1 || y+200 > view.Size().Height {
			t.Errorf("%v: the dial that is turned begins %v below the edge of %v", c.size, y, view.Size().Height)
		}
		if low := place(b.Dial).Y - place(view).Y + b.Dial.Size().Height; c.last && low > view.Size().Height+1 {
			t.Errorf("%v: the dial that is turned ends at %v of %v: its figure is not seen", c.size, low, view.Size().Height)
		}
		b.Choose("Start or stop guessing on the dial")
		if y := place(b.Parts.Lower()).Y - place(view).Y; c.last && (y < -1 || y > 1) {
			t.Errorf("%v: after turning the words begin at %v", c.size, y)
		}
	}
}

// Where the window has the room, the dial takes the largest face that its column is wide
// for; one that is turned leaves what is below its figure to the list. In a low window T
// brings it into sight, and Return goes back to the words.
func TestDialTakesTheRoomThereIs(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Resize(fyne.NewSize(1920, 1080))
	for _, c := range []struct {
		job    teachpanel.Job
		turned bool
	}{{teachpanel.Show, false}, {teachpanel.Identify, true}, {teachpanel.Guess, false}, {teachpanel.TwoPeople, true}} {
		b.Job(c.job)
		wide := b.Dial.Size().Width - 24
		if got, want := b.Dial.Size().Height, b.Dial.Wish(c.turned); math.Abs(float64(got-want)) > 1 {
			t.Errorf("job %d: the dial is %v high, want %v", c.job, got, want)
		}
		if face := b.Dial.Ring().Size().Width; c.turned && math.Abs(float64(face-wide)) > 1 {
			t.Errorf("job %d: the ring is %v wide, want %v", c.job, face, wide)
		}
	}
	b.Resize(fyne.NewSize(853, 533))
	place, view := benchtest.PlaceOf, b.Parts.Column().Scroll
	b.Job(teachpanel.Identify)
	b.FocusSheet()
	b.Letters("t")
	if y := place(b.Dial).Y - place(view).Y; y < -1 || y+200 > view.Size().Height {
		t.Errorf("after T the dial begins %v below the edge of %v", y, view.Size().Height)
	}
	b.Key(fyne.KeyReturn)
	if y := place(b.Parts.Lower()).Y - place(view).Y; y < -1 || y > 1 {
		t.Errorf("after Return the words begin at %v", y)
	}
}

// The jobs to choose from stand at one place whatever job is chosen and however far the
// panel is scrolled, in a low window and in a high one.
func TestJobsStayWhereTheyAre(t *testing.T) {
	b := benchtest.WithALeg(t)
	place := benchtest.PlaceOf
	for _, size := range []fyne.Size{fyne.NewSize(853, 533), fyne.NewSize(1280, 800), fyne.NewSize(1920, 1050)} {
		b.Resize(size)
		b.Job(teachpanel.Show)
		at := place(b.Parts.Column().Head)
		for job := teachpanel.Show; job <= teachpanel.Compass; job++ {
			b.Job(job)
			b.Parts.Column().Scroll.ScrollToBottom()
			if got := place(b.Parts.Column().Head); got != at || got.Y > 60 {
				t.Errorf("%v, job %d: the jobs stand at %v, for the first at %v", size, job, got, at)
			}
			if over := place(b.Parts.Column().Scroll).Y - at.Y; over < b.Parts.Column().Head.Size().Height {
				t.Errorf("%v, job %d: the panel begins %v below the top of the jobs, which are %v high", size, job, over, b.Parts.Column().Head.Size().Height)
			}
		}
	}
}

// No words of the panel reach beyond its edge, whatever job is chosen, in the least window.
func TestWordsOfTeachFit(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Resize(fyne.NewSize(853, 533))
	for job := teachpanel.Show; job <= teachpanel.Compass; job++ {
		b.Job(job)
		b.Lesson().SetHidden(false)
		fitsAcross(t, b, job)
		for _, deg := range []float64{40, 226, 300} {
			_ = b.Lesson().GuessBearing(units.Degrees(deg))
		}
		fitsAcross(t, b, job)
		b.Lesson().SetHidden(true)
		fitsAcross(t, b, job)
	}
}

// fitsAcross fails the test for each text of the panel that ends beyond its edge.
func fitsAcross(t *testing.T, b *benchtest.Bench, job teachpanel.Job) {
	t.Helper()
	place := benchtest.PlaceOf
	edge := place(b.Parts.Column().Scroll).X + b.Parts.Column().Scroll.Size().Width
	seen := 0
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if o == nil || !o.Visible() {
			return
		}
		switch o := o.(type) {
		case *widget.Entry, *widgets.EditField, *widgets.EscapeEntry: // they scroll
		case *widgets.NestedScroll:
			if need := o.Content.MinSize().Width; need > o.Size().Width+0.5 {
				t.Errorf("job %d: a part needs %.0f, and has %.0f", job, need, o.Size().Width)
			}
			walk(o.Content)
		case *canvas.Text:
			seen++
			if end := place(o).X + o.MinSize().Width; o.Text != "" && end > edge+0.5 {
				t.Errorf("job %d: %q ends at %.0f, the panel at %.0f", job, o.Text, end, edge)
			}
		case *fyne.Container:
			for _, c := range o.Objects {
				walk(c)
			}
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(o).Objects() {
				walk(c)
			}
		}
	}
	walk(b.Parts.Column().Head)
	walk(b.Parts.Lower())
	if seen < 5 {
		t.Errorf("job %d: only %d texts are seen", job, seen)
	}
}

// What is clicked and typed at while a group guesses keeps its position from the question to
// the answer, in the least window.
func TestAskingMovesNothing(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Resize(fyne.NewSize(853, 533))
	b.Job(teachpanel.Guess)
	field, ok := uitest.Find[*widgets.Chooser](b.Window, "distance")
	if !ok {
		t.Fatal("nobody chooses what is guessed")
	}
	at := benchtest.PlaceOf(field)
	for i, act := range []string{"Next line  (Page Down)", "Ask for a guess  (G)", "", "Draw the guesses  (F)", "Show the answer  (A)"} {
		if act == "" {
			if err := b.Lesson().GuessBearing(units.Degrees(40)); err != nil {
				t.Fatal(err)
			}
		} else {
			b.Choose(act)
		}
		b.Settle()
		if got := benchtest.PlaceOf(field); got != at {
			t.Errorf("act %d, %q: what is guessed goes from %v to %v", i, act, at, got)
		}
	}
}
