package dial

import "fyne.io/fyne/v2"

// HoldForTest holds modifiers down, which the test driver cannot; the function that it
// returns releases them.
func (d *Dial) HoldForTest(m fyne.KeyModifier) (release func()) {
	d.ring.held = func() fyne.KeyModifier { return m }
	return func() { d.ring.held = heldKeys }
}

// FaceForTest is the side of the face.
func (d *Dial) FaceForTest() float32 { side, _ := d.faceSide(d.Size()); return side }
