package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// NestedScroll scrolls its content, and inside a larger scroll area passes on
// the wheel that it has no use for: when all of its content shows, or its end is
// reached. The toolkit gives the wheel to the innermost area alone.
type NestedScroll struct {
	container.Scroll
	outer func() *container.Scroll
}

// NewNestedScroll returns an area that scrolls vertically. outer returns the
// area around it, or nil while there is none.
func NewNestedScroll(content fyne.CanvasObject, outer func() *container.Scroll) *NestedScroll {
	s := &NestedScroll{outer: outer}
	s.Content, s.Direction = content, container.ScrollVerticalOnly
	s.ExtendBaseWidget(s)
	return s
}

// Scrolled scrolls this area or the one around it; Fyne calls it.
func (s *NestedScroll) Scrolled(e *fyne.ScrollEvent) {
	before := s.Offset
	s.Scroll.Scrolled(e)
	if outer := s.outer(); s.Offset == before && outer != nil {
		outer.Scrolled(e)
	}
}

// Arrange gives the content its place again, see ArrangeIn.
func (s *NestedScroll) Arrange() { ArrangeIn(&s.Scroll) }

// ArrangeIn gives what scrolls its place again after parts of it came, went or became another
// size, see Arrange. Content that became lower does not stay scrolled away.
func ArrangeIn(s *container.Scroll) {
	c, ok := s.Content.(*fyne.Container)
	if !ok {
		s.Refresh()
		return
	}
	for range 2 { // words that wrap know their height once they have a width
		c.Resize(c.MinSize().Max(s.Size()))
		Arrange(c)
	}
	if most := max(c.Size().Height-s.Size().Height, 0); s.Offset.Y > most {
		s.ScrollToOffset(fyne.NewPos(0, most))
	}
}

// Reveal scrolls until o, which stands in s, shows, or its upper part if it is higher than s.
func Reveal(s *container.Scroll, o fyne.CanvasObject) {
	position := fyne.CurrentApp().Driver().AbsolutePositionForObject
	over := position(o).Y + o.MinSize().Height - position(s).Y - s.Size().Height
	if over > 0 {
		s.ScrollToOffset(fyne.NewPos(0, s.Offset.Y+over))
	}
	if above := position(s).Y - position(o).Y; above > 0 {
		s.ScrollToOffset(fyne.NewPos(0, s.Offset.Y-above))
	}
}
