package teachpanel

import (
	"legwright/app/ui/lessondraw"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// bringLed brings the end of where a slip leads into sight, if it lies on the sheet.
func (st *stage) bringLed() {
	r, ok := st.reading()
	k, on := st.n.View.Sketch()
	sheet, open := st.n.Session.Sheet()
	if !ok || !on || !open {
		return
	}
	l := lessondraw.Of(k, st.n.Lesson, r, st.n.Session.Plan().Party.Compass)
	for _, e := range l.Led {
		if within(e.To, sheet) && !st.n.View.InView(e.To) {
			st.n.View.Area().ShowRect(view.RectOf(l.Line.From, l.Line.To, e.To))
		}
	}
}

// draw adds the lesson to the drawing of the sheet.
func (st *stage) draw(s *overlay.Scene) {
	r, ok := st.reading()
	if k, on := st.n.View.Sketch(); ok && on {
		s.Lesson = lessondraw.Of(k, st.n.Lesson, r, st.n.Session.Plan().Party.Compass)
	}
}
