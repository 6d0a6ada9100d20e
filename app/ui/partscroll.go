package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// partScroll is a part of the panel that scrolls by itself where it is too high
// for its room. A wheel over it that it has no use for, because all of it is seen
// or its end is reached, turns the panel that it stands in: the toolkit gives a
// wheel to the innermost alone.
type partScroll struct {
	container.Scroll
	outer func() *container.Scroll // may return nil
}

func newPartScroll(content fyne.CanvasObject, outer func() *container.Scroll) *partScroll {
	s := &partScroll{outer: outer}
	s.Content, s.Direction = content, container.ScrollVerticalOnly
	s.ExtendBaseWidget(s)
	return s
}

// Scrolled turns the part, or what it stands in.
func (s *partScroll) Scrolled(e *fyne.ScrollEvent) {
	before := s.Offset
	s.Scroll.Scrolled(e)
	if outer := s.outer(); s.Offset == before && outer != nil {
		outer.Scrolled(e)
	}
}

// panelScroll is what the parts of the panel scroll in, once there is a panel.
func (b *Bench) panelScroll() *container.Scroll {
	if b.panel == nil {
		return nil
	}
	return b.panel.layout.inner
}

// reveal turns a scroll until the lower end of something in it is seen.
func reveal(s *container.Scroll, o fyne.CanvasObject) {
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	over := place(o).Y + o.MinSize().Height - place(s).Y - s.Size().Height
	if over > 0 {
		s.ScrollToOffset(fyne.NewPos(0, s.Offset.Y+over))
	}
}
