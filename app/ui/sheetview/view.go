package sheetview

import (
	"cmp"

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
	// Accept does what Return means while no keyboard cursor is shown, such as the
	// first act that the panel offers, and reports whether there is one; may be nil.
	Accept func() bool
	// Hover hears where the pointer or the keyboard cursor is on the sheet; may be nil.
	Hover func(at tool.Spot)
	// Drag hears of each event of a bearing that is dragged, after the dial and the
	// figures along the line show it, and what the layers add is drawn anew; may be nil.
	Drag func(Drag)
	// Shown makes of a reading what is shown of it, such as one with a GMA that a lesson
	// declares; may be nil. It changes nothing that is kept.
	Shown func(leg.Reading) leg.Reading
	// Off says that a bearing is dragged for an escape, and judged as one against what is
	// drawn on the ground; else as a leg of the route.
	Off bool
	// Key takes a key before the sheet does and reports whether it means something to
	// the panel; may be nil.
	Key func(*fyne.KeyEvent) bool
	// Calibrating draws the control points with their residuals and the grid of
	// the calibration.
	Calibrating bool
}

// View is the room. Make it with New.
type View struct {
	sheet   *sheet
	host    Host
	scene   *scene
	dial    *reading
	offer   *Offer
	move    *mover
	pointer *pointer
	quality *quality
	clicks  *clicker
	drag    *dragged
	takeKey func(*fyne.KeyEvent) bool // of the panel; may be nil
	hover   func(at tool.Spot)        // of the panel; may be nil
	kind    tool.Kind                 // of the panel's tool
	onView  []func()
}

// New makes the room. later runs a function on the main thread once the present
// event is done: fyne.Do.
func New(s *session.Session, line *foot.Line, d *dial.Dial, later func(func()), host Host) *View {
	v := &View{host: host, sheet: &sheet{s: s, line: line}}
	v.sheet.area = mapview.New(v.callbacks())
	v.sheet.area.RunLater(later)
	v.scene = &scene{sheet: v.sheet, later: later, layers: &layers{}}
	v.dial = &reading{sheet: v.sheet, dial: d, keeps: &keeps{sheet: v.sheet}}
	v.dial.keeps.redraw = v.AddLayer(v.dial.keeps.layer)
	v.offer = newOffer(v.sheet, v.dial, host)
	v.drag = &dragged{scene: v.scene, offer: v.offer}
	v.move = &mover{sheet: v.sheet}
	v.pointer = &pointer{sheet: v.sheet}
	v.quality = &quality{sheet: v.sheet}
	v.clicks = &clicker{sheet: v.sheet, host: host, offer: v.offer}
	s.OnChange(v.changed)
	return v
}

// callbacks say what happens on the map area.
func (v *View) callbacks() mapview.Callbacks {
	return mapview.Callbacks{
		OnLive: func(from, to tool.Spot) {
			v.offer.drag(from, to)
			v.drag.live(from, to)
			v.pointer.at(to.At)
		},
		OnRelease: func(_, to tool.Spot) {
			v.offer.release(to.At)
			v.drag.released()
		},
		OnCancel: func() {
			v.move.cancel()
			v.offer.discard()
			v.drag.cancelled()
		},
		OnClick:     func(at tool.Spot, double bool) { v.clicks.click(at, double) },
		OnSecondary: func(at tool.Spot, pos fyne.Position) { v.clicks.openMenu(at, pos) },
		OnMove: func(what, to tool.Spot, done bool) {
			v.sheet.line.Together(func() {
				v.move.drag(what, to, done)
				v.pointer.at(to.At)
			})
		},
		OnHover: func(at tool.Spot, inside bool) {
			if v.pointer.hover(at, inside); inside && v.hover != nil {
				v.hover(at)
			}
		},
		OnViewChanged: func(view.View) {
			v.pointer.showScale()
			for _, f := range v.onView {
				f()
			}
		},
		TakeKey:  func(e *fyne.KeyEvent) bool { return v.takeKey != nil && v.takeKey(e) },
		OnReturn: func() bool { return v.clicks.accept != nil && v.clicks.accept() },
		OnRune:   func(r rune) { v.host.Typed(r, nil) },
		OnKey:    func(e *fyne.KeyEvent) { v.host.Typed(0, e) },
	}
}

// changed shows a change of the session.
func (v *View) changed(c session.Change) {
	if c.What.Has(session.Readings) && v.offer.on {
		v.offer.discard() // it was read on the plan as it was before
	}
	if c.What.Has(session.Readings | session.SheetShown | session.SelectionChanged) {
		v.offer.showSelected()
	}
	if c.What.Has(session.AnySheet) {
		v.sheet.line.Together(func() { v.showSheet(c.Passing()) })
	}
	if c.What.Has(session.AnySheet | session.AnyThing | session.SelectionChanged | session.AnyEscape) {
		v.Redraw()
	}
}

// showSheet shows in the foot line what a change of the sheet touched, and of a passing
// one what is under the pointer alone.
func (v *View) showSheet(passing bool) {
	if !v.move.on { // else the drag itself shows where the pointer is
		v.pointer.again()
	}
	if !passing {
		v.pointer.showScale()
		v.quality.show()
	}
}

// Area is the map area, to be laid out and to go about the sheet.
func (v *View) Area() *mapview.MapView { return v.sheet.area }

// Strip is what offers to keep a reading; it lies over the map area's lower edge.
func (v *View) Strip() *Strip { return v.offer.strip }

// AddLayer adds to each drawing, after what the plan holds. Layers are called in the
// order they were added, never while a preview is shown. What it returns asks for a
// drawing of the layers alone, over the plan as it was drawn last, once the present act
// is over: for what follows the hand.
func (v *View) AddLayer(add func(*overlay.Scene)) (redraw func()) {
	v.scene.layers.add = append(v.scene.layers.add, add)
	return v.scene.askLayers
}

// Redraw asks for a drawing of the plan once the present act is over.
func (v *View) Redraw() { v.scene.ask() }

// Sketch makes parts of a lesson's drawing on the sheet shown, false while that is not
// calibrated.
func (v *View) Sketch() (overlay.Sketch, bool) {
	shown, ok := v.sheet.s.Sheet()
	if !ok || v.sheet.state != usable {
		return overlay.Sketch{}, false
	}
	return overlay.SketchOn(v.sheet.s.Reader(), shown.ID)
}

// Scene is what was drawn last.
func (v *View) Scene() overlay.Scene { return v.scene.layers.drawn }

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
	v.kind, v.clicks.take, v.clicks.accept, v.scene.calibrating = t.Kind, t.Click, t.Accept, t.Calibrating
	v.drag.tell, v.takeKey, v.hover, v.dial.as, v.dial.off = t.Drag, t.Key, t.Hover, t.Shown, t.Off
	v.Discard()
	v.takeTool()
	v.Redraw()
}

// takeTool puts the panel's tool into the hand. A preview can only be moved.
func (v *View) takeTool() {
	if v.Preview() {
		v.sheet.area.SetTool(tool.Pan)
		return
	}
	v.sheet.area.SetTool(v.kind)
}

// ShowPicture shows a picture, or none where p is nil. A preview may be looked at
// only: nothing of the plan is drawn over it and nothing is read from it. Where the
// picture shown before as a preview may now be worked on, it stays as it is seen.
func (v *View) ShowPicture(p *pyramid.Pyramid, asPreview bool) {
	same := p != nil && p == v.sheet.picture
	v.sheet.picture = p
	switch {
	case p == nil:
		v.sheet.state = empty
	case asPreview:
		v.sheet.state = preview
		v.pointer.forget()
	default:
		v.sheet.state = usable
	}
	v.Discard()
	v.takeTool()
	if !same {
		v.sheet.area.SetPicture(p)
	}
	v.pointer.showScale()
	v.Redraw()
}

// OpenHint says how a picture is opened.
const OpenHint = "Open the picture of a map: drop it on the window, or press Ctrl+O."

// Wanted says what is missing while there is no picture that may be worked on, "" for nothing.
func (v *View) Wanted() string {
	switch {
	case v.sheet.state == usable:
		return ""
	case v.Preview():
		return PreviewHint
	}
	return cmp.Or(v.dial.opens, OpenHint)
}

// NotePicture has the foot line say what is wrong with the sheet's picture, and the dial and
// Wanted what is being opened, "" for nothing. It reports whether the second is new.
func (v *View) NotePicture(wrong, opens string) bool {
	v.quality.note = wrong
	v.quality.show()
	if v.dial.opens == opens {
		return false
	}
	v.dial.opens = opens
	v.Redraw()
	return true
}

// Preview reports whether the picture shown may only be looked at.
func (v *View) Preview() bool { return v.sheet.state == preview }

// OnViewChanged adds a function to be called after each pan, zoom and turn.
func (v *View) OnViewChanged(f func()) { v.onView = append(v.onView, f) }

// AddMenu adds entries to the menu of a right click on the sheet.
func (v *View) AddMenu(entries func(at tool.Spot) []*fyne.MenuItem) {
	v.clicks.more = append(v.clicks.more, entries)
}

// Offer is the reading that waits to be kept.
func (v *View) Offer() *Offer { return v.offer }

// Discard throws the offered reading away and shows the selected one again.
func (v *View) Discard() { v.offer.discard() }

// Dragging reports whether a mark, an end or a control point follows the pointer.
func (v *View) Dragging() bool { return v.move.on }

// Focus gives the keyboard to the sheet.
func (v *View) Focus() { v.sheet.focus() }

// PickSigma is the pointer's σ per axis at the present zoom, in picture pixels.
func (v *View) PickSigma() float64 { return v.sheet.pickSigma() }

// PositionAt returns the position of a point of the picture, picked with the
// pointer. The error is that of session.PositionAt, or says that the point lies off
// the picture.
func (v *View) PositionAt(at view.PicPt) (plan.Position, error) { return v.sheet.positionAt(at) }

// EndAt returns the end that a spot means: the mark or the end it snapped to, else
// its own position.
func (v *View) EndAt(at tool.Spot) (plan.End, error) { return v.sheet.endAt(at) }

// InView reports whether a point of the picture is seen.
func (v *View) InView(at view.PicPt) bool {
	p, size := v.sheet.inArea(at), v.sheet.area.Size()
	return p.X >= 0 && p.Y >= 0 && p.X <= size.Width && p.Y <= size.Height
}

// DoubleClick does what two clicks mean: they set a mark at a point or at the end of a leg,
// and find anything else.
func (v *View) DoubleClick(at tool.Spot) { v.clicks.double(at) }

// CopyReference puts the reference of a point of the picture on the clipboard, with
// the stops against it before it and the notes behind it.
func (v *View) CopyReference(at view.PicPt) { v.clicks.copyReference(at) }
