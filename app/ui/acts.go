package ui

import (
	"errors"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/mapview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// mapCallbacks says what happens on the sheet.
func (b *Bench) mapCallbacks() mapview.Callbacks {
	return mapview.Callbacks{
		OnLive:        b.dragLive,
		OnRelease:     b.dragDone,
		OnCancel:      b.cancelled,
		OnClick:       b.click,
		OnSecondary:   b.secondary,
		OnMove:        b.dragThing,
		OnHover:       b.hover,
		OnViewChanged: func(view.View) { b.viewChanged() },
		OnRune:        b.rune,
		OnKey:         b.key,
	}
}

func picturePt(p view.PicPt) calib.PicturePt { return calib.PicturePt{Col: p.X, Row: p.Y} }

func viewPt(p calib.PicturePt) view.PicPt { return view.PicPt{X: p.Col, Y: p.Row} }

// endOf returns the end that a spot on the sheet means: the mark or the end it
// snapped to, else the place itself.
func (b *Bench) endOf(s tool.Spot) (plan.End, error) {
	p, id := b.s.Plan(), plan.ID(s.Target.ID)
	switch s.Target.Part {
	case tool.Mark:
		if m, ok := p.MarkByID(id); ok {
			return plan.AtMark(m), nil
		}
	case tool.LegFrom, tool.LegTo:
		if l, ok := p.LegByID(id); ok {
			return l.End(whichEnd(s.Target.Part)), nil
		}
	case tool.SightFrom, tool.SightTo:
		if l, ok := p.SightByID(id); ok {
			return l.End(whichEnd(s.Target.Part)), nil
		}
	}
	pos, err := b.s.PositionAt(picturePt(s.At), b.pickSigma())
	return plan.AtPosition(pos), err
}

func whichEnd(p tool.Part) plan.Which {
	if p == tool.LegFrom || p == tool.SightFrom {
		return plan.FromEnd
	}
	return plan.ToEnd
}

// dragLive reads the bearing that is being dragged.
func (b *Bench) dragLive(from, to tool.Spot) {
	b.strip.Hide()
	b.offer = offer{}
	if b.glimpsed() {
		return
	}
	if !b.readDrag(from, to) {
		b.sheet.SetLive("", "", from.At, to.At)
	}
}

// readDrag reads between two spots and shows the reading on the dial and
// along the line. It reports whether there was one.
func (b *Bench) readDrag(from, to tool.Spot) bool {
	f, err := b.endOf(from)
	if err != nil {
		b.fail(err)
		return false
	}
	t, err := b.endOf(to)
	if err != nil {
		return false
	}
	r, err := b.s.LiveEnds(f, t)
	if err != nil {
		return false // the drag has not left its start
	}
	b.offer = offer{from: f, to: t}
	c := b.circle()
	b.dial.Display(figuresOf(r, b.s.Plan().Party))
	b.sheet.SetLive(liveFigures(r, c), marked(r.SetFigure(c), r.Stopped()), from.At, to.At)
	return true
}

func (b *Bench) circle() units.Circle { return b.s.Plan().Party.Compass.Circle }

// dragDone offers to keep what was dragged.
func (b *Bench) dragDone(from, to tool.Spot) {
	if b.glimpsed() || !b.readDrag(from, to) {
		b.letGo()
		return
	}
	b.offer.on = true
	r, _ := b.s.LiveEnds(b.offer.from, b.offer.to)
	b.strip.offer(stripFigures(r, b.circle()))
	b.routeP.showSelected()
	b.root.Refresh()
	b.refreshMenus()
	b.probe.touch()
}

// keepLeg keeps the offered reading as a leg.
func (b *Bench) keepLeg() {
	if o := b.offer; o.on {
		b.letGo()
		_, err := b.s.KeepLeg(o.from, o.to)
		b.try(err, "Kept as a leg.")
	}
}

// keepSight keeps the offered reading as a sight.
func (b *Bench) keepSight() {
	if o := b.offer; o.on {
		b.letGo()
		_, err := b.s.KeepSight(o.from, o.to)
		b.try(err, "Kept as a sight.")
	}
}

// letGo forgets what was dragged and shows what is selected again.
func (b *Bench) letGo() {
	b.offer = offer{}
	b.strip.Hide()
	b.sheet.ClearLive()
	b.showSelected()
	b.routeP.showSelected()
	b.refreshMenus()
	b.probe.touch()
}

// click selects, aims, or with two clicks sets a mark.
func (b *Bench) click(at tool.Spot, double bool) {
	b.focusSheet()
	if b.glimpsed() {
		return
	}
	if b.post == postSheet {
		b.sheetP.clicked(at)
		return
	}
	if b.offer.on {
		b.letGo()
	}
	switch {
	case double && at.Target.Part == tool.Nothing:
		b.newMark(at.At)
	case double:
		b.findThing(plan.ID(at.Target.ID))
	default:
		b.s.Select(plan.ID(at.Target.ID))
	}
}

func (b *Bench) focusSheet() { b.window.Canvas().Focus(b.sheet) }

// newMark sets a mark at a place of the sheet and goes to its name.
func (b *Bench) newMark(at view.PicPt) {
	pos, err := b.placeAt(at)
	if err != nil {
		b.fail(err)
		return
	}
	if b.post != postRoute { // its name is typed there
		b.goTo(postRoute)
	}
	if _, err := b.s.AddMark("", pos); b.try(err, "Mark set. Type its name, or leave the letter.") {
		b.routeP.focusName()
	}
}

// dragThing moves a mark, an end or a control point with the pointer. The
// whole drag is one step of undo.
func (b *Bench) dragThing(what, to tool.Spot, done bool) {
	if !b.dragging {
		b.dragging = true
		b.s.BeginDrag()
	}
	err := b.moveThing(what, to)
	if done {
		b.dragging = false
		b.s.EndDrag()
	}
	b.fail(err)
}

// cancelled lets go of what was being dragged: a bearing is forgotten, a
// thing goes back to where it was.
func (b *Bench) cancelled() {
	if b.dragging {
		b.dragging = false
		b.s.CancelDrag()
	}
	b.letGo()
}

func (b *Bench) moveThing(what, to tool.Spot) error {
	id := plan.ID(what.Target.ID)
	switch what.Target.Part {
	case tool.Control:
		return b.s.MoveControlPoint(what.Target.Index, picturePt(to.At))
	case tool.Mark:
		pos, err := b.placeAt(to.At)
		if err != nil {
			return err
		}
		return b.s.MoveMark(id, pos)
	}
	end, err := b.endOf(to)
	if err == nil && end.Mark == "" && to.Target.Part == tool.Nothing {
		_, err = b.placeAt(to.At)
	}
	if err != nil {
		return err
	}
	return b.s.MoveLegEnd(id, whichEnd(what.Target.Part), end)
}

// errBeyondEdge is told where something would be set off the picture: what lies
// there is drawn from other sheets or references, and no feature shows its
// place.
var errBeyondEdge = errors.New("that is beyond the edge of the picture, where no feature shows the place: take the sheet that shows it, or type the reference")
