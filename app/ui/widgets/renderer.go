package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"legwright/app/lettering"
)

// renderer is a widget renderer made of three functions.
type renderer struct {
	objects []fyne.CanvasObject
	layout  func(fyne.Size)
	min     func() fyne.Size
	refresh func()
}

func (r *renderer) Destroy()                     {}
func (r *renderer) Layout(s fyne.Size)           { r.layout(s) }
func (r *renderer) MinSize() fyne.Size           { return r.min() }
func (r *renderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *renderer) Refresh()                     { r.refresh() }

// write sets a text in the theme's colour and size and refreshes it only where
// something changed. An empty one is hidden: what is visible costs each frame.
func write(t *canvas.Text, text string, c fyne.ThemeColorName, s fyne.ThemeSizeName) {
	text = lettering.Shown(text)
	ink, size := theme.Color(c), theme.Size(s)
	t.Hidden = text == ""
	if t.Text == text && t.Color == ink && t.TextSize == size {
		return
	}
	t.Text, t.Color, t.TextSize = text, ink, size
	t.Refresh()
}

// paint sets a rectangle's colours and refreshes it only where one changed. One
// without any colour is hidden.
func paint(r *canvas.Rectangle, fill, stroke color.Color, width float32) {
	r.Hidden = blank(fill) && (blank(stroke) || width == 0)
	if r.FillColor == fill && r.StrokeColor == stroke && r.StrokeWidth == width {
		return
	}
	r.FillColor, r.StrokeColor, r.StrokeWidth = fill, stroke, width
	r.Refresh()
}

// blank says whether nothing is drawn in a colour.
func blank(c color.Color) bool { return c == nil || c == color.Transparent }

// baseline returns the size of a text and the depth of its baseline below its
// top, in DIP.
func baseline(t *canvas.Text) (fyne.Size, float32) {
	return fyne.CurrentApp().Driver().RenderedTextSize(t.Text, t.TextSize, t.TextStyle, t.FontSource)
}
