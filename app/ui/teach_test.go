package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/opening"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// A lesson's letters mean nothing in the other panels, and hidden figures stay hidden
// there.
func TestLessonKeysStayInTheirPanel(t *testing.T) {
	b := withALeg(t)
	b.teach.panel.Choose(teachpanel.Show)
	b.rune('h')
	if !b.teach.lesson.Hidden() || !b.frame.dial.Concealed() {
		t.Fatal("H hides nothing")
	}
	b.goTo(panelRoute)
	b.rune('h')
	b.rune('a')
	b.key(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	if !b.teach.lesson.Hidden() || !b.frame.dial.Concealed() {
		t.Error("leaving the panel, or a letter in another one, shows what was hidden")
	}
	if b.frame.panel.front != panelRoute {
		t.Errorf("a letter leads to panel %d", b.frame.panel.front)
	}
}

// Escape ends the turning of a guess first. The line and what the group guessed stay, of
// a leg and of a line just drawn.
func TestEscapeKeepsTheGuesses(t *testing.T) {
	b := withALeg(t)
	for _, line := range []func(){
		func() { b.key(&fyne.KeyEvent{Name: fyne.KeyPageDown}) },
		func() { drag(b, 100, 100, 200, 150) },
	} {
		b.teach.panel.Choose(teachpanel.Guess)
		line()
		b.rune('g')
		b.rune('t')
		win := &uitest.Window{Window: b.window}
		win.Key(fyne.KeyReturn)
		if len(b.teach.lesson.Bearings()) != 1 {
			t.Fatalf("turned guesses %v", b.teach.lesson.Bearings())
		}
		win.Key(fyne.KeyEscape)
		_, turning := b.frame.dial.Turned()
		if _, ok := b.teach.lesson.Line(); !ok || turning || len(b.teach.lesson.Bearings()) != 1 {
			t.Errorf("after Escape: line %v, turning %v, guesses %v", ok, turning, b.teach.lesson.Bearings())
		}
		win.Key(fyne.KeyEscape)
		if _, ok := b.teach.lesson.Line(); ok {
			t.Error("a second Escape leaves the line")
		}
	}
}

// The panel asks for a picture as long as there is none, and no longer.
func TestTeachFollowsThePicture(t *testing.T) {
	b := calibrated(t)
	b.teach.panel.Choose(teachpanel.Show)
	win := &uitest.Window{Window: b.window}
	shown := b.pictures.shown
	for _, c := range []struct {
		shows opening.Shown
		says  string
	}{{opening.Shown{}, "Open the picture of a map"}, {opening.Shown{Picture: &shown}, "Press on a position and drag"}} {
		b.pictures.Show(c.shows)
		if got := strings.Join(win.Texts(), "\n"); !strings.Contains(got, c.says) {
			t.Errorf("the window does not say %q:\n%s", c.says, got)
		}
	}
}

// A click on a leg in the ledger leaves the lesson its letters and a presenter's keys; in
// another panel a letter opens the cell.
func TestLessonKeysPassTheLedger(t *testing.T) {
	b := withALeg(t)
	b.teach.panel.Choose(teachpanel.Show)
	b.ledger.Focus()
	win := &uitest.Window{Window: b.window}
	win.Type("n")
	if got := b.teach.lesson.North(); got != units.MagneticNorth {
		t.Errorf("N on a row of the ledger leads to %v north", got)
	}
	win.Key(fyne.KeyPageDown)
	if n, _ := b.teach.lesson.Place(); n != 2 {
		t.Errorf("Page Down on a row of the ledger leads to line %d, want 2", n)
	}
	win.Key(fyne.KeyReturn)
	win.Type("n")
	if got := b.teach.lesson.North(); got != units.MagneticNorth {
		t.Error("N typed into a cell is taken as the lesson's")
	}
	win.Key(fyne.KeyEscape)
	b.goTo(panelRoute)
	b.ledger.Focus()
	on := b.window.Canvas().Focused()
	win.Type("n")
	if b.window.Canvas().Focused() == on || b.teach.lesson.North() != units.MagneticNorth {
		t.Error("in another panel N opens no cell")
	}
}

// The menu does what the panel's controls do: each new line hidden, each north line, the
// field for a training GMA.
func TestTeachByMenu(t *testing.T) {
	b := withALeg(t)
	l := b.teach.lesson
	chooseEntry(t, b, "Hide the figures of each new line")
	chooseEntry(t, b, "Draw the line of true north")
	if !l.EstimateFirst() || l.Draws(units.TrueNorth) || b.frame.panel.front != panelTeach {
		t.Errorf("estimate first %v, true north drawn %v, panel %d", l.EstimateFirst(), l.Draws(units.TrueNorth), b.frame.panel.front)
	}
	chooseEntry(t, b, "Type a training GMA")
	field, ok := b.window.Canvas().Focused().(*widgets.EditField)
	if !ok {
		t.Fatalf("the focus is on %T", b.window.Canvas().Focused())
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
	b := withALeg(t)
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	b.teach.panel.Choose(teachpanel.Guess)
	for _, c := range []struct {
		size fyne.Size
		last bool
	}{{fyne.NewSize(853, 533), true}, {fyne.NewSize(1280, 800), false}, {fyne.NewSize(1920, 1050), false}} {
		b.window.Resize(c.size)
		dial, words, view := place(b.frame.dial).Y, place(b.teach.panel.Body()).Y, b.frame.panel.scroll
		if (dial > words) != c.last {
			t.Errorf("%v: the dial is at %v, the words at %v", c.size, dial, words)
		}
		b.teach.panel.Acts().ToggleTurning()
		if y := place(b.frame.dial).Y - place(view).Y; y < -1 || y+200 > view.Size().Height {
			t.Errorf("%v: the dial that is turned begins %v below the edge of %v", c.size, y, view.Size().Height)
		}
		if low := place(b.frame.dial).Y - place(view).Y + b.frame.dial.Size().Height; c.last && low > view.Size().Height+1 {
			t.Errorf("%v: the dial that is turned ends at %v of %v: its figure is not seen", c.size, low, view.Size().Height)
		}
		b.teach.panel.Acts().ToggleTurning()
		if y := place(b.teach.panel.Body()).Y - place(view).Y; c.last && (y < -1 || y > 1) {
			t.Errorf("%v: after turning the words begin at %v", c.size, y)
		}
	}
}

// Where the window has the room, the dial takes the largest face that its column is wide
// for; one that is turned leaves what is below its figure to the list. In a low window T
// brings it into sight, and Return goes back to the words.
func TestDialTakesTheRoomThereIs(t *testing.T) {
	b := withALeg(t)
	b.window.Resize(fyne.NewSize(1920, 1080))
	for _, c := range []struct {
		job    teachpanel.Job
		turned bool
	}{{teachpanel.Show, false}, {teachpanel.Identify, true}, {teachpanel.Guess, false}, {teachpanel.TwoPeople, true}} {
		b.teach.panel.Choose(c.job)
		wide := b.frame.dial.Size().Width - 24
		if got, want := b.frame.dial.Size().Height, b.frame.dial.Wish(c.turned); math.Abs(float64(got-want)) > 1 {
			t.Errorf("job %d: the dial is %v high, want %v", c.job, got, want)
		}
		if face := b.frame.dial.Ring().Size().Width; c.turned && math.Abs(float64(face-wide)) > 1 {
			t.Errorf("job %d: the ring is %v wide, want %v", c.job, face, wide)
		}
	}
	b.window.Resize(fyne.NewSize(853, 533))
	place, view := fyne.CurrentApp().Driver().AbsolutePositionForObject, b.frame.panel.scroll
	b.teach.panel.Choose(teachpanel.Identify)
	b.view.Focus()
	b.rune('t')
	if y := place(b.frame.dial).Y - place(view).Y; y < -1 || y+200 > view.Size().Height {
		t.Errorf("after T the dial begins %v below the edge of %v", y, view.Size().Height)
	}
	b.frame.dial.Ring().(fyne.Focusable).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if y := place(b.teach.panel.Body()).Y - place(view).Y; y < -1 || y > 1 {
		t.Errorf("after Return the words begin at %v", y)
	}
}

// The jobs to choose from stand at one place whatever job is chosen and however far the
// panel is scrolled, in a low window and in a high one.
func TestJobsStayWhereTheyAre(t *testing.T) {
	b := withALeg(t)
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	for _, size := range []fyne.Size{fyne.NewSize(853, 533), fyne.NewSize(1280, 800), fyne.NewSize(1920, 1050)} {
		b.window.Resize(size)
		b.teach.panel.Choose(teachpanel.Show)
		at := place(b.teach.panel.Head())
		for job := teachpanel.Show; job <= teachpanel.Compass; job++ {
			b.teach.panel.Choose(job)
			b.frame.panel.scroll.ScrollToBottom()
			if got := place(b.teach.panel.Head()); got != at || got.Y > 60 {
				t.Errorf("%v, job %d: the jobs stand at %v, for the first at %v", size, job, got, at)
			}
			if over := place(b.frame.panel.scroll).Y - at.Y; over < b.teach.panel.Head().Size().Height {
				t.Errorf("%v, job %d: the panel begins %v below the top of the jobs, which are %v high", size, job, over, b.teach.panel.Head().Size().Height)
			}
		}
	}
}

// No words of the panel reach beyond its edge, whatever job is chosen, in the least window.
func TestWordsOfTeachFit(t *testing.T) {
	b := withALeg(t)
	b.window.Resize(fyne.NewSize(853, 533))
	for job := teachpanel.Show; job <= teachpanel.Compass; job++ {
		if !b.teach.panel.Has(job) {
			continue
		}
		b.teach.panel.Choose(job)
		b.teach.lesson.SetHidden(false)
		fitsAcross(t, b, job)
		for _, deg := range []float64{40, 226, 300} {
			_ = b.teach.lesson.GuessBearing(units.Degrees(deg))
		}
		fitsAcross(t, b, job)
		b.teach.lesson.SetHidden(true)
		fitsAcross(t, b, job)
	}
}

// fitsAcross fails the test for each text of the panel that ends beyond its edge.
func fitsAcross(t *testing.T, b *Bench, job teachpanel.Job) {
	t.Helper()
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	edge := place(b.frame.panel.scroll).X + b.frame.panel.scroll.Size().Width
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
	walk(b.teach.panel.Head())
	walk(b.teach.panel.Body())
	if seen < 5 {
		t.Errorf("job %d: only %d texts are seen", job, seen)
	}
}
