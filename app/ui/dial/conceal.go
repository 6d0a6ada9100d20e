package dial

import "legwright/app/ui/dial/housing"

// Conceal hides every figure of the reading, and all that it would be guessed from:
// ring, needle, cautions. What was asked for is written instead. A dial that is an
// input still shows what it is turned to, for that is a person's own figure.
func (d *Dial) Conceal(on bool) { d.change(func() { d.concealed = on }) }

// Concealed reports whether the figures are hidden.
func (d *Dial) Concealed() bool { return d.concealed }

// Ask says what is written while the figures are hidden; "" says the usual words.
func (d *Dial) Ask(words string) {
	if d.asked != words {
		d.change(func() { d.asked = words })
	}
}

// seen is what the dial shows of what it was given.
func (d *Dial) seen() Figures {
	switch {
	case d.input != nil:
		f := d.input.figures()
		f.Face.Focus = d.ring.focused
		return f
	case !d.concealed:
		return *d.shown
	}
	words := d.asked
	if words == "" {
		words = defaultAsked
	}
	return Figures{
		Set: "?", SetLabel: words, Empty: true,
		Face: housing.State{Circle: d.shown.Face.Circle, Blank: true},
	}
}

// defaultAsked is what a dial without figures asks.
const defaultAsked = "Figures hidden"

// change shows what came of a change, if that is seen.
func (d *Dial) change(set func()) {
	before := d.seen()
	set()
	if now := d.seen(); !same(before, now) {
		d.picture.drawAhead(now.Face)
		d.show()
	}
}
