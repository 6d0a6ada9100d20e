package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
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
	b.clearPicture()
	b.goTo(postRoute)
	b.say("Opened " + filepath.Base(path) + ".")
	b.openPlanPicture()
}

// openPlanPicture opens the picture that the plan names; where it is missing
// or another one, it says so and asks.
func (b *Bench) openPlanPicture() {
	sheet, ok := b.s.Plan().Sheet()
	if !ok {
		return
	}
	path := sheet.Picture
	if !sheet.Embedded() {
		if _, err := os.Stat(path); err != nil {
			b.askMissingPicture(path)
			return
		}
	}
	b.loadPicture(path, func(l loaded) {
		switch {
		case l.err != nil:
			b.refuse("The plan's picture cannot be opened", l.err)
		case l.sha() != sheet.SHA256 && !sheet.Embedded():
			b.askChangedPicture(l)
		default:
			b.show(l)
			b.refreshAll()
		}
	})
}

// followPicture shows the picture of the plan's sheet after a step to another
// one. Readings on the picture that stood there would look right and be wrong,
// so it goes at once.
func (b *Bench) followPicture(sheet plan.Sheet) {
	if sheet.SHA256 != "" && sheet.SHA256 == b.picture.sha {
		b.picture.giveUp()
		b.picture.path = sheet.Picture
		return
	}
	b.clearPicture()
	b.refreshAll()
	b.openPlanPicture()
}

// askMissingPicture offers to find a picture that is not where the plan says.
func (b *Bench) askMissingPicture(path string) {
	text := fmt.Sprintf("The plan's picture is not there:\n%s\n\nThe plan is open and complete without it. Find the picture?", path)
	b.ask("Picture missing", text, func() {
		b.browse("Find the picture", pictureEndings(), b.relink)
	})
}

// relink takes a picture for the one that was missing.
func (b *Bench) relink(path string) {
	b.loadPicture(path, func(l loaded) {
		if l.err != nil {
			b.refuse("This picture cannot be opened", l.err)
			return
		}
		if sheet, _ := b.s.Plan().Sheet(); l.sha() != sheet.SHA256 {
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
		"Use it all the same? The sheet loses its proof: check the control points before you trust a reading.", filepath.Base(l.path))
	b.ask("Another picture", text, func() {
		b.useRelinked(l)
	})
}

func (b *Bench) useRelinked(l loaded) {
	h := l.scan.Header
	if b.try(b.s.Relink(l.path, h.Width, h.Height, l.sha()), "Using "+filepath.Base(l.path)+".") {
		b.show(l)
		b.refreshAll()
	}
}

// save writes the plan to its file, or asks for one.
func (b *Bench) save(then func()) {
	b.takeTyping()
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
	if then != nil {
		then()
	}
}

// askOver asks before writing over what another program wrote.
func (b *Bench) askOver(then func()) {
	text := "The plan's file has been changed since it was opened here, perhaps in another window. Write over it?"
	b.ask("Changed by somebody else", text, func() {
		if err := b.s.SaveOver(); err != nil {
			b.refuse("The plan was not saved", err)
			return
		}
		b.saved(then)
	})
}

// saveAs asks for a file and writes the plan to it.
func (b *Bench) saveAs(then func()) {
	b.takeTyping()
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
	b.takeTyping()
	if !b.s.Dirty() {
		then()
		return
	}
	var d *dialog.CustomDialog
	answer := func(f func()) func() { return func() { d.Hide(); f() } }
	d = dialog.NewCustomWithoutButtons("There is unsaved work", wrapped(
		"The plan has changes that are not saved."), b.window)
	d.SetButtons([]fyne.CanvasObject{
		button("Stay", answer(func() {}), false),
		button("Throw away", answer(then), false),
		button("Save", answer(func() { b.save(then) }), true),
	})
	d.Resize(fyne.NewSize(460, 160))
	d.Show()
}

// quit closes the window once nothing is lost by it.
func (b *Bench) quit() {
	b.guard(func() {
		b.picture.giveUp()
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

// dropped opens the first file that is dropped on the window.
func (b *Bench) dropped(_ fyne.Position, list []fyne.URI) {
	if len(list) > 0 {
		b.open(list[0].Path())
	}
}
