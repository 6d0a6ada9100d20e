package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Chooser offers a few words side by side, of which one holds. The left and
// right keys choose while it has the focus.
type Chooser struct {
	widget.DisableableWidget
	// OnChosen is called with the place of what the user chose.
	OnChosen func(index int)

	options []string
	chosen  int
	hovered int
	focused bool
}

var (
	_ desktop.Hoverable = (*Chooser)(nil)
	_ fyne.Focusable    = (*Chooser)(nil)
	_ fyne.Tappable     = (*Chooser)(nil)
)

// NewChooser returns a chooser with the first of its options chosen.
func NewChooser(options []string, chosen func(index int)) *Chooser {
	c := &Chooser{options: options, hovered: -1, OnChosen: chosen}
	c.ExtendBaseWidget(c)
	return c
}

// Chosen returns the place of what holds now.
func (c *Chooser) Chosen() int { return c.chosen }

// SetChosen makes an option hold without calling OnChosen. A place outside the
// options chooses nothing.
func (c *Chooser) SetChosen(index int) {
	if c.chosen != index {
		c.chosen = index
		c.Refresh()
	}
}

func (c *Chooser) choose(index int) {
	if c.Disabled() || index < 0 || index >= len(c.options) || index == c.chosen {
		return
	}
	c.SetChosen(index)
	if c.OnChosen != nil {
		c.OnChosen(index)
	}
}

// at returns the option under a place in the widget.
func (c *Chooser) at(p fyne.Position) int {
	if len(c.options) == 0 || c.Size().Width <= 0 {
		return -1
	}
	for i, edge := range c.edges()[1:] {
		if p.X < edge {
			return i
		}
	}
	return len(c.options) - 1
}

// edges are the borders of the options from left to right. All are of one width where
// every text has room in it; else the spare room is shared out.
func (c *Chooser) edges() []float32 {
	const pad = 4
	out := make([]float32, len(c.options)+1)
	w, spare, even := c.Size().Width/float32(max(1, len(c.options))), c.Size().Width, true
	texts := make([]float32, len(c.options))
	for i, text := range c.options {
		texts[i] = fyne.MeasureText(text, theme.Size(theme.SizeNameText), fyne.TextStyle{}).Width
		spare, even = spare-texts[i], even && texts[i]+pad <= w
	}
	for i, text := range texts {
		out[i+1] = out[i] + w
		if !even {
			out[i+1] = out[i] + text + spare/float32(len(texts))
		}
	}
	return out
}

// Tapped chooses; Fyne calls it.
func (c *Chooser) Tapped(e *fyne.PointEvent) { c.choose(c.at(e.Position)) }

// MouseIn follows the pointer; Fyne calls it.
func (c *Chooser) MouseIn(e *desktop.MouseEvent) { c.hoverAt(c.at(e.Position)) }

// MouseMoved follows the pointer; Fyne calls it.
func (c *Chooser) MouseMoved(e *desktop.MouseEvent) { c.hoverAt(c.at(e.Position)) }

// MouseOut ends what MouseIn began.
func (c *Chooser) MouseOut() { c.hoverAt(-1) }

func (c *Chooser) hoverAt(i int) {
	if c.hovered != i {
		c.hovered = i
		c.Refresh()
	}
}

// FocusGained shows the focus; Fyne calls it.
func (c *Chooser) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost ends what FocusGained began.
func (c *Chooser) FocusLost() { c.focused = false; c.Refresh() }

// TypedRune leaves letters to the window; Fyne calls it.
func (c *Chooser) TypedRune(r rune) { RuneToWindow(c, r) }

// TypedKey moves the choice, and leaves Return, Escape and a presenter's keys to the window.
func (c *Chooser) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		c.choose(c.chosen - 1)
	case fyne.KeyRight:
		c.choose(c.chosen + 1)
	case fyne.KeyEscape, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyPageUp, fyne.KeyPageDown:
		KeyToWindow(c, e)
	}
}

// CreateRenderer makes the chooser; Fyne calls it.
func (c *Chooser) CreateRenderer() fyne.WidgetRenderer {
	r := &chooserRenderer{chooser: c, frame: canvas.NewRectangle(color.Transparent)}
	r.objects = []fyne.CanvasObject{r.frame}
	for i := range c.options {
		r.washes = append(r.washes, canvas.NewRectangle(color.Transparent))
		r.texts = append(r.texts, canvas.NewText("", nil))
		r.objects = append(r.objects, r.washes[i], r.texts[i])
	}
	r.colour()
	return r
}

type chooserRenderer struct {
	chooser *Chooser
	frame   *canvas.Rectangle
	washes  []*canvas.Rectangle
	texts   []*canvas.Text
	objects []fyne.CanvasObject
}

func (r *chooserRenderer) Destroy() {}

func (r *chooserRenderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *chooserRenderer) MinSize() fyne.Size {
	var widest, tallest float32
	for _, t := range r.texts {
		m := t.MinSize()
		widest, tallest = max(widest, m.Width), max(tallest, m.Height)
	}
	return fyne.NewSize((widest+16)*float32(len(r.texts)), tallest+10)
}

func (r *chooserRenderer) Layout(s fyne.Size) {
	r.frame.Resize(s)
	edges := r.chooser.edges()
	for i, t := range r.texts {
		x, w := edges[i], edges[i+1]-edges[i]
		r.washes[i].Move(fyne.NewPos(x+2, 2))
		r.washes[i].Resize(fyne.NewSize(w-4, s.Height-4))
		m := t.MinSize()
		t.Move(fyne.NewPos(x+(w-m.Width)/2, (s.Height-m.Height)/2))
		t.Resize(m)
	}
}

func (r *chooserRenderer) Refresh() {
	r.colour()
	r.Layout(r.chooser.Size())
}

func (r *chooserRenderer) colour() {
	c := r.chooser
	edge := look.ColorEdge
	if c.focused {
		edge = theme.ColorNamePrimary
	}
	paint(r.frame, color.Transparent, theme.Color(edge), 1)
	for i, t := range r.texts {
		ink, fill := theme.ColorNameForeground, color.Color(color.Transparent)
		switch {
		case c.Disabled():
			ink = theme.ColorNameDisabled
		case i == c.chosen:
			ink, fill = theme.ColorNameForegroundOnPrimary, theme.Color(theme.ColorNamePrimary)
		case i == c.hovered:
			fill = theme.Color(theme.ColorNameHover)
		}
		write(t, c.options[i], ink, theme.SizeNameText)
		paint(r.washes[i], fill, nil, 0)
	}
}
