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

	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
)

// pathAsk is a question for the path of a file to write: typed, or found by
// browsing. It is checked while it is typed.
type pathAsk struct {
	title   string            // "Export the legs as GPX"
	button  string            // "Export"
	ending  string            // ".gpx"
	others  []string          // endings that will do as well
	path    string            // offered
	extra   fyne.CanvasObject // settings below the path, or nil
	confirm func(path string)

	files func(path string) []string // all that is written for a path; nil is the path alone
}

// written are the files that are written for a path.
func (q pathAsk) written(path string) []string {
	if q.files == nil {
		return []string{path}
	}
	return q.files(path)
}

// there are those of the files that are there already.
func (q pathAsk) there(path string) (list []string) {
	for _, name := range q.written(path) {
		if _, err := os.Stat(name); err == nil {
			list = append(list, name)
		}
	}
	return list
}

// full adds the ending where the name has none of those that will do.
func (q pathAsk) full(text string) string {
	for _, e := range q.others {
		if strings.EqualFold(filepath.Ext(strings.TrimSpace(text)), e) {
			return strings.TrimSpace(text)
		}
	}
	return withEnding(text, q.ending)
}

// askPath asks for a file. It asks again before it overwrites one.
func (b *Bench) askPath(q pathAsk) {
	entry := widgets.NewEscapeEntry("", nil, b.escape)
	entry.SetPlaceHolder("")
	entry.SetText(q.path)
	entry.Validator = func(text string) error { return q.check(text) }
	note := widget.NewLabel("")
	note.Wrapping = fyne.TextWrapWord
	note.Importance = widget.LowImportance
	tell := func(text string) {
		note.SetText(q.note(text))
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
	if err := q.check(text); err != nil {
		b.fail(err)
		return
	}
	path := q.full(text)
	old, readOnly := q.there(path), new(atomicfile.ReadOnly)
	switch {
	case len(old) == 0, len(old) == 1 && errors.As(atomicfile.Check(old[0], atomicfile.Options{}), &readOnly):
		q.confirm(path) // it asks about a read-only file itself
	case len(old) == 1:
		b.askOverwrite("The file exists", fmt.Sprintf("%s exists. Overwrite it?", old[0]), func() { q.confirm(path) })
	default:
		b.askOverwrite("The files exist", fmt.Sprintf("%s exist. Overwrite them?", strings.Join(old, " and ")), func() { q.confirm(path) })
	}
}

// askOverwrite asks before files are overwritten; Return cancels.
func (b *Bench) askOverwrite(title, text string, overwrite func()) {
	b.question(title, text, nil, answer{"Overwrite", overwrite, false}, answer{"Cancel", nil, true})
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

// check says why nothing can be written at a path.
func (q pathAsk) check(text string) error {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, string(filepath.Separator)) {
		return errors.New("type the name of a file")
	}
	if !filepath.IsAbs(text) {
		return errors.New("type the whole path, from the top folder on")
	}
	path := q.full(text)
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s", filepath.Dir(path))
	}
	for _, name := range q.written(path) {
		if err := atomicfile.Check(name, atomicfile.Options{ReadOnly: true}); err != nil {
			return err
		}
	}
	return nil
}

// note is the line under the path while it is typed.
func (q pathAsk) note(text string) string {
	if err := q.check(text); err != nil {
		return err.Error()
	}
	path := q.full(text)
	switch old := q.there(path); len(old) {
	case 0:
	case 1:
		if old[0] != path {
			return "Overwrites the existing " + filepath.Base(old[0]) + "."
		}
		return "Overwrites the existing file."
	default:
		return "Overwrites the existing files."
	}
	var names []string
	for _, name := range q.written(path) {
		names = append(names, filepath.Base(name))
	}
	last := len(names) - 1
	if last > 0 {
		names = []string{strings.Join(names[:last], ", ") + " and " + names[last]}
	}
	return "Writes " + names[0] + " into " + filepath.Dir(path) + "."
}
