package sheetview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// Strip appears when a dragged bearing is released, and offers to keep it as a leg,
// to keep it as a sight, or to discard it.
type Strip struct {
	*widgets.Surface
	words               *widget.Label
	leg, sight, discard *widgets.Tool
	texts               []string // of the reading, from long to short
}

// newStrip returns a hidden strip with its three answers.
func newStrip(leg, sight, discard func()) *Strip {
	s := &Strip{words: widget.NewLabel("")}
	s.leg = widgets.NewTextTool("", "Keep as leg  (L)", "Add this line to the route as its next leg", leg)
	s.sight = widgets.NewTextTool("", "Keep as sight  (S)", "Keep the reading; it is not walked", sight)
	s.discard = widgets.NewTextTool("", "Discard  (Esc)", "Throw the reading away", discard)
	s.Surface = widgets.NewStrip(container.NewHBox(s.words, s.leg, s.sight, s.discard))
	s.Hide()
	return s
}

// offer shows the strip with the reading's texts, of which Fit chooses.
func (s *Strip) offer(texts []string) {
	s.texts = texts
	s.words.SetText(texts[0])
	s.Show()
}

// Fit writes the longest of the reading's texts with which the strip is no wider
// than room, in units of the window.
func (s *Strip) Fit(room float32) {
	for _, text := range s.texts {
		if s.words.Text != text {
			s.words.SetText(text)
		}
		if s.MinSize().Width <= room {
			return
		}
	}
}

// Text is what stands before the answers.
func (s *Strip) Text() string { return s.words.Text }

// Answers are the three controls: leg, sight, discard.
func (s *Strip) Answers() [3]fyne.CanvasObject {
	return [3]fyne.CanvasObject{s.leg, s.sight, s.discard}
}
