package projector_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/projector"
	"legwright/app/units"
)

// sizes are those of usual screens and projectors, and of a low window.
func sizes() []fyne.Size {
	return []fyne.Size{{Width: 1920, Height: 1080}, {Width: 1280, Height: 800}, {Width: 1024, Height: 768}, {Width: 853, Height: 533}}
}

// states bring the lesson from one state to the next.
func states(x *stood) map[string]func() {
	return map[string]func(){
		"shown":    func() { x.lesson.Show(ends(x.s, 0, 1)) },
		"hidden":   func() { x.lesson.Show(ends(x.s, 0, 1)); x.lesson.SetHidden(true) },
		"magnetic": func() { x.lesson.Show(ends(x.s, 1, 2)); x.lesson.SetNorth(units.MagneticNorth) },
		"trained": func() {
			x.lesson.Show(ends(x.s, 2, 0))
			_ = x.lesson.SetTraining(units.GMA(units.Degrees(-17)))
		},
		"mils": func() {
			x.lesson.Show(ends(x.s, 2, 1))
			party := x.s.Plan().Party
			party.Compass.Circle = units.Mils6400
			_ = x.s.SetParty(party)
		},
		"guessed": func() {
			x.lesson.Show(ends(x.s, 0, 2))
			for _, deg := range []float64{30, 31, 200} {
				_ = x.lesson.GuessBearing(units.Degrees(deg))
			}
		},
		"distance": func() {
			x.lesson.Show(ends(x.s, 0, 2))
			x.lesson.SetAsk(teach.AskDistance)
			_ = x.lesson.GuessNumber(teach.AskDistance, 12345)
		},
		"stepped": func() {
			x.lesson.Show(ends(x.s, 0, 1))
			_ = x.lesson.SetTraining(units.GMA(units.Degrees(12)))
			x.lesson.SetStepping(teach.Stepping{Step: 3, Wrong: teach.CorrectedTwice})
		},
		"led astray": func() {
			x.lesson.Show(ends(x.s, 2, 1))
			x.lesson.SetStepping(teach.Stepping{Way: teach.GroundToMap, Step: teach.LastStep, Wrong: teach.SouthEndSeated})
		},
		"stopped": func() {
			x.lesson.Show(ends(x.s, 0, 1))
			moved := x.s.Plan().Sheets[0].Points[0].At
			moved.Col += 400
			_ = x.s.MoveControlPoint(0, moved)
		},
	}
}

// Whatever has a figure in it is at least 1/25 of the window's height high, the figure to
// set 1/12; everything written lies on the board, and nothing over something else.
func TestSizes(t *testing.T) {
	for name := range states(nil) {
		x := stand(t)
		w := x.open(1920, 1080)
		states(x)[name]()
		for _, size := range sizes() {
			w.Resize(size)
			x.settle()
			checkSizes(t, name, size, x.Board().Written(), x.Board().Size())
		}
		x.Close()
	}
}

func checkSizes(t *testing.T, name string, window fyne.Size, list []projector.Written, board fyne.Size) {
	t.Helper()
	sets := 0
	for i, w := range list {
		share := w.High / window.Height
		switch {
		case w.Set:
			sets++
			if share < 1.0/12 {
				t.Errorf("%s, %v: the figure to set is 1/%.1f high", name, window, 1/share)
			}
		case strings.ContainsAny(w.Text, "0123456789") && share < 1.0/25:
			t.Errorf("%s, %v: %q is 1/%.1f high", name, window, w.Text, 1/share)
		}
		if w.X < 0 || w.X+w.Wide > board.Width || w.Line > board.Height || w.Line-w.High < 0 {
			t.Errorf("%s, %v: %q at %.0f…%.0f, %.0f leaves the board of %v", name, window, w.Text, w.X, w.X+w.Wide, w.Line, board)
		}
		for _, v := range list[:i] {
			if w.X < v.X+v.Wide && v.X < w.X+w.Wide && w.Line-w.High < v.Line && v.Line-v.High < w.Line {
				t.Errorf("%s, %v: %q lies over %q", name, window, w.Text, v.Text)
			}
		}
	}
	want := 1
	if name == "hidden" {
		want = 0
	}
	if sets != want {
		t.Errorf("%s, %v: %d figures to set, want %d", name, window, sets, want)
	}
}

// The dial becomes as large as wanted by keys and by dragging the bar beside it, up to the
// height of the window.
func TestTheDialGrows(t *testing.T) {
	x := stand(t)
	w := x.open(1920, 1080)
	w.Key(fyne.KeyPageDown)
	x.settle()
	face, wide := x.Board().Face(), x.Board().Size().Width
	if face < 0.2*1080 {
		t.Errorf("the face is %v high at first", face)
	}
	w.Type("+")
	x.settle()
	if x.Board().Size().Width <= wide || x.Board().Face() < face {
		t.Errorf("+ makes the board %v and the face %v of %v and %v", x.Board().Size().Width, x.Board().Face(), wide, face)
	}
	for range 20 {
		w.Type("+")
	}
	x.settle()
	if got := x.Board().Face(); got < 0.9*1080 {
		t.Errorf("the face grows to %v of 1080", got)
	}
	checkSizes(t, "grown", w.Canvas().Size(), x.Board().Written(), x.Board().Size())
	for range 40 {
		w.Type("-")
	}
	x.settle()
	if got := x.Board().Size().Width; got > wide || got < 0.4*1080 {
		t.Errorf("the board shrinks to %v", got)
	}
	before := x.Board().Size().Width
	divider := x.divider()
	divider.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(-200, 0)})
	x.settle()
	if got := x.Board().Size().Width - before; got < 199 || got > 201 {
		t.Errorf("dragged by 200, the board is %v wider", got)
	}
	x.Close()
	x.open(1920, 1080)
	if got := x.Board().Size().Width - before; got < 199 || got > 201 {
		t.Errorf("opened again, the board is %v wider", got)
	}
}

// divider is the bar between sheet and board: what can be dragged and is not a sheet.
func (x *stood) divider() fyne.Draggable {
	root := x.Window().Content().(*fyne.Container)
	for _, o := range root.Objects {
		if d, ok := o.(fyne.Draggable); ok && o.Size().Width < 20 {
			return d
		}
	}
	x.t.Fatal("there is no bar to drag")
	return nil
}

// A line that was drawn is brought near once it has stayed as it is for 400 ms; while it is
// dragged the sheet stays where it is as long as the line is seen.
func TestADrawnLineIsBroughtNear(t *testing.T) {
	x := stand(t)
	x.ShowPicture(x.sheetPicture(), false)
	x.open(1280, 800)
	whole := x.Area().View()
	for _, to := range []int{1, 2, 3, 1} {
		x.lesson.Show(ends(x.s, 0, to))
		x.settle()
		x.clock.Pass(399 * time.Millisecond)
		x.settle()
		if x.Area().View() != whole {
			t.Fatal("the sheet moves while the line is dragged")
		}
	}
	x.clock.Pass(time.Millisecond)
	x.Until(t, "the line to come near", func() bool { return x.Area().View().Scale() > 2*whole.Scale() })
}

// The wheel and a drag move the sheet, not the plan, and Home brings the line back.
func TestTheSheetIsMoved(t *testing.T) {
	x := stand(t)
	x.ShowPicture(x.sheetPicture(), false)
	w := x.open(1280, 800)
	w.Key(fyne.KeyPageDown)
	x.settle()
	plan, seen := x.s.Plan(), x.Area().View()
	glass := w.Canvas().Focused().(interface {
		fyne.Scrollable
		fyne.Draggable
	})
	glass.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25), PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 300), AbsolutePosition: fyne.NewPos(300, 300)}})
	if got := seen.Scale() / x.Area().View().Scale(); got < 1.2 || got > 1.3 {
		t.Errorf("a notch of the wheel zooms by %v", got)
	}
	zoomed := x.Area().View()
	glass.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(30, -20)})
	if d := x.Area().View().Offset(); d.X-zoomed.Offset().X != 30 || d.Y-zoomed.Offset().Y != -20 {
		t.Errorf("a drag by 30, −20 moves the sheet from %v to %v", zoomed.Offset(), d)
	}
	w.Key(fyne.KeyHome)
	back, middle := x.Area().View(), seen.ToPicture(seen.Middle())
	if math.Abs(back.Scale()/seen.Scale()-1) > 1e-6 || back.ToScreen(middle).Dist(back.Middle()) > 2 {
		t.Errorf("Home brings back %v at %v, want %v at %v", back.Offset(), back.Scale(), seen.Offset(), seen.Scale())
	}
	if x.s.Plan() != plan {
		t.Error("the plan was changed")
	}
}
