package teachpanel

import (
	"legwright/app/ui/lessondraw"
	"legwright/canvas/overlay"
)

// draw adds the lesson to the drawing of the sheet.
func (st *stage) draw(s *overlay.Scene) {
	r, ok := st.reading()
	if k, on := st.n.View.Sketch(); ok && on {
		s.Lesson = lessondraw.Of(k, st.n.Lesson, r, st.circle())
	}
}
