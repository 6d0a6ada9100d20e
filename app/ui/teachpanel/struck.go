package teachpanel

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// struck is a large figure. One that nobody may walk on stands struck through in a frame,
// as on the dial, so that who sees no colours sees it.
type struck struct {
	body  *fyne.Container
	label *widget.Label
	frame *canvas.Rectangle
	line  *canvas.Rectangle
}

func newStruck() *struck {
	x := &struck{label: widget.NewLabel(""), frame: canvas.NewRectangle(color.Transparent), line: canvas.NewRectangle(color.Transparent)}
	x.label.SizeName = theme.SizeNameHeadingText
	x.frame.StrokeWidth = struckLine
	x.body = &fyne.Container{Layout: x, Objects: []fyne.CanvasObject{x.label, x.frame, x.line}}
	x.set("", false)
	return x
}

// struckLine is how thick the frame and the line are, in units of the window.
const struckLine = float32(2)

// set shows a figure.
func (x *struck) set(text string, stopped bool) {
	ink := look.Current()[look.Fault]
	x.frame.StrokeColor, x.line.FillColor = ink, ink
	visible(x.frame, stopped)
	visible(x.line, stopped)
	importance := widget.MediumImportance
	if stopped {
		importance = widget.DangerImportance
	}
	if x.label.Importance != importance {
		x.label.Importance = importance
		x.label.Refresh()
	}
	write(x.label, text)
	x.body.Refresh()
}

// MinSize is that of the figure.
func (x *struck) MinSize([]fyne.CanvasObject) fyne.Size { return x.label.MinSize() }

// Layout sets the frame round the figure and the line through it.
func (x *struck) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	widgets.Put(x.label, 0, 0, size.Width, size.Height)
	m, pad := x.label.MinSize(), theme.InnerPadding()
	left, wide, top := pad-4, m.Width-2*pad+8, (size.Height-m.Height)/2+pad-2
	widgets.Put(x.frame, left, top, wide, m.Height-2*pad+4)
	widgets.Put(x.line, left, top+(m.Height-2*pad+4)/2, wide, struckLine)
}
