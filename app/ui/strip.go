package ui

import (
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// strip is the small offer that appears when a dragged bearing is let go:
// keep it as a leg, keep it as a sight, or let it go.
type strip struct {
	body             *widgets.Surface
	words            *widget.Label
	leg, sight, drop *widgets.Tool
	figures          []string // of the reading, from long to short
}

// newStrip returns a hidden strip with its three answers.
func newStrip(leg, sight, drop func()) *strip {
	s := &strip{words: widget.NewLabel("")}
	s.leg = widgets.NewTextTool("", "Keep as leg  (L)", "Add this line to the route as its next leg", leg)
	s.sight = widgets.NewTextTool("", "Keep as sight  (S)", "Keep the reading without walking it", sight)
	s.drop = widgets.NewTextTool("", "Let go  (Esc)", "Forget the reading", drop)
	s.body = widgets.NewStrip(container.NewHBox(s.words, s.leg, s.sight, s.drop))
	s.body.Hide()
	return s
}

// offer shows the strip with the reading's figures, of which fit chooses.
func (s *strip) offer(figures []string) {
	s.figures = figures
	s.words.SetText(figures[0])
	s.body.Show()
}

// fit writes the longest of the figures with which the strip is no wider than
// the room it has: they stand on the dial as well, its answers nowhere else.
func (s *strip) fit(room float32) {
	for _, text := range s.figures {
		if s.words.Text != text {
			s.words.SetText(text)
		}
		if s.body.MinSize().Width <= room {
			return
		}
	}
}

// Hide takes the offer away.
func (s *strip) Hide() { s.body.Hide() }

// Visible reports whether something is offered.
func (s *strip) Visible() bool { return s.body.Visible() }
