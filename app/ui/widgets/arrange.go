package widgets

import "fyne.io/fyne/v2"

// Arrange gives the parts of a container their places again, and those of the containers
// in it, after some came, went or became another size. Unlike Refresh it makes no part
// draw itself again, which for a form of ten fields takes a third of a frame.
func Arrange(c *fyne.Container) {
	if c.Layout != nil {
		c.Layout.Layout(c.Objects, c.Size())
	}
	for _, o := range c.Objects {
		if inner, ok := o.(*fyne.Container); ok && inner.Visible() {
			Arrange(inner)
		}
	}
	c.Move(c.Position()) // has the window painted, and keeps every texture
}
