package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"
)

// pathAsk is a question for the path of a file to write: typed, or found by
// browsing. It is checked while it is typed.
type pathAsk struct {
	title   string            // "Write the legs as GPX"
	button  string            // "Write"
	ending  string            // ".gpx"
	path    string            // offered
	extra   fyne.CanvasObject // settings below the path, or nil
	confirm func(path string)
}

// askPath shows the question. A file that exists is written over only after
// one more yes.
func (b *Bench) askPath(q pathAsk) {
	entry := newRefEntry(nil, b.escape)
	entry.SetPlaceHolder("")
	entry.SetText(q.path)
	entry.Validator = func(text string) error { return checkTarget(text, q.ending) }
	note := widget.NewLabel("")
	note.Wrapping = fyne.TextWrapWord
	note.Importance = widget.LowImportance
	tell := func(text string) {
		note.SetText(targetNote(text, q.ending))
	}
	entry.OnChanged = tell
	tell(q.path)
	browse := widget.NewButton("Choose a folder…", func() { b.browseFolder(&entry.Entry) })
	body := container.NewVBox(entry, note, container.NewHBox(browse))
	if q.extra != nil {
		body.Add(q.extra)
	}
	d := dialog.NewCustomConfirm(q.title, q.button, "Let go", body, func(yes bool) {
		if yes {
			b.confirmTarget(entry.Text, q)
		}
	}, b.window)
	entry.OnSubmitted = func(string) { d.Confirm() }
	d.Resize(fyne.NewSize(640, 300))
	d.Show()
	b.window.Canvas().Focus(entry)
}

func (b *Bench) confirmTarget(text string, q pathAsk) {
	if err := checkTarget(text, q.ending); err != nil {
		b.fail(err)
		return
	}
	path := withEnding(text, q.ending)
	if _, err := os.Stat(path); err == nil {
		b.ask("Write over it?", fmt.Sprintf("%s is there already. Write over it?", path), func() {
			q.confirm(path)
		})
		return
	}
	q.confirm(path)
}

func (b *Bench) browseFolder(entry *widget.Entry) {
	d := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
		if err != nil || u == nil {
			return
		}
		entry.SetText(filepath.Join(u.Path(), filepath.Base(entry.Text)))
	}, b.window)
	if at, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(entry.Text))); err == nil {
		d.SetLocation(at)
	}
	d.Resize(fyne.NewSize(820, 560))
	d.Show()
}

// withEnding adds the ending where the name has none.
func withEnding(text, ending string) string {
	text = strings.TrimSpace(text)
	if !strings.EqualFold(filepath.Ext(text), ending) {
		text += ending
	}
	return text
}

// checkTarget says why nothing can be written at a path.
func checkTarget(text, ending string) error {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, string(filepath.Separator)) {
		return errors.New("type the name of a file")
	}
	if !filepath.IsAbs(text) {
		return errors.New("type the whole path, from the top folder on")
	}
	path := withEnding(text, ending)
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s", filepath.Dir(path))
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder; type the name of a file", path)
	}
	return nil
}

// targetNote is the line under the path while it is typed.
func targetNote(text, ending string) string {
	if err := checkTarget(text, ending); err != nil {
		return err.Error()
	}
	path := withEnding(text, ending)
	if _, err := os.Stat(path); err == nil {
		return "Writes over the file that is there."
	}
	return "Writes " + filepath.Base(path) + " into " + filepath.Dir(path) + "."
}
