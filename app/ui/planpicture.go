package ui

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"os"

	"legwright/app/plan"
	"legwright/mapio/scan"
)

// openPlanPicture opens the picture that the plan names; where it is missing
// or another one, it says so and asks.
func (b *Bench) openPlanPicture() {
	sheet, ok := b.s.Sheet()
	if !ok {
		return
	}
	path := sheet.Picture
	if !b.mayOpen(path) {
		return
	}
	if !sheet.Embedded() {
		if _, err := os.Stat(path); err != nil {
			b.askMissingPicture(path, b.showKept(sheet))
			return
		}
	}
	b.loadPicture(path, sheet.Page, func(l loaded) {
		switch {
		case l.err != nil:
			b.refuse("The plan's picture cannot be opened", l.err)
		case !shows(l, sheet) && !sheet.Embedded():
			b.askChangedPicture(l)
		default:
			b.show(l)
			b.refreshAll()
		}
	})
}

// showKept shows what the store keeps of a picture whose file is not there,
// and reports whether there was anything.
func (b *Bench) showKept(sheet plan.Sheet) bool {
	from := b.picture.source
	raw, err := hex.DecodeString(sheet.SHA256)
	if from.store == nil || err != nil || len(raw) != sha256.Size {
		return false
	}
	key := pageKey([32]byte(raw), sheet.Page)
	o := &opening{from: from, path: sheet.Picture, want: sheet.Page}
	p, err := from.store.Open(key, o.options(key))
	if err != nil {
		return false
	}
	if p.Size() != image.Pt(sheet.Width, sheet.Height) {
		p.Close()
		return false
	}
	h := scan.Header{
		Format: "kept", Width: sheet.Width, Height: sheet.Height, DPI: sheet.DPI,
		Page: sheet.Page.Number, Pages: sheet.Page.Number, PageDPI: sheet.Page.DPI,
	}
	b.show(loaded{path: sheet.Picture, header: h, key: [32]byte(raw), picture: key, pyramid: p, stored: true})
	b.picture.kept = true
	b.refreshAll()
	return true
}

// followPicture shows the picture of the plan's sheet after a step to another
// one. Readings on the picture that stood there would look right and be wrong,
// so it goes at once.
func (b *Bench) followPicture(sheet plan.Sheet) {
	p := &b.picture
	if sheet.SHA256 != "" && sheet.SHA256 == p.sha && sheet.Page == p.page {
		if p.now != nil && (p.now.shown() == nil || p.now.shown().pyramid != p.pyramid) {
			p.giveUp()
		}
		p.path = sheet.Picture
		return
	}
	b.clearPicture()
	b.refreshAll()
	b.openPlanPicture()
}

// askMissingPicture offers to find a picture that is not where the plan says.
func (b *Bench) askMissingPicture(path string, kept bool) {
	rest := "The plan is open and complete without it. Find the picture?"
	if kept {
		rest = "What is shown was kept from an earlier opening. Find the picture?"
	}
	b.question("Picture missing", fmt.Sprintf("The plan's picture is not there:\n%s\n\n%s", path, rest), nil,
		answer{Text: "Not now"}, answer{Text: "Find it…", Do: b.findPicture, Default: true})
}

// findPicture lets the person say where the sheet's picture is now.
func (b *Bench) findPicture() {
	if _, ok := b.s.Sheet(); !ok {
		b.say("The plan has no sheet yet: open the picture of a map.")
		return
	}
	b.browse("Find the picture", "Use", pictureEndings(), b.relink)
}

// relink takes a picture for the one that was missing.
func (b *Bench) relink(path string) {
	sheet, _ := b.s.Sheet()
	b.loadPicture(path, sheet.Page, func(l loaded) {
		if l.err != nil {
			b.refuse("This picture cannot be opened", l.err)
			return
		}
		if sheet, _ := b.s.Sheet(); !shows(l, sheet) {
			b.askChangedPicture(l)
			return
		}
		b.useRelinked(l)
	})
}

// askChangedPicture says that a picture is not the one the plan was made on.
func (b *Bench) askChangedPicture(l loaded) {
	text := fmt.Sprintf("%s is not the picture that this plan was made on: its content has changed. "+
		"If it is another scan, another crop or another size, every bearing on it would be wrong.\n\n"+
		"Use it anyway? The sheet loses its evidence: look at its control points, then check it again.", pictureName(l.path))
	b.dialogs.Warn("Another picture", text, "Use it", func() { b.useRelinked(l) }, func() { b.leave(l) })
}

// leave puts a picture away that is not to be used.
func (b *Bench) leave(l loaded) {
	p := &b.picture
	half := p.half
	if p.now != nil && p.now.shown() != nil && p.now.shown().pyramid == l.pyramid {
		p.giveUp()
		p.half = false
	}
	if p.pyramid != l.pyramid {
		go l.pyramid.Close()
	}
	if sheet, ok := b.s.Sheet(); half && ok && sheet.Picture != l.path {
		b.openPlanPicture()
	} else if p.pyramid == nil {
		b.say("The plan is without its picture: Picture, Find the picture…")
	}
	b.refreshAll()
}

func (b *Bench) useRelinked(l loaded) {
	before := b.s.Plan()
	if !b.try(b.s.Relink(l.pictureOf()), "Using "+pictureName(l.path)+".") {
		b.leave(l)
		return
	}
	b.chosen(l.path)
	b.picture.took(b.s.Plan(), b.backTo(before))
	b.show(l)
	b.refreshAll()
}

// backTo returns what takes the plan back to where it was.
func (b *Bench) backTo(before *plan.Plan) func() {
	return func() {
		for b.s.Plan() != before && b.s.Undo() {
		}
	}
}
