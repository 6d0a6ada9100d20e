package escapepanel

import (
	"math"
	"slices"

	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// goesOn is where the escape that is being made goes on: from the end of the selected one,
// or from the selected mark.
func (x *waysOff) goesOn() (plan.End, bool) {
	s := x.p.n.Session
	if e, ok := s.Plan().EscapeByID(x.id()); ok {
		return e.End(), true
	}
	m, ok := s.Plan().MarkByID(x.id())
	return plan.AtMark(m), ok && m.InCloud
}

// click takes a drawn line that is clicked while an escape is being made as its next leg,
// up to where it was clicked. Else it selects, or finds with two clicks.
func (x *waysOff) click(at tool.Spot, double bool) {
	n := x.p.n
	from, on := x.goesOn()
	line, leads := x.lineTo(at)
	switch {
	case double:
		n.View.DoubleClick(at)
	case on && leads:
		x.along(from, line)
	default:
		n.Session.Select(at.Target.ID)
	}
}

// lineTo is the spot on a drawn line that a click means: on the line clicked, or where the line at
// which the escape ends meets the haven clicked.
func (x *waysOff) lineTo(at tool.Spot) (tool.Spot, bool) {
	if at.Target.Kind != plan.OfHaven || at.Target.Part != tool.Point {
		return at, at.Target.Kind == plan.OfLine
	}
	scene := x.p.n.View.Scene()
	var end []view.PicPt
	scene.Paths(func(p overlay.Path) {
		if p.ID == x.id() {
			end = p.Points[max(len(p.Points)-1, 0):]
		}
	})
	found := false
	scene.Paths(func(p overlay.Path) {
		meets := slices.IndexFunc(p.Points, func(q view.PicPt) bool { return apart(q, at.At) < onePicturePx })
		if p.Kind == plan.OfLine && meets >= 0 && len(end) > 0 && passes(p.Points, end[0]) && !found {
			at.Target, found = tool.Target{Part: tool.Point, Kind: plan.OfLine, ID: p.ID, Index: meets}, true
		}
	})
	return at, found
}

// onePicturePx is how near positions that were snapped to each other lie at most, in pixels of the
// picture.
const onePicturePx = 1.0

// passes reports whether a line goes through a point.
func passes(line []view.PicPt, p view.PicPt) bool {
	for i := range line[1:] {
		if apart(nearest(p, line[i], line[i+1]), p) < onePicturePx {
			return true
		}
	}
	return false
}

func apart(a, b view.PicPt) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// along keeps the stretch of a line from where the escape ends to a spot on it.
func (x *waysOff) along(from plan.End, at tool.Spot) {
	n := x.p.n
	if at.Target.Part == tool.Line {
		at.At = onLine(n.View.Scene(), at)
	}
	to, err := n.View.EndAt(at)
	if err == nil {
		_, err = n.Session.KeepEscape(from, to, at.Target.ID)
	}
	n.Foot.Try(err, "Kept: the leg follows "+n.Session.Plan().TitleOf(at.Target.ID)+" as far as you clicked. Undo removes the leg.")
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
