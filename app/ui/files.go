package ui

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// open opens whatever a path is: a plan, a GPX file, or a picture.
func (b *Bench) open(path string) {
	switch strings.ToLower(filepath.Ext(path)) {
	case planfile.Ext:
		b.guard(func() { b.openPlan(path) })
	case ".gpx":
		b.importGPX(path)
	default:
		b.openSheet(path)
	}
}

// openPlan opens a plan file, and the picture it names.
func (b *Bench) openPlan(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	if err := b.s.Open(path); err != nil {
		if errors.Is(err, os.ErrNotExist) {
			b.set.forget(path)
		}
		b.refuse("This plan cannot be opened", err)
		return
	}
	b.set.remember(path)
	b.endImport()
	b.clearPicture()
	b.goTo(postRoute)
	b.say("Opened " + filepath.Base(path) + ".")
	b.tellMended()
	b.openPlanPicture()
}

// tellMended says what had to be changed in reading the plan's file, such as
// that the proof of a sheet does not hold.
func (b *Bench) tellMended() {
	var list []string
	for _, text := range b.s.Plan().Mended {
		list = append(list, sentenceText(text))
	}
	if len(list) > 0 {
		b.tell("Changed in reading the plan", strings.Join(list, "\n\n"))
	}
}

// openPlanPicture opens the picture that the plan names; where it is missing
// or another one, it says so and asks.
func (b *Bench) openPlanPicture() {
	sheet, ok := b.s.Sheet()
	if !ok {
		return
	}
	path := sheet.Picture
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
	b.ask("Picture missing", fmt.Sprintf("The plan's picture is not there:\n%s\n\n%s", path, rest), b.findPicture)
}

// findPicture lets the person say where the sheet's picture is now.
func (b *Bench) findPicture() {
	if _, ok := b.s.Sheet(); !ok {
		b.say("The plan has no sheet yet: open the picture of a map.")
		return
	}
	b.browse("Find the picture", pictureEndings(), b.relink)
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
		"Use it all the same? The sheet loses its proof: check the control points before you trust a reading.", pictureName(l.path))
	b.askElse("Another picture", text, func() { b.useRelinked(l) }, func() { b.leave(l) })
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
	before, h := b.s.Plan(), l.header
	if !b.try(b.s.Relink(l.path, h.Width, h.Height, l.sha()), "Using "+pictureName(l.path)+".") {
		b.leave(l)
		return
	}
	if b.picture.now != nil {
		b.picture.revert = b.backTo(before)
	}
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

// save writes the plan to its file, or asks for one.
func (b *Bench) save(then func()) {
	if !b.takeTyping() {
		return
	}
	err := b.s.Save()
	switch {
	case errors.Is(err, session.ErrNoPath):
		b.saveAs(then)
	case errors.Is(err, session.ErrChangedOnDisk):
		b.askOver(then)
	case err != nil:
		b.refuse("The plan was not saved", err)
	default:
		b.saved(then)
	}
}

func (b *Bench) saved(then func()) {
	b.set.remember(b.s.Path())
	b.say("Saved " + filepath.Base(b.s.Path()) + ".")
	b.checkPicture()
	if then != nil {
		then()
	}
}

// askOver asks before writing over what another program wrote.
func (b *Bench) askOver(then func()) {
	text := "The plan's file has been changed since it was opened here, perhaps in another window. What was written there would be lost if you write over it."
	b.question("Changed by somebody else", text, nil,
		answer{"Stay", nil, false},
		answer{"Write over it", func() {
			if err := b.s.SaveOver(); err != nil {
				b.refuse("The plan was not saved", err)
				return
			}
			b.saved(then)
		}, false},
		answer{"Save under another name", func() { b.saveAs(then) }, true})
}

// saveAs asks for a file and writes the plan to it.
func (b *Bench) saveAs(then func()) {
	if !b.takeTyping() {
		return
	}
	b.askPath(pathAsk{
		title: "Save the plan", button: "Save", ending: planfile.Ext, path: b.suggest(planfile.Ext),
		confirm: func(path string) {
			if err := b.s.SaveAs(path); err != nil {
				b.refuse("The plan was not saved", err)
				return
			}
			b.saved(then)
		},
	})
}

// suggest offers a path with an ending: beside the plan, else beside the
// picture, else in the home folder.
func (b *Bench) suggest(ending string) string {
	if p := b.s.Path(); p != "" {
		return strings.TrimSuffix(p, filepath.Ext(p)) + ending
	}
	name := fileName(b.s.Plan().Title)
	if p := b.s.PicturePath(); filepath.IsAbs(p) {
		if name == "" {
			name = strings.TrimSuffix(filepath.Base(p), filepath.Ext(p))
		}
		return filepath.Join(filepath.Dir(p), name+ending)
	}
	if name == "" {
		name = "walk"
	}
	home, err := os.UserHomeDir()
	if err != nil {
		home = string(filepath.Separator)
	}
	return filepath.Join(home, name+ending)
}

// fileName makes a title fit for the name of a file.
func fileName(title string) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return -1
		}
		return r
	}, title)
	return strings.TrimSpace(clean)
}

// guard asks what to do with unsaved work before it would be lost.
func (b *Bench) guard(then func()) {
	taken := b.takeTyping() // what is refused counts as unsaved
	if taken && !b.s.Dirty() {
		then()
		return
	}
	b.question("There is unsaved work", "The plan has changes that are not saved.", nil,
		answer{"Stay", nil, false}, answer{"Throw away", then, false}, answer{"Save", func() { b.save(then) }, true})
}

// quit closes the window once nothing is lost by it.
func (b *Bench) quit() {
	b.guard(func() {
		b.picture.giveUp()
		b.leaveStraight()
		_ = b.s.Close(false)
		b.window.SetCloseIntercept(nil)
		b.window.Close()
	})
}

// browse shows Fyne's file dialog for some endings.
func (b *Bench) browse(title string, endings []string, then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			b.fail(err)
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		then(path)
	}, b.window)
	d.SetTitleText(title)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	if at, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(b.suggest("")))); err == nil {
		d.SetLocation(at)
	}
	d.Resize(fyne.NewSize(900, 600))
	d.Show()
}

// dropped opens what is dropped on the window.
func (b *Bench) dropped(_ fyne.Position, list []fyne.URI) {
	paths := make([]string, len(list))
	for i, u := range list {
		paths[i] = u.Path()
	}
	b.openAll(paths)
}

// openAll opens the first of some files, and where all are pictures the others
// as further sheets of its plan. It says what it leaves out.
func (b *Bench) openAll(paths []string) {
	b.sheets.queue = nil
	if len(paths) == 0 {
		return
	}
	paths = slices.Clone(paths)
	for i, p := range paths {
		if abs, err := filepath.Abs(p); err == nil {
			paths[i] = abs
		}
	}
	if !slices.ContainsFunc(paths, func(p string) bool { return !isPicture(p) }) {
		b.sheets.queue = paths
	}
	b.open(paths[0])
	if n := len(paths) - 1; n > 0 && len(b.sheets.queue) == 0 {
		b.say(fmt.Sprintf("Opened %s; %s left out, for only pictures are opened together.", filepath.Base(paths[0]), countWords(n, "other file")))
	}
}

// isPicture says by its name that a file is a picture.
func isPicture(path string) bool {
	return slices.Contains(pictureEndings(), strings.ToLower(filepath.Ext(path)))
}
