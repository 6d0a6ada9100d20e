package part

import "fyne.io/fyne/v2"

// Flow is a layout that sets its objects side by side at their least size and
// begins a new line where the width ends, as words in a paragraph. Its least
// height is that of the width it was last given.
type Flow struct {
	Gap   float32 // between objects and between lines, in DIP
	width float32
}

// NewFlow returns a flow with a gap of 4 DIP.
func NewFlow() *Flow { return &Flow{Gap: 4} }

// Layout places the objects; Fyne calls it.
func (f *Flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f.width = size.Width
	f.each(objects, func(o fyne.CanvasObject, at fyne.Position, s fyne.Size) {
		o.Move(at)
		o.Resize(s)
	})
}

// MinSize returns the widest object's width and the height of all lines.
func (f *Flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	f.each(objects, func(_ fyne.CanvasObject, at fyne.Position, s fyne.Size) {
		least.Width = max(least.Width, s.Width)
		least.Height = max(least.Height, at.Y+s.Height)
	})
	return least
}

func (f *Flow) each(objects []fyne.CanvasObject, place func(fyne.CanvasObject, fyne.Position, fyne.Size)) {
	var x, y, line float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		s := o.MinSize()
		if x > 0 && f.width > 0 && x+s.Width > f.width {
			x, y, line = 0, y+line+f.Gap, 0
		}
		place(o, fyne.NewPos(x, y), s)
		x, line = x+s.Width+f.Gap, max(line, s.Height)
	}
}
