package escapepanel

import (
	"fmt"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// task is a shape to be drawn.
type task struct {
	what   string // "crag", for people
	closed bool   // an area
	least  int    // points that it needs
	most   int    // points that it can have, 0 for any number
	add    func([]plan.Position) (plan.ID, error)
}

// drawer draws one shape, click by click. It holds the sheet's tool while it is at work.
type drawer struct {
	n       *Needs
	changed func() // it began, went on or ended
	redraw  func() // of what it adds to the drawing
	task    *task  // nil while nothing is drawn
	points  []placed
	pointer *view.PicPt // where it is over the sheet; nil while that is not known
}

// placed is a point that was clicked: its position, and where it lies in the picture.
type placed struct {
	pos plan.Position
	at  view.PicPt
}

func newDrawer(n *Needs, changed func()) *drawer {
	d := &drawer{n: n, changed: changed}
	d.redraw = n.View.AddLayer(d.layer)
	return d
}

// on reports whether something is being drawn.
func (d *drawer) on() bool { return d.task != nil }

// begin begins a shape; one that is being drawn is discarded.
func (d *drawer) begin(t task) {
	if _, err := d.n.Session.Calibration(); err != nil {
		d.n.Foot.Fail(err)
		return
	}
	d.task, d.points, d.pointer = &t, nil, nil
	d.n.Session.Select("")
	d.changed()
	d.redraw()
	d.n.View.Focus()
}

// cancel discards what is being drawn.
func (d *drawer) cancel() {
	if d.task == nil {
		return
	}
	d.task, d.points = nil, nil
	d.changed()
	d.redraw()
}

// takeBack removes the last point.
func (d *drawer) takeBack() {
	if n := len(d.points); n > 0 {
		d.points = d.points[:n-1]
	}
	d.changed()
	d.redraw()
	d.n.View.Focus()
}

// finish adds the shape to the plan. What cannot be added stays to be drawn on.
func (d *drawer) finish() bool {
	t := d.task
	if t == nil {
		return false
	}
	if have := len(d.points); have < t.least {
		d.n.Foot.Say(t.lacks(t.least - have))
		return true
	}
	points := make([]plan.Position, len(d.points))
	for i, p := range d.points {
		points[i] = p.pos
	}
	d.task = nil // the session's change shows that nothing is drawn any more
	if _, err := t.add(points); !d.n.Foot.Try(err, "Drawn. Name it in the panel.") {
		d.task = t
		return true
	}
	d.points = nil
	d.changed()
	d.redraw()
	return true
}

// tool is what it makes of the sheet.
func (d *drawer) tool() sheetview.Tool {
	return sheetview.Tool{Kind: tool.Select, Click: d.click, Accept: d.finish, Key: d.key, Hover: d.hover}
}

// click adds a point. A double click, one on the last point again, and around an area one
// on the first, end the shape.
func (d *drawer) click(at tool.Spot, double bool) {
	if double || d.comesBack(at.At) {
		d.finish()
		return
	}
	if at.Target.Part != tool.Point {
		if _, err := d.n.View.PositionAt(at.At); err != nil { // off the picture
			d.n.Foot.Fail(err)
			return
		}
	}
	end, err := d.n.View.EndAt(at)
	if err != nil {
		d.n.Foot.Fail(err)
		return
	}
	d.points = append(d.points, placed{d.n.Session.Plan().Resolve(end), at.At})
	if d.task.most > 0 && len(d.points) == d.task.most {
		d.finish()
		return
	}
	d.changed()
	d.redraw()
}

// comesBack reports whether a click ends the shape.
func (d *drawer) comesBack(at view.PicPt) bool {
	n := len(d.points)
	if n == 0 {
		return false
	}
	scale := d.n.View.Area().View().Scale()
	near := func(p placed, px float64) bool { return p.at.Dist(at)*scale <= px }
	return near(d.points[n-1], 1) || d.task.closed && n >= d.task.least && near(d.points[0], tool.SnapRadius)
}

// hover follows the pointer.
func (d *drawer) hover(at tool.Spot) {
	d.pointer = &at.At
	d.redraw()
}

// key takes the keys of the drawer: Backspace and Escape.
func (d *drawer) key(e *fyne.KeyEvent) bool {
	if !d.on() {
		return false
	}
	switch e.Name {
	case fyne.KeyBackspace, fyne.KeyDelete:
		d.takeBack()
	case fyne.KeyEscape:
		d.cancel()
	default:
		return false
	}
	return true
}

// layer adds what is being drawn to the drawing of the sheet.
func (d *drawer) layer(s *overlay.Scene) {
	if !d.on() || len(d.points) == 0 {
		return
	}
	for _, p := range d.points {
		s.Drawn.Points = append(s.Drawn.Points, p.at)
	}
	if d.pointer != nil {
		s.Drawn.Points = append(s.Drawn.Points, *d.pointer)
	}
	s.Drawn.Closed = d.task.closed
}

// next says what to do.
func (d *drawer) next() string {
	switch have := len(d.points); {
	case d.task.most == 1:
		return "Click where the " + d.task.what + " is. Esc cancels."
	case have < d.task.least && d.task.closed:
		return "Click the corners of the " + d.task.what + " one after the other, all the way round. Esc cancels."
	case have < d.task.least:
		return "Click along the " + d.task.what + ", point by point. Esc cancels."
	}
	return "Return or a double click ends the " + d.task.what + ". Backspace removes the last point, Esc cancels."
}

// lacks says how many points are still to be clicked.
func (t *task) lacks(n int) string {
	switch {
	case t.most == 1:
		return "Click where the " + t.what + " is."
	case t.closed:
		return fmt.Sprintf("Click %s: an area needs at least %d.", morePoints(n), t.least)
	}
	return fmt.Sprintf("Click %s: a line needs at least %d.", morePoints(n), t.least)
}

func morePoints(n int) string {
	if n == 1 {
		return "1 more point"
	}
	return fmt.Sprintf("%d more points", n)
}
