package ui

import (
	"fmt"
	"path/filepath"
	"slices"

	"legwright/app/plan"
	"legwright/app/session"
)

// taking is how a picture becomes a sheet of the plan.
type taking func(session.Picture) error

// openSheet opens a picture as a sheet, once it is clear of which plan.
func (b *Bench) openSheet(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	b.whereTo(path, func(use func(loaded)) { b.loadPicture(path, plan.Page{}, b.askPageOf(use)) })
}

// whereTo asks what a picture is to be, unless there is but one thing it can
// be, before anything of it is read: only one large picture is in memory at a
// time.
func (b *Bench) whereTo(path string, open func(use func(loaded))) {
	sheet, ok := b.s.Sheet()
	switch {
	case ok && sheet.Embedded() && len(b.s.Plan().Sheets) == 1:
		b.leaveDemo(open)
	case !ok || b.untouched(sheet) || b.onlySheetOf(path):
		open(b.useSheet)
	default:
		name := b.s.Plan().SheetName(sheet.ID)
		text := fmt.Sprintf("Is %s another sheet of this plan, such as the next panel of a folded map? Marks and legs stay, and a leg may run from one sheet to another.\n\n"+
			"In place of %s it begins without a calibration, and what was picked there keeps its grid coordinates.", filepath.Base(path), name)
		b.question("Which sheet is it?", text, b.leaveDrop,
			answer{Text: "Do not open", Do: b.leaveDrop},
			answer{Text: "New plan", Do: func() { b.guard(func() { open(b.beginWith) }) }},
			answer{Text: "In its place", Do: func() { open(b.useSheet) }},
			answer{Text: "Another sheet", Do: func() { open(b.addSheet) }, Default: true})
	}
}

// onlySheetOf reports whether a path is that of a sheet of the plan, and holds
// no page that could be another.
func (b *Bench) onlySheetOf(path string) bool {
	return slices.ContainsFunc(b.s.Plan().Sheets, func(s plan.Sheet) bool { return s.Picture == path && s.Page == (plan.Page{}) })
}

// nextDropped opens the next of the pictures that were dropped together, as
// another sheet, once the one before it has been opened.
func (b *Bench) nextDropped(opened string) {
	q := b.sheets.queue
	if len(q) < 2 || q[0] != opened {
		return
	}
	if b.dialogOpen() { // something about the one before is to be answered first
		b.sheets.queue, b.sheets.drop = nil, dropState{}
		b.say(fmt.Sprintf("%s %s not opened: drop it again.", b.foot.Message(), leftWords(q[1:])))
		return
	}
	b.sheets.queue = q[1:]
	b.loadPicture(q[1], plan.Page{}, b.askPageOf(b.addSheet))
}

// leftWords names the pictures that were not opened.
func leftWords(paths []string) string {
	if len(paths) == 1 {
		return filepath.Base(paths[0]) + " was"
	}
	return fmt.Sprintf("%s and %d more were", filepath.Base(paths[0]), len(paths)-1)
}

// untouched reports whether nothing would be lost with a sheet: it is not
// calibrated, and nothing was picked on it.
func (b *Bench) untouched(sheet plan.Sheet) bool {
	return len(sheet.Points) == 0 && sheet.World == nil && !b.s.Plan().SheetsUsed()[sheet.ID]
}

// leaveDemo begins a new plan: the demo's legs lie on invented ground and do
// not come along onto a person's own map.
func (b *Bench) leaveDemo(open func(use func(loaded))) {
	if !b.s.Dirty() {
		open(b.useSheet)
		return
	}
	b.question("The demo has been changed",
		"A new plan for your map begins without the demo's marks and legs, and what was changed in the demo is lost.", nil,
		answer{Text: "Stay with the demo"},
		answer{Text: "New plan", Do: func() { open(b.afterDemo) }, Default: true})
}

// afterDemo begins a new plan with a picture, in place of the demo.
func (b *Bench) afterDemo(l loaded) {
	if l.err != nil {
		b.refuseOpening("This picture cannot be opened", l.err)
		return
	}
	b.takeSheetAlone(l)
}

// beginWith begins a new plan with a picture.
func (b *Bench) beginWith(l loaded) {
	if l.err != nil {
		b.refuseOpening("This picture cannot be opened", l.err)
		return
	}
	b.beginPlan()
	b.takeSheet(l, b.s.OpenSheet, b.backTo(b.s.Plan()))
}

// addSheet makes a picture another sheet of the plan.
func (b *Bench) addSheet(l loaded) { b.sheetOf(l, b.s.AddSheet) }

// sheetOf makes a picture a sheet of the plan that is open.
func (b *Bench) sheetOf(l loaded, take taking) {
	if l.err != nil {
		b.refuseOpening("This picture cannot be opened", l.err)
		return
	}
	if was, ok := b.replaced(l); ok { // the same file with another content, not another sheet
		if now, _ := b.s.Sheet(); now.ID != was.ID {
			b.dropPicture()
			b.picture.half = true
			b.try(b.s.ShowSheet(was.ID), "")
		}
		b.askChangedPicture(l)
		return
	}
	b.takeSheet(l, take, b.backTo(b.s.Plan()))
}

// replaced returns the calibrated sheet whose file holds another picture now.
func (b *Bench) replaced(l loaded) (plan.Sheet, bool) {
	for _, s := range b.s.Plan().Sheets {
		if s.Picture == l.path && s.Page == l.page() && s.SHA256 != l.sha() && len(s.Points) > 0 {
			return s, true
		}
	}
	return plan.Sheet{}, false
}

// askSheet finds a picture that becomes another sheet of the plan.
func (b *Bench) askSheet() {
	if _, ok := b.s.Sheet(); !ok {
		b.askOpen()
		return
	}
	b.browse("Another sheet of this plan", "Open", pictureEndings(), func(path string) {
		b.loadPicture(path, plan.Page{}, b.askPageOf(b.addSheet))
	})
}

// showSheet takes another sheet of the plan in hand and shows it. then, which
// may be nil, is done once its picture is there.
func (b *Bench) showSheet(id plan.ID, then func()) {
	if now, _ := b.s.Sheet(); now.ID == id {
		return
	}
	b.sheet.Cancel()
	b.view.Discard()
	if !b.try(b.s.ShowSheet(id), "Sheet: "+b.s.Plan().SheetName(id)+".") {
		return
	}
	b.sheets.arrive = then
	b.followSheet()
}

// followSheet shows the picture of the sheet in hand.
func (b *Bench) followSheet() {
	sheet, _ := b.s.Sheet()
	b.followPicture(sheet)
}

// stepSheet shows the sheet that stands so many places further in the list,
// which begins again at its end.
func (b *Bench) stepSheet(by int) {
	sheets := b.s.Plan().Sheets
	if len(sheets) < 2 {
		b.say("The plan has no other sheet. Add one: Sheet, Another sheet…")
		return
	}
	now, _ := b.s.Sheet()
	i := slices.IndexFunc(sheets, func(s plan.Sheet) bool { return s.ID == now.ID })
	b.showSheet(sheets[(i+by+len(sheets))%len(sheets)].ID, nil)
}

// removeSheet takes a sheet out of the plan.
func (b *Bench) removeSheet(id plan.ID) {
	name := b.s.Plan().SheetName(id)
	b.sheet.Cancel()
	b.view.Discard()
	if b.try(b.s.RemoveSheet(id), name+" is taken out of the plan. Undo brings it back.") {
		b.followSheet()
	}
}

// removeSheetInHand takes the sheet that is shown out of the plan.
func (b *Bench) removeSheetInHand() {
	sheet, ok := b.s.Sheet()
	if !ok {
		b.say("The plan has no sheet.")
		return
	}
	b.removeSheet(sheet.ID)
}
