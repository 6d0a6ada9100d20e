package sheetview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// Strip appears when a dragged bearing is released, and offers to keep it as a leg, as a
// sight or, where one may begin or go on, as a leg of an escape, or to discard it.
type Strip struct {
	*widgets.Surface
	words                       *widget.Label
	leg, sight, escape, discard *widgets.Tool
	texts                       []string // of the reading, from long to short
	layout                      *stripLayout
	end                         fyne.Position // of the line that was dragged, in the map area
}

// newStrip returns a hidden strip with its answers.
func newStrip(leg, sight, escape, discard func()) *Strip {
	s := &Strip{words: widget.NewLabel("")}
	s.leg = widgets.NewTextTool("", "Keep as leg  (L)", "Add this line to the route as its next leg", leg)
	s.sight = widgets.NewTextTool("", "Keep as sight  (S)", "Keep the reading without adding it to the route", sight)
	s.escape = widgets.NewTextTool("", "Escape  (E)", "Keep this line as a leg of an escape, not of the route", escape)
	s.discard = widgets.NewTextTool("", "Discard  (Esc)", "Discard the reading", discard)
	s.layout = &stripLayout{words: s.words, answers: container.NewHBox(s.leg, s.sight, s.escape, s.discard)}
	s.Surface = widgets.NewStrip(container.New(s.layout, s.words, s.layout.answers))
	s.Hide()
	return s
}

// offer shows the strip with the reading's texts, of which Fit chooses, and with the answer
// to keep it as an escape where it can be one.
func (s *Strip) offer(texts []string, goesOff bool) {
	s.texts = texts
	if goesOff {
		s.escape.Show()
	} else {
		s.escape.Hide()
	}
	widgets.SetText(s.words, texts[0])
	s.Show()
}

// Fit writes the longest of the reading's texts with which the strip is no wider than
// room, in units of the window. Where the longest does not fit beside the answers, the
// text stands above them.
func (s *Strip) Fit(room float32) {
	was := s.layout.above
	defer func() {
		if s.layout.above != was {
			s.Refresh()
		}
	}()
	for i, text := range s.texts {
		for _, above := range []bool{false, true} {
			if s.layout.above = above; (i == 0 || above || text == "") && s.try(text, room) {
				return
			}
		}
	}
}

// try writes a text and reports whether the strip is no wider than room with it.
func (s *Strip) try(text string, room float32) bool {
	widgets.SetText(s.words, text)
	return s.MinSize().Width <= room
}

// endRoom is how far the strip stays from the end of the line, in units of the window.
const endRoom = 24

// Covers reports whether the strip, at a position in the map area and of a size, would
// cover the end of the line that was dragged, where the feature is.
func (s *Strip) Covers(at fyne.Position, size fyne.Size) bool {
	return s.end.X > at.X-endRoom && s.end.X < at.X+size.Width+endRoom && s.end.Y > at.Y-endRoom && s.end.Y < at.Y+size.Height+endRoom
}

// Text is what stands before the answers.
func (s *Strip) Text() string { return s.words.Text }

// Answers are its controls: leg, sight, discard, and escape, which may be hidden.
func (s *Strip) Answers() [4]fyne.CanvasObject {
	return [4]fyne.CanvasObject{s.leg, s.sight, s.discard, s.escape}
}

// stripLayout sets the text beside the answers, or above them.
type stripLayout struct {
	words, answers fyne.CanvasObject
	above          bool
}

// MinSize has room for both.
func (l *stripLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	w, a := l.words.MinSize(), l.answers.MinSize()
	if l.above {
		return fyne.NewSize(max(w.Width, a.Width), w.Height+a.Height)
	}
	return fyne.NewSize(w.Width+a.Width, max(w.Height, a.Height))
}

// Layout places them.
func (l *stripLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	w, a := l.words.MinSize(), l.answers.MinSize()
	if l.above {
		widgets.Put(l.words, 0, 0, size.Width, w.Height)
		widgets.Put(l.answers, 0, w.Height, a.Width, size.Height-w.Height)
		return
	}
	widgets.Put(l.words, 0, (size.Height-w.Height)/2, w.Width, w.Height)
	widgets.Put(l.answers, w.Width, (size.Height-a.Height)/2, a.Width, a.Height)
}
