package mapview

import (
	"fyne.io/fyne/v2"
)

// minSide is the smallest useful map area, device-independent pixels.
const minSide = 160

// CreateRenderer implements fyne.Widget.
func (m *MapView) CreateRenderer() fyne.WidgetRenderer {
	m.ground.FillColor = groundColor()
	return &renderer{m, []fyne.CanvasObject{m.ground, m.layer}}
}

// renderer lays the ground and the layer over the whole widget. The widget
// clips them, as the toolkit does with everything scrollable.
type renderer struct {
	m       *MapView
	objects []fyne.CanvasObject
}

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return fyne.NewSize(minSide, minSide) }
func (r *renderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *renderer) Layout(s fyne.Size) {
	r.m.ground.Resize(s)
	r.m.layer.Resize(s)
	r.m.relayout()
}

func (r *renderer) Refresh() {
	if c := groundColor(); r.m.ground.FillColor != c {
		r.m.ground.FillColor = c
		r.m.ground.Refresh()
	}
	r.m.relayout()
}

// Move implements fyne.CanvasObject: whole pixels depend on the place.
func (m *MapView) Move(p fyne.Position) {
	m.BaseWidget.Move(p)
	m.relayout()
}
