package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
)

// Pages shows a text of many lines as they stand; what is too long for the width goes on in
// the next line. A label for each paragraph measures every line several times, which for
// the licences of all modules takes seconds.
type Pages struct {
	widget.BaseWidget
	text string
	wide float32
}

// NewPages returns a text that is so wide, in DIP.
func NewPages(text string, wide float32) *Pages {
	p := &Pages{text: text, wide: wide}
	p.ExtendBaseWidget(p)
	return p
}

// lines are those that are seen. One is measured only where its letters might need more
// than the width: none is wider than the height of the text.
func (p *Pages) lines() (out []string) {
	size := theme.TextSize()
	for _, line := range strings.Split(lettering.Shown(p.text), "\n") {
		if float32(len([]rune(line)))*size > p.wide && fyne.MeasureText(line, size, fyne.TextStyle{}).Width > p.wide {
			out = append(out, Wrap(line, p.wide, size, fyne.TextStyle{})...)
			continue
		}
		out = append(out, line)
	}
	return out
}

// CreateRenderer makes the text; Fyne calls it.
func (p *Pages) CreateRenderer() fyne.WidgetRenderer {
	r := &renderer{}
	var rows, high float32 // high is a line
	r.refresh = func() {
		high = fyne.MeasureText("Hg", theme.TextSize(), fyne.TextStyle{}).Height + 1
		lines := p.lines()
		rows, r.objects = float32(len(lines)), nil
		for i, line := range lines {
			if line == "" {
				continue
			}
			t := canvas.NewText(line, theme.Color(theme.ColorNameForeground))
			t.TextSize = theme.TextSize()
			t.Move(fyne.NewPos(0, float32(i)*high))
			r.objects = append(r.objects, t)
		}
	}
	r.refresh()
	r.layout = func(size fyne.Size) {
		for _, t := range r.objects {
			t.Resize(fyne.NewSize(size.Width, high))
		}
	}
	r.min = func() fyne.Size { return fyne.NewSize(p.wide, rows*high) }
	return r
}
