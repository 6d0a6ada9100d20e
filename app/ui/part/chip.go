package part

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Chip is a flag of a few words, such as "sheet unproved", with a bar of its
// tone at the left.
type Chip struct {
	widget.BaseWidget
	text string
	tone Tone
}

// NewChip returns a chip.
func NewChip(text string, tone Tone) *Chip {
	c := &Chip{text: text, tone: tone}
	c.ExtendBaseWidget(c)
	return c
}

// Set changes the words and the tone.
func (c *Chip) Set(text string, tone Tone) {
	if c.text == text && c.tone == tone {
		return
	}
	c.text, c.tone = text, tone
	c.Refresh()
}

// Text returns the words.
func (c *Chip) Text() string { return c.text }

// CreateRenderer makes the chip; Fyne calls it.
func (c *Chip) CreateRenderer() fyne.WidgetRenderer {
	const bar, inset = 3, 7
	wash, edge := canvas.NewRectangle(color.Transparent), canvas.NewRectangle(color.Transparent)
	text := canvas.NewText("", nil)
	refresh := func() {
		ink, ground := c.tone.colours()
		paint(wash, theme.Color(ground), nil, 0)
		paint(edge, theme.Color(ink), nil, 0)
		write(text, c.text, ink, look.SizeLabel)
	}
	refresh()
	r := &renderer{objects: []fyne.CanvasObject{wash, edge, text}}
	r.layout = func(s fyne.Size) {
		wash.Resize(s)
		edge.Resize(fyne.NewSize(bar, s.Height))
		size := text.MinSize()
		text.Move(fyne.NewPos(bar+inset, (s.Height-size.Height)/2))
		text.Resize(size)
	}
	r.min = func() fyne.Size {
		m := text.MinSize()
		return fyne.NewSize(m.Width+bar+2*inset, m.Height+5)
	}
	r.refresh = func() { refresh(); r.layout(c.Size()) }
	return r
}
