package ui

import (
	"slices"

	"legwright/app/plan"
	"legwright/app/ui/opening"
)

// askSheet finds a picture that becomes another sheet of the plan.
func (b *Bench) askSheet() {
	if _, ok := b.s.Sheet(); !ok {
		b.askOpen()
		return
	}
	b.browse("Another sheet of this plan", "Open", opening.Endings(), b.desk.Add)
}

// showSheet shows another sheet of the plan. The thing, if any, is brought into view
// once the picture is there.
func (b *Bench) showSheet(id, thing plan.ID) {
	if now, _ := b.s.Sheet(); now.ID == id {
		return
	}
	b.sheet.Cancel()
	b.view.Discard()
	b.pictures.seek = sought{thing, id}
	b.try(b.s.ShowSheet(id), "Sheet: "+b.s.Plan().SheetName(id)+".")
}

// stepSheet shows the sheet that stands so many places further in the list, which
// begins again at its end.
func (b *Bench) stepSheet(by int) {
	sheets := b.s.Plan().Sheets
	if len(sheets) < 2 {
		b.say("The plan has no other sheet. Add one: Sheet, Another sheet…")
		return
	}
	now, _ := b.s.Sheet()
	i := slices.IndexFunc(sheets, func(s plan.Sheet) bool { return s.ID == now.ID })
	b.showSheet(sheets[(i+by+len(sheets))%len(sheets)].ID, "")
}

// removeSheet takes a sheet out of the plan.
func (b *Bench) removeSheet(id plan.ID) {
	name := b.s.Plan().SheetName(id)
	b.sheet.Cancel()
	b.view.Discard()
	b.try(b.s.RemoveSheet(id), name+" is taken out of the plan. Undo brings it back.")
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
