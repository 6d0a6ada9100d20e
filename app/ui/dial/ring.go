package dial

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/units"
)

// How the ring is turned.
const (
	notch    = 25   // what the toolkit reports for one notch of the wheel
	coarse   = 10   // steps of a notch or a key with Shift
	deadHub  = 0.12 // of the face's radius: so near the middle a direction means nothing
	ringHint = "Drag the ring, turn the mouse wheel, or press Left or Right; Shift turns faster, Home goes to north"
)

// ring lies over the face of a dial that is an input. Wherever it is grabbed, it turns
// with the pointer from where it stands: the figure at the index falls as the hand goes
// clockwise, as on a compass. The wheel and the keys count upward and downward.
type ring struct {
	widget.BaseWidget
	d       *Dial
	hint    func(string)
	held    func() fyne.KeyModifier
	focused bool
	grip    *grip   // while it is dragged
	rolled  float64 // of the wheel, less than one notch
}

// grip is where the ring is held.
type grip struct {
	pointer float64 // direction from the hub, radians clockwise from the head
	north   float64 // the figure at the index, not brought to a step nor into one turn
}

func newRing(d *Dial) *ring {
	r := &ring{d: d, hint: func(string) {}, held: heldKeys}
	r.Hidden = true
	r.ExtendBaseWidget(r)
	return r
}

// heldKeys returns the modifiers that are held down.
func heldKeys() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// end releases the ring, and the keys.
func (r *ring) end() {
	r.grip, r.rolled = nil, 0
	if c := fyne.CurrentApp().Driver().CanvasForObject(r); c != nil && c.Focused() == r {
		c.Unfocus()
	}
}

// direction is that of a position of the ring from the hub; false too near the hub.
func (r *ring) direction(at fyne.Position) (float64, bool) {
	half := float64(r.Size().Width) / 2
	x, y := float64(at.X)-half, half-float64(at.Y)
	return math.Atan2(x, y), math.Hypot(x, y) > deadHub*half
}

// MouseDown takes the ring where it is.
func (r *ring) MouseDown(e *desktop.MouseEvent) {
	r.d.Focus()
	if e.Button == desktop.MouseButtonPrimary {
		r.take(e.Position)
	}
}

func (r *ring) take(at fyne.Position) {
	now, _ := r.d.Turned()
	r.grip = &grip{math.NaN(), float64(now)}
	if p, ok := r.direction(at); ok {
		r.grip.pointer = p
	}
}

// MouseUp releases it.
func (r *ring) MouseUp(*desktop.MouseEvent) { r.DragEnd() }

// Dragged turns it with the pointer.
func (r *ring) Dragged(e *fyne.DragEvent) {
	if r.grip == nil {
		return
	}
	p, ok := r.direction(e.Position)
	if !ok {
		return
	}
	if g := r.grip; !math.IsNaN(g.pointer) {
		g.north -= units.Angle(p - g.pointer).Signed().Rad()
	}
	r.grip.pointer = p
	r.d.turnTo(units.Angle(r.grip.north))
}

// DragEnd releases it.
func (r *ring) DragEnd() {
	held := r.grip != nil
	if r.grip = nil; held && r.d.input != nil && r.d.input.Rest != nil {
		r.d.input.Rest()
	}
}

// Scrolled turns it by a step for each notch.
func (r *ring) Scrolled(e *fyne.ScrollEvent) {
	by := e.Scrolled.DY
	if by == 0 {
		by = e.Scrolled.DX // some systems turn the wheel aside with Shift
	}
	r.rolled += float64(by) / notch
	whole := math.Trunc(r.rolled)
	r.rolled -= whole
	r.step(int(whole))
}

// step turns it by steps of the circle, ten times as many with Shift.
func (r *ring) step(n int) {
	now, ok := r.d.Turned()
	if !ok || n == 0 {
		return
	}
	if r.held()&fyne.KeyModifierShift != 0 {
		n *= coarse
	}
	r.d.turnTo(now + units.Angle(n)*r.d.input.Circle.Step())
}

// TypedKey turns it, or hands the key on.
func (r *ring) TypedKey(e *fyne.KeyEvent) {
	in := r.d.input
	switch {
	case in == nil:
	case e.Name == fyne.KeyLeft:
		r.step(-1)
	case e.Name == fyne.KeyRight:
		r.step(1)
	case e.Name == fyne.KeyHome:
		r.d.turnTo(0)
	case (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && in.Accept != nil:
		in.Accept()
	case r.d.OnTyped != nil:
		r.d.OnTyped(0, e)
	}
}

// TypedRune hands a letter on.
func (r *ring) TypedRune(c rune) {
	if r.d.OnTyped != nil {
		r.d.OnTyped(c, nil)
	}
}

// FocusGained colours the rim of the face and says how it is turned; Fyne calls it.
func (r *ring) FocusGained() { r.mark(true) }

// FocusLost ends what FocusGained began.
func (r *ring) FocusLost() { r.mark(false) }

func (r *ring) mark(on bool) {
	r.d.change(func() { r.focused = on })
	if on {
		r.hint(ringHint)
	} else {
		r.hint("")
	}
}

// MouseIn says how the ring is turned; Fyne calls it.
func (r *ring) MouseIn(*desktop.MouseEvent) { r.hint(ringHint) }

// MouseMoved is Fyne's.
func (r *ring) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (r *ring) MouseOut() { r.hint("") }

// Cursor says that the ring can be turned; Fyne asks for it.
func (r *ring) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is Fyne's. The ring is drawn with the rest of the dial.
func (r *ring) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout())
}
