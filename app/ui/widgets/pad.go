package widgets

import "fyne.io/fyne/v2"

// Pad is a layout that leaves space around one object, in DIP.
type Pad struct{ Left, Top, Right, Bottom float32 }

// MinSize is the object's with the space.
func (l *Pad) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	return fyne.NewSize(m.Width+l.Left+l.Right, m.Height+l.Top+l.Bottom)
}

// Layout places the object.
func (l *Pad) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	Put(objects[0], l.Left, l.Top, size.Width-l.Left-l.Right, size.Height-l.Top-l.Bottom)
}

// Put moves an object to x, y and gives it a size of w × h, in DIP; a negative
// side counts as none.
func Put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(max(w, 0), max(h, 0)))
}

// ScaleOf returns how many physical pixels one DIP of the object's window
// measures, 1 while it stands in none.
func ScaleOf(o fyne.CanvasObject) float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil {
		return c.Scale()
	}
	return 1
}
