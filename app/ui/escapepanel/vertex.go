package escapepanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// vertex is the point of a hazard, haven, line or area that was clicked last, with what can be
// done with it.
type vertex struct {
	n    *Needs
	id   plan.ID
	at   int // counted from 0, −1 for none
	body *fyne.Container
	note *widgets.Quiet
}

func newVertex(n *Needs) *vertex {
	v := &vertex{n: n, at: -1, note: widgets.NewQuiet("")}
	v.body = container.NewVBox(v.note, container.NewHBox(
		button(n, "", "Add a point", "Add a point half-way to the next one", v.addHalfway),
		button(n, "", "Delete point", "Delete this point  (Delete)", v.remove)))
	v.follow()
	return v
}

// click selects what was clicked, and its point. A double click on a line adds a point
// there, and elsewhere finds the thing.
func (v *vertex) click(at tool.Spot, double bool) {
	id := at.Target.ID
	n, _ := v.n.Session.Plan().Vertices(id)
	switch {
	case double && n > 0 && at.Target.Part == tool.Line:
		v.insert(at)
		return
	case double && at.Target.Part != tool.Nothing:
		v.n.Host.Find(id)
		return
	}
	if v.at = -1; n > 1 && at.Target.Part == tool.Point { // the only point is the thing itself
		v.id, v.at = id, at.Target.Index
	}
	v.n.Session.Select(id)
	v.follow()
}

// insert adds a point where a line was clicked.
func (v *vertex) insert(at tool.Spot) {
	pos, err := v.n.View.PositionAt(at.At)
	if err == nil {
		err = v.n.Session.InsertPoint(at.Target.ID, at.Target.Index+1, pos)
	}
	if v.n.Foot.Try(err, "Point added. Drag it to where it belongs.") {
		v.id, v.at = at.Target.ID, at.Target.Index+1
		v.follow()
	}
}

// addHalfway adds a point between the chosen one and the next, or before the last one of a
// line.
func (v *vertex) addHalfway() {
	t, _ := v.n.Session.Plan().ThingByID(v.id)
	h, _ := v.n.Session.Plan().HazardByID(v.id)
	closed := h.Closed || t.Kind == plan.OfArea
	next, before := v.at+1, v.at+1
	switch {
	case v.at < 0 || v.at >= len(t.Points):
		return
	case len(t.Points) == 1:
		v.n.Foot.Say("This is a single point: no more points can be added.")
		return
	case next == len(t.Points) && closed:
		next = 0
	case next == len(t.Points):
		next, before = v.at-1, v.at
	}
	pos, err := v.between(t.Points[v.at].Position, t.Points[next].Position)
	if err == nil {
		err = v.n.Session.InsertPoint(v.id, before, pos)
	}
	if v.n.Foot.Try(err, "Point added. Drag it to where it belongs.") {
		v.at = before
		v.follow()
	}
}

// between is the position half-way between two others as the sheet shows them.
func (v *vertex) between(a, b plan.Position) (plan.Position, error) {
	c, err := v.n.Session.Calibration()
	if err != nil {
		return plan.Position{}, err
	}
	r := v.n.Session.Reader()
	var sum view.PicPt
	for _, pos := range []plan.Position{a, b} {
		g, _, err := r.Convert(pos, r.System())
		if err != nil {
			return plan.Position{}, err
		}
		at := sheetview.ViewPt(c.ToPicture(g))
		sum.X, sum.Y = sum.X+at.X/2, sum.Y+at.Y/2
	}
	return v.n.View.PositionAt(sum)
}

// remove deletes the chosen point.
func (v *vertex) remove() { v.removeOf(v.id, v.at) }

func (v *vertex) removeOf(id plan.ID, at int) {
	if v.n.Foot.Try(v.n.Session.RemovePoint(id, at), "Point deleted. Undo restores it.") {
		v.at = -1
		v.follow()
	}
}

// follow shows the chosen point, if the selected thing still has it.
func (v *vertex) follow() {
	n, _ := v.n.Session.Plan().Vertices(v.id)
	if v.at >= n || v.id != v.n.Session.Selection().ID {
		v.at = -1
	}
	visible(v.body, v.at >= 0)
	if v.at >= 0 {
		v.note.SetText(fmt.Sprintf("Point %d of %d is chosen.", v.at+1, n))
	}
}

// entries are those of the menu of a right click.
func (v *vertex) entries(at tool.Spot) []*fyne.MenuItem {
	n, _ := v.n.Session.Plan().Vertices(at.Target.ID)
	switch {
	case n == 0:
		return nil
	case at.Target.Part == tool.Line:
		return []*fyne.MenuItem{fyne.NewMenuItem("Add a point here", func() { v.insert(at) })}
	case at.Target.Part == tool.Point && n > 1:
		return []*fyne.MenuItem{fyne.NewMenuItem("Delete this point", func() { v.removeOf(at.Target.ID, at.Target.Index) })}
	}
	return nil
}
