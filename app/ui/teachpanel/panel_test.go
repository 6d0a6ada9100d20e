package teachpanel_test

import (
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// stood is a panel in a window of the test driver, beside a sheet on which one pixel of
// the picture is 10 m. It is the window around the panel too.
type stood struct {
	*teachpanel.Panel
	*uitest.Window
	*uitest.Mouse
	uitest.Queue
	s         *session.Session
	lesson    *teach.Lesson
	view      *sheetview.View
	dial      *dial.Dial
	line      *foot.Line
	shown     int // how often the panel was asked to the front
	projected int // and the window for the group was opened or closed
	found     []plan.ID
}

func (x *stood) ShowPanel()               { x.shown++ }
func (x *stood) Changed()                 {}
func (x *stood) Find(id plan.ID)          { x.found = append(x.found, id) }
func (x *stood) Reveal(fyne.CanvasObject) {}
func (x *stood) NameMark()                {}
func (x *stood) MayKeep(keep func())      { keep() }
func (x *stood) Typed(r rune, e *fyne.KeyEvent) {
	if e == nil {
		x.Rune(r)
		return
	}
	x.Panel.Key(e)
}

// stand shows the panel in front of a plan without legs.
func stand(t testing.TB) *stood {
	t.Helper()
	x := &stood{Queue: uitest.NewQueue(), s: uitest.EmptySession(), lesson: teach.NewLesson(), line: foot.New(), dial: dial.New()}
	x.Window = uitest.NewWindow(t, container.NewWithoutLayout())
	x.view = sheetview.New(x.s, x.line, x.dial, x.Later, x)
	x.Mouse = uitest.NewMouse(x.view.Area())
	x.dial.OnTyped = x.Typed
	x.Panel = teachpanel.New(teachpanel.Needs{
		Session: x.s, Lesson: x.lesson, Foot: x.line, Ask: ask.New(x.Window, x.line, x.Later), View: x.view, Dial: x.dial, Host: x,
		Project: func() { x.projected++ }, Outer: func() *container.Scroll { return nil },
	})
	x.lesson.OnChange(func() {
		x.dial.Conceal(x.lesson.Hidden())
		x.view.Conceal(x.lesson.Hidden())
		x.Conceal(x.lesson.Hidden())
	})
	side := container.New(layout.NewBorderLayout(x.Head(), nil, nil, nil), x.Head(), container.NewGridWithRows(2, x.Body(), x.dial))
	x.SetContent(container.NewBorder(nil, x.line, nil, side, x.view.Area(), container.NewCenter(x.view.Strip())))
	x.Resize(fyne.NewSize(1292, 1000))
	x.view.ShowPicture(uitest.WhiteSheet(t, x.s), false)
	x.view.Area().Fit()
	x.Panel.Show(true)
	x.view.SetTool(x.Tool())
	x.Canvas().SetOnTypedRune(func(r rune) { x.Rune(r) })
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

// drag drags a bearing between two points of the picture.
func (x *stood) drag(fromCol, fromRow, toCol, toRow float64) {
	x.to(fromCol, fromRow)
	x.Press()
	x.to((fromCol+toCol)/2, (fromRow+toRow)/2)
	x.to(toCol, toRow)
	x.Release()
	x.Drain()
}

// legs keeps legs from point to point of the picture, and gives the keys to the sheet.
func (x *stood) legs(t testing.TB, points ...float64) {
	t.Helper()
	for i := 0; i+3 < len(points); i += 2 {
		from, err := x.view.PositionAt(view.PicPt{X: points[i], Y: points[i+1]})
		must(t, err)
		to, err := x.view.PositionAt(view.PicPt{X: points[i+2], Y: points[i+3]})
		must(t, err)
		_, err = x.s.KeepLeg(plan.AtPosition(from), plan.AtPosition(to))
		must(t, err)
	}
	x.s.Select("")
	x.view.Focus()
	x.Drain()
}

// words are all that the window says.
func (x *stood) words() string { return strings.Join(x.Texts(), " ") }

// says fails the test unless the window says each of the words.
func (x *stood) says(t testing.TB, words ...string) {
	t.Helper()
	for _, w := range words {
		if all := x.words(); !strings.Contains(all, w) {
			t.Errorf("the window does not say %q but %q", w, all)
		}
	}
}

// hush fails the test if the window says one of the words.
func (x *stood) hush(t testing.TB, words ...string) {
	t.Helper()
	for _, w := range words {
		if all := x.words(); strings.Contains(all, w) {
			t.Errorf("the window says %q: %q", w, all)
		}
	}
}

// Each job is offered by its own word if there is one, and by no other.
func TestJobsThatAreOffered(t *testing.T) {
	x := stand(t)
	there := 0
	for job, word := range map[teachpanel.Job]string{
		teachpanel.Show: "Show", teachpanel.Guess: "Guess", teachpanel.Identify: "On a bearing",
		teachpanel.TwoPeople: "Two people", teachpanel.Compass: "Compass",
	} {
		_, offered := uitest.Find[fyne.Tappable](x.Window, word)
		if offered != x.Has(job) {
			t.Errorf("%q: offered %v, there is one %v", word, offered, x.Has(job))
		}
		if !offered {
			continue
		}
		there++
		x.Tap(t, word)
		if x.Chosen() != job {
			t.Errorf("a click on %q goes to job %d", word, x.Chosen())
		}
	}
	if there < 2 || x.shown != there {
		t.Errorf("%d jobs, the panel was asked to the front %d times", there, x.shown)
	}
}

// sightAlone is a tool of another panel.
func sightAlone() sheetview.Tool { return sheetview.Tool{Kind: tool.Sight} }

// equalArcs reports whether two arcs are drawn alike.
func equalArcs(a, b overlay.Arc) bool { return reflect.DeepEqual(a, b) }

// The window for the group is asked for from the panel.
func TestProjectorIsOffered(t *testing.T) {
	x := stand(t)
	x.Tap(t, "Projector")
	if x.projected != 1 {
		t.Errorf("asked for %d times", x.projected)
	}
}

// Whatever has the focus by Tab in whatever job, a letter does what it does on the sheet,
// unless it is typed into a field; a presenter's keys go on too.
func TestLettersPassEveryControl(t *testing.T) {
	x := steppedThrough(t)
	for job := teachpanel.Show; job <= teachpanel.Compass; job++ {
		x.Choose(job)
		x.Canvas().Focus(nil)
		tried := 0
		for range 60 {
			x.Canvas().FocusNext()
			on := x.Canvas().Focused()
			if _, field := on.(fyne.Shortcutable); field || on == fyne.Focusable(x.view.Area()) {
				continue
			}
			tried++
			before := x.lesson.North()
			if x.Type("n"); x.lesson.North() == before {
				t.Errorf("job %d: N does nothing on %T", job, on)
			}
			x.Canvas().Focus(on)
		}
		if tried < 5 {
			t.Errorf("job %d: Tab leads to %d controls", job, tried)
		}
	}
	x.FocusOn(t, "1 Edge")
	x.Type("3")
	x.at(t, "3 on a step", teach.Stepping{Step: 3})
	x.FocusOn(t, "1 Edge")
	x.Window.Key(fyne.KeyPageDown)
	x.at(t, "Page Down on a step", teach.Stepping{Step: 4})
	x.FocusOn(t, "1 Edge")
	x.Type("w")
	x.at(t, "W on a step", teach.Stepping{Step: 4, Wrong: teach.PlateReversed})
}

// The message of a refused field goes as soon as another job is chosen.
func TestRefusalEndsWithItsJob(t *testing.T) {
	x := stand(t)
	x.FocusOn(t, "none, or for example 12 east")
	x.Type("much")
	x.Window.Key(fyne.KeyReturn)
	x.Choose(teachpanel.Show)
	if !x.line.Failed() {
		t.Fatal("the field refuses nothing, or the same job again ends its message")
	}
	x.Tap(t, "Two people")
	if x.line.Failed() || x.line.Message() != "" {
		t.Errorf("in another job the foot line says %q", x.line.Message())
	}
}

// Letters of guessing work in the jobs about lines and in no other.
func TestLettersOfGuessing(t *testing.T) {
	x := stand(t)
	for _, c := range []struct{ from, to teachpanel.Job }{{teachpanel.Show, teachpanel.Guess}, {teachpanel.Identify, teachpanel.Identify}} {
		x.Choose(c.from)
		x.view.Focus()
		x.Type("d")
		if x.Chosen() != c.to {
			t.Errorf("D in job %d leads to job %d, want %d", c.from, x.Chosen(), c.to)
		}
	}
}
