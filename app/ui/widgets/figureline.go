package widgets

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// FigureLine is one line of small text whose figures change at every movement of the
// pointer. It draws itself from letters that it has drawn before: a text of the toolkit
// takes about half a millisecond of a frame whenever it is new.
type FigureLine struct {
	widget.BaseWidget
	text    string
	ink     look.Role
	raster  *canvas.Raster
	letters *lettering.Setter
}

// NewFigureLine returns an empty line.
func NewFigureLine() *FigureLine {
	f := &FigureLine{ink: look.Quiet}
	f.raster = canvas.NewRaster(f.paint)
	f.ExtendBaseWidget(f)
	return f
}

// Set changes the text and its colour.
func (f *FigureLine) Set(text string, ink look.Role) {
	if f.text != text || f.ink != ink {
		f.text, f.ink = text, ink
		f.raster.Refresh()
	}
}

// Text returns the text, for tests and for those who read it aloud.
func (f *FigureLine) Text() string { return f.text }

// MinSize is the height of a line; the text is cut to the width that there is.
func (f *FigureLine) MinSize() fyne.Size {
	return fyne.NewSize(0, fyne.MeasureText("Hg", theme.Size(look.SizeLabel), fyne.TextStyle{}).Height)
}

func (f *FigureLine) paint(w, h int) image.Image {
	Crisp(f.raster)
	img, size := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1))), f.Size()
	f.letters = f.letters.At(ScaleOf(f))
	style := lettering.Style{Size: theme.Size(look.SizeLabel)}
	_, base := fyne.CurrentApp().Driver().RenderedTextSize("Hg", style.Size, fyne.TextStyle{}, nil)
	f.letters.Write(img, f.letters.Fit(f.text, style, size.Width), style, 0, base, look.Current()[f.ink])
	return img
}

// CreateRenderer makes the line; Fyne calls it.
func (f *FigureLine) CreateRenderer() fyne.WidgetRenderer {
	return &renderer{objects: []fyne.CanvasObject{f.raster}, layout: f.raster.Resize, min: f.MinSize, refresh: f.raster.Refresh}
}
