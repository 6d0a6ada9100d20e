package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Heading opens a section of a panel: a few bold words, a quiet note at the
// right, and a hairline beneath. A note that leaves no room for the title takes its room, and
// a second line where the heading is high enough; a longer one loses its end, so what speaks
// against something must begin it.
type Heading struct {
	widget.BaseWidget
	title, note string
}

// NewHeading returns a heading without a note.
func NewHeading(title string) *Heading {
	h := &Heading{title: title}
	h.ExtendBaseWidget(h)
	return h
}

// SetTitle changes the words.
func (h *Heading) SetTitle(title string) {
	if h.title != title {
		h.title = title
		h.Refresh()
	}
}

// SetNote changes the quiet note at the right, such as a count.
func (h *Heading) SetNote(note string) {
	if h.note != note {
		h.note = note
		h.Refresh()
	}
}

// CreateRenderer makes the heading; Fyne calls it.
func (h *Heading) CreateRenderer() fyne.WidgetRenderer {
	title, note, more := canvas.NewText("", nil), canvas.NewText("", nil), canvas.NewText("", nil)
	title.TextStyle.Bold = true
	line := NewHair()
	refresh := func() {
		write(title, h.title, theme.ColorNameForeground, theme.SizeNameText)
		write(note, h.note, look.ColorQuiet, look.SizeLabel)
		write(more, "", look.ColorQuiet, look.SizeLabel)
	}
	refresh()
	r := &renderer{objects: []fyne.CanvasObject{title, note, more, line}}
	r.layout = func(s fyne.Size) {
		size, base := baseline(title)
		title.Move(fyne.NewPos(0, 2))
		title.Resize(fyne.NewSize(s.Width, size.Height))
		measure := func(t string) float32 { return fyne.MeasureText(t, note.TextSize, note.TextStyle).Width }
		note.Text, more.Text = h.note, ""
		if s.Height > 2*note.MinSize().Height {
			note.Text, more.Text = inTwo(h.note, s.Width, measure)
		}
		note.Text, more.Text = partsThatFit(note.Text, s.Width, measure), partsThatFit(more.Text, s.Width, measure)
		noteSize, noteBase := baseline(note)
		title.Hidden = h.note != "" && size.Width+theme.Padding()+noteSize.Width > s.Width || more.Text != ""
		y := 2 + base - noteBase
		if more.Hidden = more.Text == ""; !more.Hidden {
			y = 0
		}
		note.Move(fyne.NewPos(s.Width-noteSize.Width, y))
		note.Resize(noteSize)
		more.Move(fyne.NewPos(s.Width-measure(more.Text), noteSize.Height))
		more.Resize(more.MinSize())
		line.Move(fyne.NewPos(0, s.Height-1))
		line.Resize(fyne.NewSize(s.Width, 1))
	}
	r.min = func() fyne.Size {
		t := title.MinSize()
		return fyne.NewSize(t.Width, t.Height+7)
	}
	r.refresh = func() { refresh(); r.layout(h.Size()); line.Refresh() }
	return r
}

// inTwo cuts a text that does not fit into a width after the last of its parts that does.
func inTwo(text string, width float32, measure func(string) float32) (first, rest string) {
	if measure(text) <= width {
		return text, ""
	}
	for i := len(text); ; {
		if i = strings.LastIndex(text[:i], ", "); i < 0 {
			return text, ""
		}
		if first = text[:i+1]; measure(first) <= width {
			return first, text[i+2:]
		}
	}
}

// partsThatFit is a text, without as many of its last parts as do not fit into a width. The
// parts begin after commas; the first one always stays.
func partsThatFit(text string, width float32, measure func(string) float32) string {
	for rest := text; measure(text) > width; text = rest + " …" {
		i := strings.LastIndex(rest, ", ")
		if i < 0 {
			break
		}
		rest = rest[:i]
	}
	return text
}
