package ui

import (
	"strings"

	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetpanel"
	"legwright/mapio/scan"
)

// useSheet makes a picture the plan's sheet, in place of the one in hand. The
// demo's legs lie on invented ground and do not come along onto a person's own
// map.
func (b *Bench) useSheet(l loaded) {
	sheet, ok := b.s.Sheet()
	switch {
	case l.err != nil || !ok || !sheet.Embedded():
		b.sheetOf(l, b.s.OpenSheet)
	case !b.s.Dirty():
		b.takeSheetAlone(l)
	default:
		b.question("The demo has been changed",
			"A new plan for your map begins without the demo's marks and legs, and what was changed in the demo is lost.", func() { b.leave(l) },
			answer{Text: "Stay with the demo", Do: func() { b.leave(l) }},
			answer{Text: "New plan", Do: func() { b.takeSheetAlone(l) }, Default: true})
	}
}

// takeSheetAlone begins a new plan with a picture.
func (b *Bench) takeSheetAlone(l loaded) {
	b.beginPlan()
	b.takeSheet(l, b.s.OpenSheet, b.openDemo)
}

// takeSheet makes a picture a sheet of the plan that is open. revert takes
// that back.
func (b *Bench) takeSheet(l loaded, take taking, revert func()) {
	if err := take(l.pictureOf()); err != nil {
		b.leave(l)
		b.refuseOpening("This picture cannot be opened", err)
		return
	}
	b.picture.took(b.s.Plan(), revert)
	b.show(l)
	b.set.remember(l.path)
	b.goTo(postSheet)
	b.say(openedWords(l))
}

// pictureOf is the opened picture as the session takes it.
func (l loaded) pictureOf() session.Picture {
	h := l.header
	return session.Picture{Path: l.path, Page: l.page(), Width: h.Width, Height: h.Height, SHA256: l.sha(), DPI: h.DPI, Medium: h.Medium, Focal: h.Focal}
}

// tellWarnings says what is missing of a picture that opened all the same.
func (b *Bench) tellWarnings(s *scan.Scan) {
	if s != nil && len(s.Warnings) > 0 {
		b.tell("About the picture", foot.SentenceOf(strings.Join(s.Warnings, "; ")))
	}
}

// fileSays is what a picture's files say about where it lies.
func (b *Bench) fileSays(e ending) sheetpanel.FileSays {
	return sheetpanel.FileSays{
		Georef: e.place, World: e.world, WorldFile: e.file,
		PositionM: b.picture.header.PositionM, Cautions: b.picture.header.Cautions,
	}
}
