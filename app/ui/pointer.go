package ui

import (
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// pointerSigmaPx is how well a pointer hits, in screen pixels, one standard
// deviation per axis.
const pointerSigmaPx = 0.5

// pickSigma is the pointer's σ in picture pixels at the present zoom.
func (b *Bench) pickSigma() float64 {
	if s := b.sheet.View().Scale(); s > 0 {
		return pointerSigmaPx / s
	}
	return pointerSigmaPx
}

// inView reports whether a place of the picture is seen.
func (b *Bench) inView(at view.PicPt) bool {
	s, size, scale := b.sheet.View().ToScreen(at), b.sheet.Size(), float64(b.window.Canvas().Scale())
	return s.X >= 0 && s.Y >= 0 && s.X <= float64(size.Width)*scale && s.Y <= float64(size.Height)*scale
}

// placeAt is a place of the picture at which something can be set.
func (b *Bench) placeAt(at view.PicPt) (plan.Position, error) {
	if sheet, ok := b.s.Sheet(); ok && !(at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height)) {
		return plan.Position{}, errBeyondEdge
	}
	return b.s.PositionAt(picturePt(at), b.pickSigma())
}

// hover shows where the pointer is.
func (b *Bench) hover(at tool.Spot, inside bool) {
	b.pointed, b.pointedAt = inside, b.sheet.View().ToScreen(at.At)
	b.readPointer(at.At)
}

// readPointer shows the position under the pointer in the foot line.
func (b *Bench) readPointer(at view.PicPt) {
	var p foot.Pointer
	if b.pointed && !b.glimpsed() {
		p.Ref, p.LatLon = b.placeWords(at)
		p.Stopped = caution.Stops(b.cautionsAt(at), caution.Position)
	}
	b.foot.SetPointer(p)
}

// readPointerAgain is readPointer where the pointer has not moved, but perhaps
// the calibration has: no reference of the one before may stand there.
func (b *Bench) readPointerAgain() {
	if b.pointed {
		b.readPointer(b.sheet.View().ToPicture(b.pointedAt))
	}
}

// cautionsAt returns what speaks against what is read at a point of the sheet.
func (b *Bench) cautionsAt(at view.PicPt) []caution.Caution {
	pos, err := b.s.PositionAt(picturePt(at), b.pickSigma())
	if err != nil {
		return nil
	}
	return b.s.Reader().CautionsOf(pos)
}

// placeWords writes the grid reference and the latitude and longitude of a
// position on the sheet, with no digit that is not known, or its pixel while there
// is no calibration.
func (b *Bench) placeWords(at view.PicPt) (ref, latlon string) {
	pos, err := b.s.PositionAt(picturePt(at), b.pickSigma())
	if err != nil {
		return pixelWords(at), ""
	}
	r := b.s.Reader()
	if ref, err = r.Reference(pos); err != nil {
		ref = "off the grid"
	}
	if latlon, err = r.LatLon(pos); err != nil {
		latlon = ""
	}
	return ref, latlon
}

// viewChanged keeps the scale bar right.
func (b *Bench) viewChanged() {
	b.resting.moved()
	metresPerPx := 0.0
	if c, err := b.s.Calibration(); err == nil && !b.glimpsed() && b.sheet.View().Scale() > 0 {
		metresPerPx = c.MetresPerPixel() / b.sheet.View().Scale()
	}
	b.foot.SetScale(metresPerPx)
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

// copyPlace puts the reference of a position on the clipboard, with the stops
// against it before it and the notes behind it.
func (b *Bench) copyPlace(ref string, at view.PicPt) {
	text := referenceWords(ref, b.cautionsAt(at))
	b.app.Clipboard().SetContent(text)
	b.say("Copied " + text + ".")
}

// referenceWords write a reference with what speaks against it: "STOP: control points
// disagree; NL 2745 4314 (sheet unchecked)".
func referenceWords(ref string, list []caution.Caution) string {
	var on []caution.Caution
	for _, c := range list {
		if c.Affects&caution.Position != 0 {
			on = append(on, c)
		}
	}
	if notes := caution.Shorts(caution.OfGrade(on, caution.Note)); notes != nil {
		ref += " (" + strings.Join(notes, ", ") + ")"
	}
	if lead := caution.Lead(on, caution.Position); lead != "" {
		ref = lead + "; " + ref
	}
	return ref
}
