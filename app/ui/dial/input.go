package dial

import (
	"math"

	"fyne.io/fyne/v2"

	"legwright/app/ui/dial/housing"
	"legwright/app/units"
)

// Input is what the dial is turned for. While a dial has one, it shows the figure at
// the index and nothing of the reading that it was given.
type Input struct {
	Label  string            // above the figure: "Your guess, grid"
	Circle units.Circle      // the ring turns by the steps of this circle
	At     units.Angle       // what stands at the index to begin with
	OnTurn func(units.Angle) // called with each figure that the ring is turned to
	Accept func()            // what Return and Enter mean; may be nil
	Rest   func()            // called when the hand leaves the ring; may be nil
}

// SetInput makes the dial an input, or with nil ends that: it shows the reading again.
// With another input the focus stays where it is.
func (d *Dial) SetInput(in *Input) {
	if in != nil {
		now := *in
		now.At = nearestStep(now.At, now.Circle)
		in = &now
	}
	if in == nil {
		d.ring.end()
		d.ring.Hide()
	} else {
		d.ring.Show()
	}
	d.change(func() { d.input = in })
}

// Turn turns the ring of an input to the step nearest an angle, without calling OnTurn.
func (d *Dial) Turn(to units.Angle) {
	if d.input == nil || !to.IsFinite() {
		return
	}
	next := *d.input
	next.At = nearestStep(to, next.Circle)
	d.change(func() { d.input = &next })
}

// Turned is what stands at the index of an input; false where the dial is none.
func (d *Dial) Turned() (units.Angle, bool) {
	if d.input == nil {
		return 0, false
	}
	return d.input.At, true
}

// Ring is what is turned with the mouse, and has the focus for the keys. It is hidden
// while the dial is not an input.
func (d *Dial) Ring() fyne.CanvasObject { return d.ring }

// Focus gives the keys to the ring, if the dial is an input.
func (d *Dial) Focus() {
	if d.input == nil {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(d); c != nil {
		c.Focus(d.ring)
	}
}

// turnTo turns the ring as a person does.
func (d *Dial) turnTo(to units.Angle) {
	in := d.input
	if in == nil {
		return
	}
	was := in.At
	if d.Turn(to); d.input.At != was && in.OnTurn != nil {
		in.OnTurn(d.input.At)
	}
}

// nearestStep is the angle of the nearest figure that a circle can show. An angle that
// is not finite is north.
func nearestStep(a units.Angle, c units.Circle) units.Angle {
	if !a.IsFinite() {
		return 0
	}
	step := c.Step()
	turn := math.Round(2 * math.Pi / float64(step))
	n := math.Mod(math.Round(float64(a.Turn()/step)), turn)
	return units.Angle(n) * step
}

// figures is what an input shows.
func (in *Input) figures() Figures {
	return Figures{
		Set: in.Circle.Figure(in.At), SetLabel: in.Label, Point: units.SixteenPoint(in.At),
		Face: housing.State{At: in.At, Circle: in.Circle, Gate: true}, Empty: true,
	}
}
