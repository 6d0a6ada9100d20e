package sheetview

import (
	"fyne.io/fyne/v2"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/canvas/mapview"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// Host is what the room needs of the window around it.
type Host interface {
	// Find brings a mark, leg or sight into view, on another sheet if it lies there.
	Find(id plan.ID)
	// NameMark goes to the field for the name of the mark that was just set.
	NameMark()
	// MayKeep calls keep now, or after the person has read the general cautions.
	MayKeep(keep func())
	// Typed takes a letter or a key typed on the sheet that means nothing there;
	// e is nil for a letter.
	Typed(r rune, e *fyne.KeyEvent)
}

// Tool is what the panel that is shown makes of the sheet.
type Tool struct {
	Kind tool.Kind // what a drag does
	// Click takes every click. Where it is nil a click selects, a double click
	// finds the thing under it or sets a mark.
	Click func(at tool.Spot, double bool)
	// Calibrating draws the control points with their residuals and the grid of
	// the calibration.
	Calibrating bool
}

// View is the room. Make it with New.
type View struct {
	*sheet
	host    Host
	scene   *scene
	dial    *reading
	offer   *offer
	move    *mover
	pointer *pointer
	tool    Tool
	onView  []func()
	onMenu  []func(at tool.Spot) []*fyne.MenuItem
}

// New makes the room. later runs a function on the main thread once the present
// event is done: fyne.Do.
func New(s *session.Session, line *foot.Line, d *dial.Dial, later func(func()), host Host) *View {
	v := &View{host: host}
	v.sheet = &sheet{s: s, line: line}
	v.area = mapview.New(v.callbacks())
	v.area.RunLater(later)
	v.scene = &scene{sheet: v.sheet, later: later}
	v.dial = &reading{sheet: v.sheet, dial: d}
	v.offer = newOffer(v.sheet, v.dial, host)
	v.move = &mover{sheet: v.sheet}
	v.pointer = &pointer{sheet: v.sheet}
	s.OnChange(v.changed)
	return v
}

// callbacks say what happens on the map area.
func (v *View) callbacks() mapview.Callbacks {
	return mapview.Callbacks{
		OnLive: func(from, to tool.Spot) {
			v.offer.drag(from, to)
			v.pointer.at(to.At)
		},
		OnRelease:   func(tool.Spot, tool.Spot) { v.offer.release() },
		OnCancel:    v.cancelled,
		OnClick:     v.click,
		OnSecondary: v.openMenu,
		OnMove: func(what, to tool.Spot, done bool) {
			v.pointer.follow(to.At)
			v.move.drag(what, to, done)
		},
		OnHover:       func(at tool.Spot, inside bool) { v.pointer.hover(at, inside) },
		OnViewChanged: func(view.View) { v.viewChanged() },
		OnRune:        func(r rune) { v.host.Typed(r, nil) },
		OnKey:         func(e *fyne.KeyEvent) { v.host.Typed(0, e) },
	}
}

// changed shows a change of the session.
func (v *View) changed(c session.Change) {
	if c.What.Has(session.PlanContents) && v.offer.on {
		v.offer.discard() // it was read on the plan as it was before
	}
	if c.What.Has(session.AnySheet) {
		v.showScale()
	}
	v.pointer.again()
	v.showSelected()
	v.Redraw()
}

// Area is the map area, to be laid out and to go about the sheet.
func (v *View) Area() *mapview.MapView { return v.area }

// Strip is what offers to keep a reading; it lies over the map area's lower edge.
func (v *View) Strip() *Strip { return v.offer.strip }

// AddLayer adds to each drawing, after what the plan holds. Layers are called in the
// order they were added, never while a preview is shown.
func (v *View) AddLayer(add func(*overlay.Scene)) { v.scene.layers = append(v.scene.layers, add) }

// Redraw asks for a drawing of the plan once the present act is over.
func (v *View) Redraw() { v.scene.ask() }

// Scene is what was drawn last.
func (v *View) Scene() overlay.Scene { return v.scene.drawn }

// ShowGrid draws the grid of the calibration whatever tool is held, or ends that.
func (v *View) ShowGrid(on bool) {
	v.scene.grid = on
	v.Redraw()
}

// ShowsGrid reports whether ShowGrid is on.
func (v *View) ShowsGrid() bool { return v.scene.grid }

// SetTool gives the sheet to a panel. What was being dragged is cancelled, and a
// reading that was offered is discarded.
func (v *View) SetTool(t Tool) {
	v.tool, v.scene.calibrating = t, t.Calibrating
	v.Discard()
	v.takeTool()
	v.Redraw()
}

// takeTool puts the panel's tool into the hand. A preview can only be moved.
func (v *View) takeTool() {
	if v.state == preview {
		v.area.SetTool(tool.Pan)
		return
	}
	v.area.SetTool(v.tool.Kind)
}

// ShowPicture shows a picture, or none where p is nil. A preview may be looked at
// only: nothing of the plan is drawn over it and nothing is read from it. Where the
// picture shown before as a preview may now be worked on, it stays as it is seen.
func (v *View) ShowPicture(p *pyramid.Pyramid, asPreview bool) {
	same := p != nil && p == v.picture
	v.picture = p
	switch {
	case p == nil:
		v.state = empty
	case asPreview:
		v.state = preview
	default:
		v.state = usable
	}
	if asPreview {
		v.pointer.forget()
	}
	v.Discard()
	v.takeTool()
	if !same {
		v.area.SetPicture(p)
	}
	v.showScale()
	v.Redraw()
}

// viewChanged keeps the scale bar right.
func (v *View) viewChanged() {
	v.showScale()
	for _, f := range v.onView {
		f()
	}
}

// OnViewChanged adds a function to be called after each pan, zoom and turn.
func (v *View) OnViewChanged(f func()) { v.onView = append(v.onView, f) }

// OnOffer adds a function to be called after a reading was offered, kept or
// discarded.
func (v *View) OnOffer(f func()) { v.offer.told = append(v.offer.told, f) }

// Offer returns the reading that waits to be kept, and its ends.
func (v *View) Offer() (from, to plan.End, r leg.Reading, on bool) {
	return v.offer.from, v.offer.to, v.offer.read, v.offer.on
}

// KeepLeg keeps the offered reading as a leg.
func (v *View) KeepLeg() { v.offer.keepLeg() }

// KeepSight keeps the offered reading as a sight.
func (v *View) KeepSight() { v.offer.keepSight() }

// Discard throws the offered reading away and shows the selected one again.
func (v *View) Discard() { v.offer.discard() }

// cancelled ends a drag without effect: a reading is discarded, a thing returns to
// where it was.
func (v *View) cancelled() {
	v.move.cancel()
	v.offer.discard()
}

// Dragging reports whether a mark, an end or a control point follows the pointer.
func (v *View) Dragging() bool { return v.move.on }

// showSelected writes the selected leg or sight onto the dial, unless a reading is
// offered.
func (v *View) showSelected() {
	if !v.offer.on {
		v.dial.showSelected()
	}
}
