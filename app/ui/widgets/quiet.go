package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// Quiet is a label in the quiet colour, for what is secondary. The toolkit's own label of
// low importance has the colour of what cannot be used, which is too faint to be read. One
// of another importance has that one's colour.
type Quiet struct{ widget.Label }

// NewQuiet returns a quiet label.
func NewQuiet(text string) *Quiet {
	q := &Quiet{}
	q.Text, q.Importance = lettering.Shown(text), widget.LowImportance
	q.ExtendBaseWidget(q)
	return q
}

// NewWrappedQuiet returns a quiet label whose words wrap.
func NewWrappedQuiet(text string) *Quiet {
	q := NewQuiet(text)
	q.Wrapping = fyne.TextWrapWord
	return q
}

// CreateRenderer makes the label; Fyne calls it.
func (q *Quiet) CreateRenderer() fyne.WidgetRenderer {
	r := &quietRenderer{q.Label.CreateRenderer(), q}
	r.colour()
	return r
}

// quietRenderer colours the text after the label has.
type quietRenderer struct {
	fyne.WidgetRenderer
	q *Quiet
}

// Refresh follows the words and the theme; Fyne calls it.
func (r *quietRenderer) Refresh() {
	r.colour()
	r.WidgetRenderer.Refresh()
}

func (r *quietRenderer) colour() {
	if r.q.Importance != widget.LowImportance {
		return
	}
	for _, o := range r.Objects() {
		if text, ok := o.(*widget.RichText); ok {
			text.Segments[0].(*widget.TextSegment).Style.ColorName = look.ColorQuiet
		}
	}
}
