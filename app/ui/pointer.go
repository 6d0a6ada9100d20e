package ui

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
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
	b.foot.show(b.footNow)
}

// readPointer reads the place under the pointer for the foot line, which is
// shown afterwards.
func (b *Bench) readPointer(at view.PicPt) {
	b.footNow.Ref, b.footNow.LatLon, b.footNow.Doubt = "", "", false
	if b.pointed && !b.glimpsed() {
		b.footNow.Ref, b.footNow.LatLon = b.placeWords(at)
		b.footNow.Doubt = astray(b.placeFlags(at))
	}
}

// readPointerAgain is readPointer where the pointer has not moved, but perhaps
// the calibration has: no reference of the one before may stand there.
func (b *Bench) readPointerAgain() {
	if b.pointed {
		b.readPointer(b.sheet.View().ToPicture(b.pointedAt))
	}
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
