package teachpanel

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/sheetview"
	"legwright/app/units"
	"legwright/canvas/view"
)

// stage joins the lesson to the plan and the sheet. While the panel is in front, the line
// of the lesson, the selected leg or sight and the reading that waits to be kept are one
// and the same: whichever changes leads the others.
type stage struct {
	n         *Needs
	front     bool
	leads     bool              // the lesson leads now; what it changes does not lead it back
	concealed bool              // figures are hidden on the bench too
	redraw    func()            // draws what the panel adds to the sheet
	top       fyne.CanvasObject // of the panel, to scroll to
}

// newStage returns the stage, with the plan's lines as the row of the lesson.
func newStage(n *Needs) *stage {
	st := &stage{n: n}
	st.fillRow()
	n.View.Offer().OnChange(st.offered)
	return st
}

// fillRow gives the lesson the plan's legs and sights in order.
func (st *stage) fillRow() { st.n.Lesson.SetRow(teach.RowOf(st.n.Session.Plan())) }

// lineByID is the leg or sight of an ID as a line.
func (st *stage) lineByID(id plan.ID) (teach.Line, bool) {
	for _, l := range st.n.Lesson.Row() {
		if l.ID == id {
			return l, true
		}
	}
	return teach.Line{}, false
}

// planChanged follows a change of the plan or of what is selected.
func (st *stage) planChanged(c session.Change) {
	if c.What.Has(session.Readings) {
		leads := st.leads
		st.leads = true // what is selected now leads
		st.fillRow()
		st.leads = leads
	}
	if st.front && !st.leads && c.What.Has(session.SelectionChanged) {
		st.followSelection()
	}
}

// followSelection makes the selected leg or sight the line of the lesson. A line that is
// not selected any more goes.
func (st *stage) followSelection() {
	if line, ok := st.lineByID(st.n.Session.Selection().ID); ok {
		st.n.Lesson.Show(line)
		return
	}
	if line, ok := st.n.Lesson.Line(); ok && line.ID != "" {
		st.n.Lesson.Clear()
	}
}

// drag makes the line that is dragged that of the lesson.
func (st *stage) drag(d sheetview.Drag) {
	if !d.Read {
		st.n.Lesson.Clear()
		return
	}
	st.n.Lesson.Show(teach.Line{Name: drawnName, From: d.From, To: d.To})
	if d.Released {
		st.lead()
	}
}

// drawnName is the name of a line that is none of the plan's. It must not tell where the
// line ends.
const drawnName = "line just drawn"

// offered takes a drawn line out of the lesson once it has been discarded.
func (st *stage) offered() {
	line, ok := st.n.Lesson.Line()
	if ok && st.front && !st.leads && line.ID == "" && !st.n.View.Offer().On() {
		st.n.Lesson.Clear()
	}
}

// lead has the plan and the sheet follow the lesson: its line is selected, and another
// one that waits to be kept is discarded.
func (st *stage) lead() {
	if !st.front || st.leads {
		return
	}
	st.leads = true
	defer func() { st.leads = false }()
	line, ok := st.n.Lesson.Line()
	offer := st.n.View.Offer()
	if offer.On() && (!ok || line.ID != "") {
		st.n.View.Discard()
	}
	if !ok || line.ID == "" {
		if kind := st.n.Session.Selection().Kind; kind == plan.OfLeg || kind == plan.OfSight {
			st.n.Session.Select("")
		}
		return
	}
	if st.n.Session.Selection().ID != line.ID {
		st.n.Session.Select(line.ID)
		st.find(line)
	}
}

// Parts of the map area's shorter side: how long a line must be seen for a group to look
// at it, and how far its start must lie from the edges for north lines to be seen.
const (
	leastSeen = 0.2
	startRoom = 0.28
)

// find brings a line into sight with the ground around its start, where north lines and
// guesses are drawn. A line that is seen well stays where it is.
func (st *stage) find(line teach.Line) {
	k, _ := st.n.View.Sketch()
	a, on := k.End(line.From)
	b, too := k.End(line.To)
	if sheet, ok := st.n.Session.Sheet(); !ok || !on || !too || !within(a, sheet) || !within(b, sheet) {
		st.n.Host.Find(line.ID) // on another sheet, perhaps
		return
	}
	v := st.n.View.Area().View()
	w, h := v.Viewport()
	side := float64(min(w, h)) / v.Scale()
	large := a.Dist(b) >= leastSeen*side
	near, around := cross(a, startRoom*side), cross(a, a.Dist(b))
	if large && st.n.View.InView(b) && !slices.ContainsFunc(near, func(p view.PicPt) bool { return !st.n.View.InView(p) }) {
		return
	}
	st.n.View.Area().ShowRect(view.RectOf(around...))
}

// cross are the four points so many pixels of the picture left, right, above and below a
// point.
func cross(at view.PicPt, by float64) []view.PicPt {
	return []view.PicPt{{X: at.X - by, Y: at.Y}, {X: at.X + by, Y: at.Y}, {X: at.X, Y: at.Y - by}, {X: at.X, Y: at.Y + by}}
}

// within reports whether a point lies on the picture of a sheet.
func within(p view.PicPt, s plan.Sheet) bool {
	return p.X >= 0 && p.Y >= 0 && p.X <= float64(s.Width) && p.Y <= float64(s.Height)
}

// show tells the stage that the panel came to the front, or went. At the front the
// selected leg or sight is the line; without one the lesson goes on where it was.
func (st *stage) show(on bool) {
	st.front = on
	if !on {
		return
	}
	if line, ok := st.lineByID(st.n.Session.Selection().ID); ok {
		st.n.Lesson.Show(line)
		return
	}
	if line, ok := st.n.Lesson.Line(); ok && line.ID == "" && !st.n.View.Offer().On() {
		st.n.Lesson.Clear()
		return
	}
	st.lead()
}

// reading is that of the line of the lesson, with the training GMA where one is
// declared. It reports false without a line, and where nothing can be read.
func (st *stage) reading() (leg.Reading, bool) {
	r, err := st.n.Lesson.Read(st.n.Session.Reader())
	return r, err == nil
}

// trained is a reading as it is shown: with the training GMA where one is declared.
func (st *stage) trained(r leg.Reading) leg.Reading {
	if g, ok := st.n.Lesson.Training(); ok {
		return teach.Trained(r, g, st.circle())
	}
	return r
}

// circle is how the party's compass is graduated.
func (st *stage) circle() units.Circle { return st.n.Session.Plan().Party.Compass.Circle }

// next shows what is hidden, or else goes to the next line of the plan.
func (st *stage) next() {
	n, of := st.n.Lesson.Place()
	_, on := st.n.Lesson.Line()
	switch {
	case of == 0 && !on:
		st.n.urge("The plan has no leg or sight yet. Drag a line on the sheet.")
	case n != of || st.n.Lesson.Hidden() || !on || st.stepsOn():
	case of == 0:
		st.n.urge("The plan has no leg or sight yet. Drag another line on the sheet.")
	default:
		st.n.urge("That was the last line. Page Up goes back.")
	}
	st.n.Lesson.Next()
}

// stepsOn reports whether the compass has a step left to show.
func (st *stage) stepsOn() bool {
	s, on := st.n.Lesson.Stepping()
	return on && s.Step < teach.LastStep
}

// previous takes back a step of the compass, or goes to the line before.
func (st *stage) previous() {
	s, steps := st.n.Lesson.Stepping()
	if n, _ := st.n.Lesson.Place(); n == 1 && !(steps && s.Step > 0) {
		st.n.urge("This is the first line.")
	}
	st.n.Lesson.Previous()
}

// toggleHidden hides the figures wherever the group can see, or shows them.
func (st *stage) toggleHidden() { st.n.Lesson.SetHidden(!st.n.Lesson.Hidden()) }

// answer shows the figures.
func (st *stage) answer() {
	if _, ok := st.n.Lesson.Line(); !ok {
		st.n.refuse(teach.ErrNoLine)
		return
	}
	st.n.Lesson.SetHidden(false)
}
