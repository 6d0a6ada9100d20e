package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Item is a row of a quiet table: a name, a figure at the right, and words
// beneath that wrap. The one that counts is bold, with a bar at its left.
type Item struct {
	widget.BaseWidget
	name, figure, words string
	on                  bool

	wrapped float32 // the width the words were last wrapped for
}

// NewItem returns a row. figure and words may be empty.
func NewItem(name, figure, words string, on bool) *Item {
	i := &Item{name: name, figure: figure, words: words, on: on, wrapped: 240}
	i.ExtendBaseWidget(i)
	return i
}

// Texts returns what the row says, for tests and for those who read it aloud.
func (i *Item) Texts() (name, figure, words string, on bool) {
	return i.name, i.figure, i.words, i.on
}

// itemLeft is the space left of the words, in DIP.
const itemLeft = float32(11)

// CreateRenderer makes the row; Fyne calls it.
func (i *Item) CreateRenderer() fyne.WidgetRenderer {
	r := &itemRenderer{i: i, bar: canvas.NewRectangle(nil), name: canvas.NewText("", nil), figure: canvas.NewText("", nil)}
	r.Refresh()
	return r
}

type itemRenderer struct {
	i            *Item
	bar          *canvas.Rectangle
	name, figure *canvas.Text
	lines        []*canvas.Text
}

// Destroy is Fyne's.
func (r *itemRenderer) Destroy() {}

// Objects are the bar and the texts.
func (r *itemRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.bar, r.name, r.figure}
	for _, l := range r.lines {
		out = append(out, l)
	}
	return out
}

func (r *itemRenderer) lineHeight() float32 {
	return fyne.MeasureText("Hg", theme.Size(look.SizeLabel), fyne.TextStyle{}).Height
}

// MinSize is as high as the words are at the present width.
func (r *itemRenderer) MinSize() fyne.Size {
	return fyne.NewSize(120, r.name.MinSize().Height+float32(len(r.lines))*r.lineHeight()+2)
}

// Layout places the texts, and wraps the words anew at another width.
func (r *itemRenderer) Layout(size fyne.Size) {
	if size.Width > 0 && size.Width != r.i.wrapped {
		before := len(r.lines)
		r.i.wrapped = size.Width
		r.wrap()
		if len(r.lines) != before {
			canvas.Refresh(r.i) // the parent asks for the height anew
		}
	}
	r.bar.Resize(fyne.NewSize(3, size.Height-2))
	r.name.Move(fyne.NewPos(itemLeft, 0))
	r.name.Resize(r.name.MinSize())
	f := r.figure.MinSize()
	r.figure.Move(fyne.NewPos(size.Width-f.Width, 0))
	r.figure.Resize(f)
	y, h := r.name.MinSize().Height, r.lineHeight()
	for n, l := range r.lines {
		l.Move(fyne.NewPos(itemLeft, y+float32(n)*h))
		l.Resize(l.MinSize())
	}
}

// Refresh takes the theme's colours.
func (r *itemRenderer) Refresh() {
	r.name.TextStyle.Bold, r.figure.TextStyle.Bold = r.i.on, r.i.on
	write(r.name, r.i.name, theme.ColorNameForeground, theme.SizeNameText)
	write(r.figure, r.i.figure, theme.ColorNameForeground, theme.SizeNameText)
	paint(r.bar, theme.Color(theme.ColorNamePrimary), nil, 0)
	r.bar.Hidden = !r.i.on
	r.wrap()
	r.Layout(r.i.Size())
	canvas.Refresh(r.i)
}

func (r *itemRenderer) wrap() {
	var lines []string
	if r.i.words != "" {
		lines = Wrap(r.i.words, r.i.wrapped-itemLeft-2, theme.Size(look.SizeLabel), fyne.TextStyle{})
	}
	for len(r.lines) < len(lines) {
		r.lines = append(r.lines, canvas.NewText("", nil))
	}
	r.lines = r.lines[:len(lines)]
	for n, l := range lines {
		write(r.lines[n], l, look.ColorQuiet, look.SizeLabel)
	}
}
