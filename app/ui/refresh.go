package ui

import (
	"path/filepath"

	"legwright/app/plan"
	"legwright/app/session"
)

// changed shows in the window itself what a change of the session touched: its title
// and its menus. The rooms listen for themselves.
func (b *Bench) changed(c session.Change) {
	b.program.probe.note(c.Step)
	b.program.probe.touch()
	if c.Moving {
		return
	}
	if c.What.Has(session.PlanReplaced) {
		b.pictures.looked = nil
	}
	b.showState()
	b.releaseKeys()
}

// showState shows what the window itself says of the plan and the picture.
func (b *Bench) showState() {
	b.showTitle()
	b.frame.start.refresh()
	b.refreshMenus()
}

// pictureChanged shows in the window itself that another picture is shown, or none.
func (b *Bench) pictureChanged() {
	b.notePicture()
	b.route.ShowHint()
	b.teach.panel.PictureChanged()
	b.showState()
	b.program.probe.touch()
}

// notePicture says in the foot line what is wrong with the picture that is shown.
func (b *Bench) notePicture() {
	switch {
	case b.Shown().Copy:
		b.view.NotePicture("picture's file missing")
	case b.desk.Pyramid() == nil && !b.openingPicture():
		b.view.NotePicture("picture not shown")
	default:
		b.view.NotePicture("")
	}
}

// showTitle names the plan in the window's title, with a dot while there is
// something to save.
func (b *Bench) showTitle() {
	name := b.s.Plan().Title
	if p := b.s.Path(); p != "" {
		name = filepath.Base(p)
	}
	if name == "" {
		name = "new plan"
	}
	if b.s.Dirty() {
		name = "• " + name
	}
	b.window.SetTitle(name + " – Legwright")
}

// selectedID returns the selected thing's ID, or "".
func (b *Bench) selectedID() plan.ID { return b.s.Selection().ID }
