package ui

import (
	"legwright/app/plan"
	"legwright/app/ui/files"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
)

// filesHost is the window as the room of files needs it.
type filesHost struct{ b *Bench }

func newFiles(b *Bench, known planfile.Known) *files.Room {
	return files.New(files.Needs{
		Session: b.s, Foot: b.foot, Dialogs: b.dialogs, Desk: b.desk, Settings: files.NewSettings(b.program.app.Preferences()), Known: &known,
		Host: filesHost{b}, Later: b.program.later,
	})
}

// TakeTyping commits the typing that a field of the plan still holds. It reports false
// if the text was refused, which the foot line says.
func (h filesHost) TakeTyping() bool {
	if e, ok := h.b.window.Canvas().Focused().(*widgets.EditField); ok && !e.Commit() {
		return false
	}
	return h.b.ledger.TakeTyping()
}

// PlanOpened shows the panel that a plan begins with.
func (h filesHost) PlanOpened(empty bool) {
	if empty {
		h.b.goTo(panelSheet)
		return
	}
	h.b.goTo(panelRoute)
}

// Busy says that a plan is being opened, or no longer says so.
func (h filesHost) Busy() {
	if b := h.b; b.notePicture() {
		b.showHints()
		b.sheetP.Refresh()
		b.frame.start.refresh()
	}
}

// PictureOpened gives the Sheet panel what the file of a picture says.
func (h filesHost) PictureOpened(r opening.Report) {
	h.b.sheetP.TakeFile(r.File.Found, r.First)
}

// showSheet shows another sheet of the plan. The thing, if any, is brought into view
// once the picture is there.
func (b *Bench) showSheet(id, thing plan.ID) {
	b.pictures.seek = sought{thing, id}
	b.files.Pictures.ShowSheet(id)
}
