package teachpanel_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/geodesy"
	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// guessing is a panel that asks for the bearing of a line to the north-east, 1414 m long.
func guessing(t *testing.T) *stood {
	t.Helper()
	x := stand(t)
	x.legs(t, 100, 200, 200, 100, 300, 200)
	x.Window.Key(fyne.KeyPageDown)
	x.Type("g")
	if !x.lesson.Hidden() || x.Chosen() != teachpanel.Guess {
		t.Fatalf("hidden %v, job %d after G", x.lesson.Hidden(), x.Chosen())
	}
	return x
}

// degrees are the guessed bearings.
func (x *stood) degrees() string {
	var out []string
	for _, a := range x.lesson.Bearings() {
		out = append(out, fmt.Sprintf("%.0f", a.Deg()))
	}
	return strings.Join(out, " ")
}

// A round of guessing by keys alone: G, the guesses in a row, Return, Escape, A.
func TestGuessingByKeys(t *testing.T) {
	x := guessing(t)
	x.Type("040 055 70") // the field has the focus already
	x.Window.Key(fyne.KeyReturn)
	if got := x.degrees(); got != "40 55 70" {
		t.Fatalf("guessed %q: %q", got, x.line.Message())
	}
	x.says(t, "040° grid", "055° grid", "070° grid", "Median 055° grid")
	x.hush(t, "too far", "045", "1410")
	x.Window.Key(fyne.KeyEscape)
	x.Drain()
	if fan := x.view.Scene().Lesson.Fan; len(fan) != 0 {
		t.Errorf("%d guesses are drawn beside the line before that is asked", len(fan))
	}
	x.Type("f")
	x.Drain()
	if fan := x.view.Scene().Lesson.Fan; len(fan) != 4 || !x.lesson.Hidden() {
		t.Errorf("F draws %d lines, hidden %v", len(fan), x.lesson.Hidden())
	}
	x.Type("a")
	x.says(t, "It is 045° grid", "5° too far north", "10° too far east", "25° too far east")
	x.Drain()
	if fan := x.view.Scene().Lesson.Fan; len(fan) != 4 || !fan[3].Median {
		t.Errorf("a fan of %d lines, want three and their median", len(fan))
	}
	x.Window.Key(fyne.KeyPageDown)
	if n, _ := x.lesson.Place(); n != 2 || x.lesson.Guessed() != 0 {
		t.Errorf("Page Down leads to line %d with %d guesses, want 2 and none", n, x.lesson.Guessed())
	}
}

// The same with the mouse: every act has its control.
func TestGuessingByMouse(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.Tap(t, "Guess")
	x.Tap(t, "Ask for a guess")
	x.hush(t, "045")
	x.FocusOn(t, "040 055 70")
	x.Type("30 50")
	x.Tap(t, "Add the guesses")
	x.Tap(t, "Delete guess 1")
	if got := x.degrees(); got != "50" {
		t.Errorf("guesses %q, want the second alone", got)
	}
	x.Tap(t, "Draw guesses")
	x.Tap(t, "Show the answer")
	x.says(t, "5° too far east")
	x.Tap(t, "Delete all guesses")
	if x.lesson.Guessed() != 0 {
		t.Error("guesses are left")
	}
}

// Distances are guessed alike.
func TestGuessingDistances(t *testing.T) {
	x := guessing(t)
	x.view.Focus()
	x.Type("d")
	x.FocusOn(t, "850 900 1.2 km")
	x.Type("850 1.2 km 2000")
	x.Window.Key(fyne.KeyReturn)
	x.says(t, "850 m", "1200 m", "2000 m", "Median 1200 m")
	x.hush(t, "too short", "1410")
	x.Window.Key(fyne.KeyPageDown) // a presenter's key works in the field too: the guesses
	x.hush(t, "too short", "1410")
	x.Window.Key(fyne.KeyPageDown) // and the answer
	x.says(t, "It is 1410 m", "m too short", "m too long")
	x.Drain()
	if fan := x.view.Scene().Lesson.Fan; len(fan) != 4 || !fan[0].Across {
		t.Errorf("%d ticks, want three and their median", len(fan))
	}
	x.view.Focus()
	x.Type("b")
	if x.lesson.Ask() != teach.AskBearing {
		t.Error("B does not ask for the bearing")
	}
}

// A guess is turned on the dial and added with Return; the dial shows the guess and never
// the answer, which comes back when turning ends.
func TestGuessTurnedOnTheDial(t *testing.T) {
	x := guessing(t)
	x.view.Focus()
	x.Type("t")
	if a, on := x.dial.Turned(); !on || a != 0 {
		t.Fatalf("the dial is an input %v, at %v°", on, a.Deg())
	}
	for range 50 {
		x.Window.Key(fyne.KeyRight)
	}
	x.Window.Key(fyne.KeyReturn)
	x.Window.Key(fyne.KeyRight)
	x.Window.Key(fyne.KeyReturn)
	if got := x.degrees(); got != "50 51" {
		t.Errorf("turned guesses %q, want 50 51", got)
	}
	x.view.Focus()
	x.Type("d")
	if _, on := x.dial.Turned(); on {
		t.Error("the dial is an input for distances")
	}
	x.Type("bt")
	x.Tap(t, "Guess by turning the dial")
	if _, on := x.dial.Turned(); on {
		t.Error("a second choice does not end turning")
	}
	x.Type("t")
	x.Tap(t, "Show")
	if _, on := x.dial.Turned(); on {
		t.Error("the dial is still an input in another job")
	}
	x.view.Focus()
	x.Type("g")
	x.view.Focus() // G goes to the field for the guesses
	x.Type("t")
	if _, on := x.dial.Turned(); !on || !x.lesson.Hidden() {
		t.Fatalf("G and T hide the figures %v and turn the dial %v", x.lesson.Hidden(), on)
	}
	x.view.Focus()
	x.Type("a")
	if _, on := x.dial.Turned(); on || x.lesson.Hidden() {
		t.Errorf("after the answer the dial is an input %v, the figures are hidden %v", on, x.lesson.Hidden())
	}
}

// Bad guesses are refused whole with a sentence, and the field keeps them for mending.
func TestBadGuesses(t *testing.T) {
	x := guessing(t)
	field, _ := uitest.Find[*widget.Entry](x.Window, "040 055 70")
	for _, text := range []string{"400", "040 400 055", "-1", "north-east", "040 mag", strings.Repeat("040 ", 31)} {
		x.Replace(text)
		x.Window.Key(fyne.KeyReturn)
		if x.lesson.Guessed() != 0 || !x.line.Failed() {
			t.Errorf("%q: %d guesses, %q", text, x.lesson.Guessed(), x.line.Message())
		}
		if field != nil && field.Text != text {
			t.Errorf("%q: the field has %q", text, field.Text)
		}
	}
	x.Replace(strings.Repeat("040 ", 30))
	x.Window.Key(fyne.KeyReturn)
	if x.lesson.Guessed() != teach.MostGuesses {
		t.Fatalf("%d guesses, want 30: %q", x.lesson.Guessed(), x.line.Message())
	}
	x.Replace("050")
	x.Window.Key(fyne.KeyReturn)
	if x.lesson.Guessed() != teach.MostGuesses || !x.line.Failed() {
		t.Errorf("the 31st: %d guesses, %q", x.lesson.Guessed(), x.line.Message())
	}
}

// Without a line there is nothing to guess, and the foot line says so.
func TestGuessingWithoutALine(t *testing.T) {
	x := stand(t)
	x.Type("g")
	if x.lesson.Hidden() || !x.line.Failed() {
		t.Errorf("hidden %v, %q", x.lesson.Hidden(), x.line.Message())
	}
	x.says(t, "Drag a line, or press Page Down")
}

// Each new line comes hidden while that is wanted.
func TestEachNewLineComesHidden(t *testing.T) {
	x := stand(t)
	x.legs(t, 100, 200, 200, 100, 300, 200)
	x.Tap(t, "Guess")
	x.Tap(t, "Hide the figures of each new line")
	x.Window.Key(fyne.KeyPageDown)
	if !x.lesson.Hidden() {
		t.Fatal("the first line is not hidden")
	}
	x.Window.Key(fyne.KeyPageDown)
	x.Window.Key(fyne.KeyPageDown)
	if n, _ := x.lesson.Place(); n != 2 || !x.lesson.Hidden() {
		t.Errorf("line %d, hidden %v, want the second one hidden", n, x.lesson.Hidden())
	}
}

// Guesses from magnetic north are compared with the magnetic bearing that is shown.
func TestGuessesFromMagneticNorth(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.lesson.SetNorth(units.MagneticNorth)
	x.training(t, "12 east")
	x.view.Focus()
	x.Type("g")
	x.Type("33 45")
	x.Window.Key(fyne.KeyReturn)
	x.Window.Key(fyne.KeyEscape)
	x.Type("a")
	x.says(t, "It is 033° mag", "the same figure", "12° too far east")
}

// Where the ground has no answer the panel says what to do, which is another thing for a line
// of the lesson than for a leg, and for a date that the magnetic model does not cover.
func TestNoAnswerSaysWhatToDo(t *testing.T) {
	x := stand(t)
	must(t, x.s.SetDate("2099-11-28"))
	x.drag(100, 200, 200, 100)
	x.lesson.SetNorth(units.MagneticNorth)
	x.Type("g")
	x.Type("33")
	x.Window.Key(fyne.KeyReturn)
	if got := x.line.Message(); got != "Guess added." {
		t.Errorf("one guess is told as %q", got)
	}
	x.Window.Key(fyne.KeyEscape)
	x.Type("a")
	x.says(t, "There is no magnetic bearing here. Type a training GMA under Show, or delete the guesses and choose another north.")
	x.Choose(teachpanel.Show)
	x.training(t, "12 east")
	x.Choose(teachpanel.Guess)
	x.says(t, "It is 033° mag")
	x.Type("c")
	x.FocusOn(t, "40 60 120")
	x.Type("60 160")
	x.Window.Key(fyne.KeyReturn)
	x.says(t, "Open terrain that covers the line.")
	x.hush(t, "in the ledger")
}

// Page Down on a line of the lesson, in a plan without any, does not send anybody to another.
func TestNoLineToGoOnTo(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 200, 100)
	x.Window.Key(fyne.KeyPageDown)
	if got := x.line.Message(); got != "The plan has no leg or sight yet. Drag another line on the sheet." {
		t.Errorf("Page Down says %q", got)
	}
}

// On a stop no guess is judged: neither near nor far.
func TestNoVerdictOnAStop(t *testing.T) {
	x := stand(t)
	x.drag(100, 200, 101, 199) // 14 m: nobody knows that bearing
	if r := x.view.Offer().Reading(); !r.Stopped() {
		t.Fatalf("the reading has no stop but %v: the test tries nothing", r.Cautions)
	}
	x.Type("g")
	x.Type("40 55")
	x.Window.Key(fyne.KeyReturn)
	x.Window.Key(fyne.KeyEscape)
	x.Type("a")
	x.says(t, "STOP: ", "040° grid", "Guesses are not compared")
	x.hush(t, "too far", "the same figure")
	x.Type("d")
	x.FocusOn(t, "850 900 1.2 km")
	x.Type("20")
	x.Window.Key(fyne.KeyReturn)
	x.says(t, "20 m")
	x.hush(t, "too long", "too short")
}

// Once the answer shows, the panel names the slip that explains a guess, or all of them
// where several do; for a rough guess it names none. Slips of reading a compass are not
// named for a guess by eye.
func TestSlipsBehindGuesses(t *testing.T) {
	x := guessing(t)
	x.Type("225 47 315")
	x.Window.Key(fyne.KeyReturn)
	x.hush(t, "perhaps", "wrong end")
	x.Window.Key(fyne.KeyEscape)
	x.Type("a")
	x.says(t, "perhaps read off the wrong end", "perhaps east and west mixed up, or the circle read anticlockwise", "Point the travel arrow where you are going")
	x.hush(t, "half a turn") // "180° out" says so already
	x.Tap(t, "Delete guess 1")
	x.Tap(t, "Delete guess 2")
	x.hush(t, "perhaps", "Point the travel arrow")
	x.Type("g")
	x.Type("054")
	x.Window.Key(fyne.KeyReturn)
	x.Window.Key(fyne.KeyEscape)
	x.Type("a")
	x.hush(t, "perhaps")
	c, _ := uitest.Find[*widgets.Chooser](x.Window, "by compass")
	x.Canvas().Focus(c)
	x.Window.Key(fyne.KeyRight)
	x.says(t, "perhaps ", "digits")
}

// The field for guesses keeps the keys for the next ones, and while it is empty letters
// act: a round is played without leaving it. On the sheet a digit begins a guess.
func TestLettersInTheEmptyFieldForGuesses(t *testing.T) {
	x := guessing(t)
	x.Type("040 055 70 mag")
	x.Window.Key(fyne.KeyReturn)
	if x.lesson.Guessed() != 0 {
		t.Fatal("guesses from another north are taken")
	}
	x.Replace("")
	x.Type("040")
	x.Window.Key(fyne.KeyReturn)
	x.Type("055")
	x.Window.Key(fyne.KeyReturn)
	x.Type("f")
	if !x.lesson.GuessesDrawn() || !x.lesson.Hidden() {
		t.Errorf("F in the empty field: drawn %v, hidden %v", x.lesson.GuessesDrawn(), x.lesson.Hidden())
	}
	x.Type("a")
	if x.lesson.Hidden() {
		t.Error("A in the empty field shows no answer")
	}
	x.Window.Key(fyne.KeyPageDown)
	x.view.Focus()
	x.Type("33")
	x.Window.Key(fyne.KeyReturn)
	if got := x.degrees(); got != "33" {
		t.Errorf("digits typed on the sheet give the guesses %q, want 33", got)
	}
	x.Type("t")
	if x.Canvas().Focused() != fyne.Focusable(x.dial.Ring().(fyne.Focusable)) {
		t.Errorf("after T in the empty field the keys are at %T", x.Canvas().Focused())
	}
}

// slope lays terrain under the sheet that rises a metre in ten to the east, with a dam of
// a height from north to south in the middle.
func (x *stood) slope(t *testing.T, damM float32) {
	t.Helper()
	low, high, ok := x.s.Reader().SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	const step = 100
	middle := low.E + step*float64(int((high.E-low.E)/step+1)/2)
	uitest.Ground(t, x.s, "slope.hgt", step, step, func(at geodesy.Grid) float64 {
		h := 100 + 0.1*(at.E-low.E)
		if math.Abs(at.E-middle) < step/2 {
			h += float64(damM)
		}
		return h
	})
	x.Drain()
}

// The group guesses the climb and the minutes: hidden until the answer shows. The line
// goes 1000 m east and 1000 m north, 1414 m at 4 km/h and 100 m of climb at 10 min a 100
// m: 31 min. Without terrain the panel says why it has no answer.
func TestGuessingClimbAndTime(t *testing.T) {
	x := guessing(t)
	x.Type("c")
	x.FocusOn(t, "40 60 120")
	x.Type("60 160")
	x.Window.Key(fyne.KeyReturn)
	x.Type("a")
	x.says(t, "The climb of this leg is not known. Open terrain that covers the leg, or count its contours in the ledger.", "60 m", "160 m", "Median 110 m")
	x.hush(t, "too much", "too little")
	x.slope(t, 0)
	x.says(t, "It has 100 m of climb", "40 m too little (a third)")
	x.Type("hm")
	x.FocusOn(t, "25 40 1:10")
	x.hush(t, "31 min", "100 m of climb")
	x.Type("25 1:10")
	x.Window.Key(fyne.KeyReturn)
	x.hush(t, "31 min", "too long", "too short")
	x.says(t, "25 min", "1 h 10", "Median 48 min")
	if _, ok := uitest.Find[fyne.Tappable](x.Window, "Draw guesses"); ok {
		t.Error("guesses of a time are offered to be drawn")
	}
	x.Type("f")
	if !strings.Contains(x.line.Message(), "cannot be drawn on the sheet") || !x.lesson.Hidden() {
		t.Errorf("F on guesses of a time says %q", x.line.Message())
	}
	x.Type("a")
	x.says(t, "It takes 31 min of walking, without rests", "6 min too short", "39 min too long")
}
