package escapepanel

import (
	"math"

	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// goesOn is where the way off that is being made goes on: from the end of the selected one,
// or from the selected mark.
func (x *waysOff) goesOn() (plan.End, bool) {
	s := x.p.n.Session
	if e, ok := s.Plan().EscapeByID(x.id()); ok {
		return e.End(), true
	}
	m, ok := s.Plan().MarkByID(x.id())
	return plan.AtMark(m), ok && m.InCloud
}

// click takes a drawn line that is clicked while a way off is being made as its next leg,
// up to where it was clicked. Else it selects, or finds with two clicks.
func (x *waysOff) click(at tool.Spot, double bool) {
	n := x.p.n
	from, on := x.goesOn()
	switch {
	case double && at.Target.Part != tool.Nothing:
		n.Host.Find(at.Target.ID)
	case double:
		n.View.NewMark(at.At)
	case on && at.Target.Kind == plan.OfLine:
		x.along(from, at)
	default:
		n.Session.Select(at.Target.ID)
	}
}

// along keeps the stretch of a line from where the way off ends to a spot on it.
func (x *waysOff) along(from plan.End, at tool.Spot) {
	n := x.p.n
	if at.Target.Part == tool.Line {
		at.At = onLine(n.View.Scene(), at)
	}
	to, err := n.View.EndAt(at)
	if err == nil {
		_, err = n.Session.KeepEscape(from, to, at.Target.ID)
	}
	n.Foot.Try(err, "Kept: it follows "+n.Session.Plan().TitleOf(at.Target.ID)+" up to there. Undo removes it.")
}

// onLine is the point of a line that is nearest to where it was clicked.
func onLine(s overlay.Scene, at tool.Spot) view.PicPt {
	out := at.At
	s.Paths(func(p overlay.Path) {
		if i := at.Target.Index; p.ID == at.Target.ID && i+1 < len(p.Points) {
			out = nearest(at.At, p.Points[i], p.Points[i+1])
		}
	})
	return out
}

// nearest is the point nearest to p between a and b.
func nearest(p, a, b view.PicPt) view.PicPt {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := ((p.X-a.X)*dx + (p.Y-a.Y)*dy) / math.Max(dx*dx+dy*dy, 1e-12)
	t = min(max(t, 0), 1)
	return view.PicPt{X: a.X + t*dx, Y: a.Y + t*dy}
}
