package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/units"
	"legwright/canvas/mapview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// coarseShiftM is the σ of a datum shift in metres above which latitude and
// longitude bear their ±, as in app/leg.
const coarseShiftM = 1

// pointerSigmaPx is how well a pointer hits, in screen pixels, one standard
// deviation per axis.
const pointerSigmaPx = 0.5

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

// pickSigma is the pointer's σ in picture pixels at the present zoom.
func (b *Bench) pickSigma() float64 {
	if s := b.sheet.View().Scale(); s > 0 {
		return pointerSigmaPx / s
	}
	return pointerSigmaPx
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
		b.sheet.SetLive("", "", from.At, to.At, false)
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
	b.sheet.SetLive(lineFigures(r, c), r.SetFigure(c), from.At, to.At, len(r.Flags) > 0)
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
	b.root.Refresh()
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

// inView reports whether a place of the picture is seen.
func (b *Bench) inView(at view.PicPt) bool {
	s, size, scale := b.sheet.View().ToScreen(at), b.sheet.Size(), float64(b.window.Canvas().Scale())
	return s.X >= 0 && s.Y >= 0 && s.X <= float64(size.Width)*scale && s.Y <= float64(size.Height)*scale
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

// placeAt is a place of the picture at which something can be set.
func (b *Bench) placeAt(at view.PicPt) (plan.Position, error) {
	if sheet, ok := b.s.Sheet(); ok && !(at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height)) {
		return plan.Position{}, errBeyondEdge
	}
	return b.s.PositionAt(picturePt(at), b.pickSigma())
}

// hover shows where the pointer is.
func (b *Bench) hover(at tool.Spot, inside bool) {
	b.footNow.Ref, b.footNow.LatLon, b.footNow.Doubt = "", "", false
	if inside && !b.glimpsed() {
		b.footNow.Ref, b.footNow.LatLon = b.placeWords(at.At)
		b.footNow.Doubt = astray(b.placeFlags(at.At))
	}
	b.foot.show(b.footNow)
}

// placeFlags says why what is read of a place of the sheet cannot be trusted
// fully.
func (b *Bench) placeFlags(at view.PicPt) []leg.Flag {
	pos, err := b.s.PositionAt(picturePt(at), b.pickSigma())
	if err != nil {
		return nil
	}
	return b.s.Reader().FlagsOf(pos)
}

// astray reports whether flags are about the place itself. What is to be said
// of the whole sheet stands in the foot line anyway.
func astray(flags []leg.Flag) bool {
	return slices.ContainsFunc(flags, func(f leg.Flag) bool { return f.Code == leg.OutsidePoints || f.Code == leg.OutsideArea })
}

// placeWords writes the grid reference and the latitude and longitude of a
// place of the sheet, or its pixel while there is no calibration.
func (b *Bench) placeWords(at view.PicPt) (ref, latlon string) {
	c, err := b.s.Calibration()
	sys := b.s.Reader().System()
	if err != nil || sys == nil {
		return pixelWords(at), ""
	}
	g := c.ToGrid(picturePt(at))
	ref, err = sys.FormatRef(g, 8)
	if err != nil {
		ref = "off the grid"
	}
	if ll, shift, err := sys.ToWGS84(g); err == nil {
		latlon = latLonWords(ll)
		switch {
		case shift.Unknown:
			latlon += " ± hundreds of m"
		case shift.SigmaM > coarseShiftM:
			latlon += fmt.Sprintf(" ± %.0f m", 2*shift.SigmaM)
		}
	}
	return ref, latlon
}

// viewChanged keeps the scale bar right.
func (b *Bench) viewChanged() {
	b.resting.moved()
	b.footNow.MetresPerPx = 0
	if c, err := b.s.Calibration(); err == nil && !b.glimpsed() && b.sheet.View().Scale() > 0 {
		b.footNow.MetresPerPx = c.MetresPerPixel() / b.sheet.View().Scale()
	}
	b.foot.show(b.footNow)
	b.sheetP.knows.showTimes()
	b.probe.touch()
}

// secondary opens the menu of what lies under the pointer.
func (b *Bench) secondary(at tool.Spot, pos fyne.Position) {
	if b.picture.pyramid == nil {
		return
	}
	ref, _ := b.placeWords(at.At)
	items := []*fyne.MenuItem{
		fyne.NewMenuItem("New mark here", func() { b.newMark(at.At) }),
		fyne.NewMenuItem("Copy "+ref, func() { b.copyPlace(ref, at.At) }),
	}
	if id := plan.ID(at.Target.ID); id != "" {
		b.s.Select(id)
		items = append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Find on the sheet", func() { b.findThing(id) }))
		if b.s.Selection().Kind == session.OfLeg {
			items = append(items, fyne.NewMenuItem("Turn the leg round", func() { b.try(b.s.ReverseLeg(id), "") }))
		}
		items = append(items, fyne.NewMenuItem("Remove", func() { b.try(b.s.Remove(id), "Removed. Undo brings it back.") }))
	}
	showMenu(b.window.Canvas(), fyne.NewMenu("", items...), pos)
}

// copyPlace puts the reference of a place on the clipboard, and says why it
// cannot be trusted fully where that is so.
func (b *Bench) copyPlace(ref string, at view.PicPt) {
	b.app.Clipboard().SetContent(ref)
	text := "Copied " + ref + "."
	if words := flagWords(b.placeFlags(at)); len(words) > 0 {
		text += " Mind: " + strings.Join(words, ", ") + "."
	}
	b.say(text)
}
