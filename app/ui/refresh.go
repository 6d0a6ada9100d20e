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
	b.showHints()
	b.showState()
	b.program.probe.touch()
}

// showHints has the panels say anew what to do next.
func (b *Bench) showHints() {
	b.route.ShowHint()
	b.escapeP.ShowHint()
	b.teach.panel.PictureChanged()
}

// notePicture says what is wrong with the picture that is shown, and what is being opened,
// and reports whether the second is new.
func (b *Bench) notePicture() bool {
	opens, wrong := "", ""
	switch {
	case b.files.Opener.Reading():
		opens = "Opening the plan…"
	case b.openingPicture():
		opens = "Opening the picture…"
	}
	switch {
	case b.Shown().Copy:
		wrong = "picture's file missing"
	case b.desk.Pyramid() == nil && opens == "":
		wrong = "picture not shown"
	}
	return b.view.NotePicture(wrong, opens)
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
