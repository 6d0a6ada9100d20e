package ask

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
)

// fileList lists a folder: its own folders first, then the files of some endings, each
// with its whole name. A click chooses; a double click or Return opens what is
// chosen, a folder or a file; Backspace leads to the folder above.
type fileList struct {
	widget.List
	folder  string
	fault   error // why the folder cannot be read
	rows    []fileRow
	shown   []fileRow // those that hold the text being typed
	chosen  int       // index into shown, -1 none
	wanted  func(name string) bool
	choose  func(path string)
	open    func(path string)
	escape  func()
	focusOn func(fyne.Focusable)
}

// fileRow is an entry of a folder.
type fileRow struct {
	name   string
	folder bool
}

func newFileList(wanted func(string) bool, choose, open func(path string), escape func(), focusOn func(fyne.Focusable)) *fileList {
	l := &fileList{chosen: -1, wanted: wanted, choose: choose, open: open, escape: escape, focusOn: focusOn}
	l.Length = func() int { return len(l.shown) }
	l.CreateItem = func() fyne.CanvasObject { return newFileLabel(l) }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		f := o.(*fileLabel)
		f.row = i
		f.SetText(lettering.Shown(l.shown[i].text()))
	}
	l.OnSelected = func(i widget.ListItemID) {
		if i != l.chosen {
			l.chosen = i
			l.choose(l.path(i))
		}
	}
	l.ExtendBaseWidget(l)
	return l
}

// text is a row as it is listed: a folder ends with a stroke.
func (r fileRow) text() string {
	if r.folder {
		return r.name + string(filepath.Separator)
	}
	return r.name
}

func (l *fileList) path(i int) string { return filepath.Join(l.folder, l.shown[i].name) }

// show lists a folder, and of it what holds a text, or all where nothing does.
func (l *fileList) show(folder, text string) {
	if folder != l.folder {
		l.folder = folder
		l.rows, l.fault = readFolder(folder, l.wanted)
		l.ScrollToTop()
	}
	l.shown = slices.DeleteFunc(slices.Clone(l.rows), func(r fileRow) bool {
		hidden := strings.HasPrefix(r.name, ".") && !strings.HasPrefix(text, ".")
		return hidden || !strings.Contains(strings.ToLower(r.name), strings.ToLower(text))
	})
	if len(l.shown) == 0 && text != "" {
		l.show(folder, "")
		return
	}
	l.chosen = slices.IndexFunc(l.shown, func(r fileRow) bool { return r.name == text })
	l.UnselectAll()
	l.Refresh()
	if l.chosen >= 0 {
		l.Select(l.chosen)
	}
}

// offers reports whether a file is listed.
func (l *fileList) offers() bool {
	return slices.ContainsFunc(l.shown, func(r fileRow) bool { return !r.folder })
}

// readFolder returns the folders in a folder and its wanted files, both in the
// order of their names.
func readFolder(folder string, wanted func(string) bool) ([]fileRow, error) {
	entries, err := os.ReadDir(folder)
	var folders, files []fileRow
	for _, e := range slices.DeleteFunc(entries, isHidden) {
		r := fileRow{e.Name(), e.IsDir()}
		if e.Type()&os.ModeSymlink != 0 {
			info, err := os.Stat(filepath.Join(folder, r.name))
			r.folder = err == nil && info.IsDir()
		}
		switch {
		case r.folder:
			folders = append(folders, r)
		case wanted(r.name):
			files = append(files, r)
		}
	}
	switch {
	case errors.Is(err, os.ErrNotExist):
		err = fmt.Errorf("there is no folder %s", folder)
	case err != nil:
		err = fmt.Errorf("the folder cannot be read: %w", err)
	}
	return append(folders, files...), err
}

// press chooses a row under the pointer.
func (l *fileList) press(row int) {
	l.focusOn(l)
	l.Select(row)
}

// TypedKey moves the choice, opens it, leads a folder up, or leaves; Fyne calls it.
func (l *fileList) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyDown:
		l.Select(min(l.chosen+1, len(l.shown)-1))
	case fyne.KeyUp:
		l.Select(max(l.chosen-1, 0))
	case fyne.KeyHome:
		l.Select(0)
	case fyne.KeyEnd:
		l.Select(len(l.shown) - 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if l.chosen >= 0 {
			l.open(l.path(l.chosen))
		}
	case fyne.KeyBackspace:
		l.open(filepath.Dir(l.folder))
	case fyne.KeyEscape:
		l.escape()
	}
}

// fileLabel is a row of the list. It takes the press and the double click itself:
// the list alone knows single clicks, and would give the second click of a double
// click to what has come under the pointer meanwhile.
type fileLabel struct {
	widget.Label
	list *fileList
	row  int
}

var (
	_ desktop.Mouseable   = (*fileLabel)(nil)
	_ fyne.DoubleTappable = (*fileLabel)(nil)
)

func newFileLabel(l *fileList) *fileLabel {
	f := &fileLabel{list: l}
	f.Truncation = fyne.TextTruncateEllipsis
	f.ExtendBaseWidget(f)
	return f
}

// MouseDown chooses the row; Fyne calls it.
func (f *fileLabel) MouseDown(*desktop.MouseEvent) { f.list.press(f.row) }

// MouseUp is part of desktop.Mouseable and does nothing.
func (f *fileLabel) MouseUp(*desktop.MouseEvent) {}

// DoubleTapped opens the row; Fyne calls it.
func (f *fileLabel) DoubleTapped(*fyne.PointEvent) {
	if f.row < len(f.list.shown) {
		f.list.open(f.list.path(f.row))
	}
}
