package dial_test

import (
	"bytes"
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/ui/dial"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/uitest"
	"legwright/app/units"
)

// bench is a window with a dial, and what the dial told.
type bench struct {
	*uitest.Window
	*uitest.Mouse
	d                *dial.Dial
	told             []float64 // degrees
	accepted, onward int
}

func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{d: dial.New()}
	b.Window = uitest.NewWindow(t, b.d)
	b.Resize(fyne.NewSize(320, 520))
	b.Mouse = uitest.NewMouse(b.d.Ring())
	b.d.OnTyped = func(rune, *fyne.KeyEvent) { b.onward++ }
	return b
}

// ask makes the dial an input.
func (b *bench) ask(c units.Circle, at float64) {
	b.d.SetInput(&dial.Input{
		Label: "Your guess, grid", Circle: c, At: units.Degrees(at), Accept: func() { b.accepted++ },
		OnTurn: func(a units.Angle) { b.told = append(b.told, a.Deg()) },
	})
}

// around is a place of the face: degrees clockwise from its head, and how far out.
func (b *bench) around(deg, out float64) (x, y float64) {
	half := float64(b.d.Ring().Size().Width) / 2
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return half + out*half*sin, half - out*half*cos
}

// swing drags the ring from one direction to another by small steps.
func (b *bench) swing(from, by, out float64) {
	b.Move(b.around(from, out))
	b.Press()
	for i := range 20 {
		b.Move(b.around(from+by*float64(i+1)/20, out))
	}
	b.Release()
}

func (b *bench) turned(t *testing.T, what string, want, within float64) {
	t.Helper()
	got, ok := b.d.Turned()
	if !ok || math.Abs((got-units.Degrees(want)).Signed().Deg()) > within {
		t.Errorf("%s: at %.2f°, an input %v; want %v° ± %v", what, got.Deg(), ok, want, within)
	}
	if n := len(b.told); n > 0 && math.Abs(b.told[n-1]-got.Deg()) > 1e-9 {
		t.Errorf("%s: told %v° last, and shows %v°", what, b.told[n-1], got.Deg())
	}
}

// picture is the dial as it is drawn.
func (b *bench) picture() []byte {
	img := b.Canvas().Capture().(*image.NRGBA)
	return bytes.Clone(img.Pix)
}

// The ring turns with the hand from wherever it is grabbed: it does not jump to the
// pointer, and the figure at the index falls as the hand goes clockwise.
func TestTheRingTurnsWithTheHand(t *testing.T) {
	b := newBench(t)
	for _, c := range []struct {
		name                string
		begin, grab, by, at float64
	}{
		{"clockwise, held at the head", 100, 0, 40, 60},
		{"anticlockwise, held at the right", 100, 90, -40, 140},
		{"through north", 10, 200, 30, 340},
		{"more than once round", 50, 300, -400, 90},
	} {
		b.ask(units.WholeDegrees, c.begin)
		b.told = nil
		b.Move(b.around(c.grab, 0.8))
		b.Press()
		if got, _ := b.d.Turned(); len(b.told) > 0 || math.Abs(got.Deg()-c.begin) > 1e-9 {
			t.Errorf("%s: grabbing it alone turns it to %v°", c.name, got.Deg())
		}
		b.Release()
		b.swing(c.grab, c.by, 0.8)
		b.turned(t, c.name, c.at, 1.5) // the pointer goes by whole units
	}
}

// A pointer that crosses the hub does not throw the ring round.
func TestTheHubThrowsNothing(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, 45)
	b.Move(b.around(0, 0.02))
	b.Press()
	for _, deg := range []float64{0, 120, 240} {
		b.Move(b.around(deg, 0.04))
	}
	if got, _ := b.d.Turned(); len(b.told) > 0 {
		t.Errorf("at the hub it turned to %v°", got.Deg())
	}
	b.Move(b.around(90, 0.5)) // now it is held
	b.Move(b.around(80, 0.5))
	b.Release()
	b.turned(t, "held after the hub", 55, 1.5)
}

// Wheel and keys count by the steps of the circle, and round through north.
func TestWheelAndKeysCountBySteps(t *testing.T) {
	b := newBench(t)
	for _, c := range []struct {
		circle units.Circle
		step   float64 // degrees
	}{{units.WholeDegrees, 1}, {units.HalfDegrees, 0.5}, {units.Mils6400, 0.5625}, {units.Gon400, 0.9}} {
		b.ask(c.circle, 0)
		b.d.Focus()
		b.told = nil
		wheel := func(by float32) {
			b.d.Ring().(fyne.Scrollable).Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, by)})
		}
		b.Key(fyne.KeyLeft)
		b.turned(t, c.circle.String()+": left from north", 360-c.step, 1e-9)
		b.Key(fyne.KeyRight)
		b.Key(fyne.KeyRight)
		b.turned(t, c.circle.String()+": right", c.step, 1e-9)
		wheel(50)
		b.turned(t, c.circle.String()+": two notches", 3*c.step, 1e-9)
		wheel(-10)
		wheel(-10)
		b.turned(t, c.circle.String()+": less than a notch", 3*c.step, 1e-9)
		wheel(-5)
		b.turned(t, c.circle.String()+": a notch in parts", 2*c.step, 1e-9)
		b.Key(fyne.KeyHome)
		b.turned(t, c.circle.String()+": home", 0, 0)
		if b.Key(fyne.KeyHome); len(b.told) != 6 {
			t.Errorf("%v: told %d times, want once for each turn: %v", c.circle, len(b.told), b.told)
		}
	}
}

// With Shift a key and a notch count ten steps.
func TestShiftTurnsFaster(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, 5)
	defer b.d.HoldForTest(fyne.KeyModifierShift)()
	b.d.Focus()
	b.Key(fyne.KeyLeft)
	b.turned(t, "Shift and Left", 355, 1e-9)
	b.d.Ring().(fyne.Scrollable).Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(25, 0)}) // as turned aside
	b.turned(t, "Shift and the wheel", 5, 1e-9)
}

// Return accepts, other keys and letters go on to the window, and a dial that is no
// input takes nothing, the focus included.
func TestOnlyAnInputTakesKeys(t *testing.T) {
	b := newBench(t)
	b.d.Focus()
	if b.Canvas().Focused() != nil || b.d.Ring().Visible() {
		t.Fatal("a dial that is no input has the focus")
	}
	b.ask(units.WholeDegrees, 0)
	b.Move(b.around(30, 0.5))
	b.Click()
	if b.Canvas().Focused() == nil {
		t.Fatal("a click on the ring does not give it the keys")
	}
	b.Key(fyne.KeyReturn)
	b.Key(fyne.KeyPageDown)
	b.Type("n")
	if b.accepted != 1 || b.onward != 2 {
		t.Errorf("accepted %d, passed on %d; want 1, 2", b.accepted, b.onward)
	}
	before := b.picture()
	b.d.SetInput(nil)
	if b.Canvas().Focused() != nil || b.d.Ring().Visible() {
		t.Error("the ring is kept after the input ended")
	}
	if _, ok := b.d.Turned(); ok || bytes.Equal(before, b.picture()) {
		t.Errorf("still an input: %v", ok)
	}
}

// The focus is seen, and so is what the ring is turned to.
func TestTheRingShowsFocusAndFigure(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, 57)
	without := b.picture()
	b.d.Focus()
	with := b.picture()
	if bytes.Equal(without, with) {
		t.Error("the focus is not seen")
	}
	b.Key(fyne.KeyRight)
	if bytes.Equal(with, b.picture()) {
		t.Error("the turning is not seen")
	}
}

// A reading that comes while the dial is an input is shown after it.
func TestAnInputShowsNothingOfTheReading(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, 57)
	before := b.picture()
	b.d.Display(dial.Figures{Set: "123°", SetLabel: "Set", Notes: []string{"a", "b"}, Face: housing.State{At: units.Degrees(123), Gate: true}})
	if !bytes.Equal(before, b.picture()) {
		t.Error("the reading is seen behind the input")
	}
	b.d.SetInput(nil)
	if bytes.Equal(before, b.picture()) || b.d.Figures().Set != "123°" {
		t.Errorf("after it: %+v", b.d.Figures())
	}
}

// What is not a number turns the ring to north, or not at all.
func TestARingIsNotTurnedToNothing(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, math.NaN())
	b.turned(t, "begun with no number", 0, 0)
	b.d.Turn(units.Degrees(359.7))
	b.turned(t, "the nearest step", 0, 0)
	b.d.Turn(units.Degrees(41.2))
	b.d.Turn(units.Angle(math.Inf(1)))
	b.turned(t, "turned to no number", 41, 1e-9)
}

// The left button turns; the others do not.
func TestOnlyTheLeftButtonTurns(t *testing.T) {
	b := newBench(t)
	b.ask(units.WholeDegrees, 10)
	x, y := b.around(0, 0.8)
	r := b.d.Ring().(desktop.Mouseable)
	at := fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}
	r.MouseDown(&desktop.MouseEvent{PointEvent: at, Button: desktop.MouseButtonTertiary})
	x, y = b.around(90, 0.8)
	b.d.Ring().(fyne.Draggable).Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}})
	b.turned(t, "dragged by the middle button", 10, 1e-9)
}

// The face of an input takes the room of the readings that it does not show, and the ring
// lies over all of it; the panel stays as high as it was.
func TestAnInputHasALargeFace(t *testing.T) {
	b := newBench(t)
	b.Resize(fyne.NewSize(320, 430))
	before, size := b.d.FaceForTest(), b.d.MinSize()
	b.ask(units.WholeDegrees, 0)
	if got := b.d.FaceForTest(); got < before+50 || b.d.MinSize() != size {
		t.Errorf("face %v, was %v; least size %v, was %v", got, before, b.d.MinSize(), size)
	}
	if ring := b.d.Ring().Size().Width; ring != b.d.FaceForTest() {
		t.Errorf("the ring is %v wide over a face of %v", ring, b.d.FaceForTest())
	}
	b.d.SetInput(nil)
	if got := b.d.FaceForTest(); got != before {
		t.Errorf("afterwards the face is %v, want %v", got, before)
	}
}
