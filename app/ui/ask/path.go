package ask

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/mapio/atomicfile"
)

// Path asks for the path of a file: typed, or chosen from a list of the folder.
type Path struct {
	Title string // "Export the legs as GPX"
	Verb  string // "Export"
	Start string // the path to begin with; for a file to open, the folder it lies in
	// Endings are those of the files that will do, such as ".gpx". A file to save
	// gets the first where its name has none of them.
	Endings []string
	Extra   fyne.CanvasObject          // settings below the list, or nil
	Files   func(path string) []string // all that is written for a path; nil is the path alone
	Done    func(path string)
}

// hasEnding reports whether a name has one of the endings.
func (p Path) hasEnding(name string) bool {
	for _, e := range p.Endings {
		if strings.EqualFold(filepath.Ext(name), e) {
			return true
		}
	}
	return false
}

// Full returns the whole path of a file to save that was typed: without the
// spaces around it, and with an ending.
func (p Path) Full(text string) string {
	text = strings.TrimSpace(text)
	if len(p.Endings) > 0 && !p.hasEnding(text) {
		text += p.Endings[0]
	}
	return text
}

// written returns the files that are written for a path.
func (p Path) written(path string) []string {
	if p.Files == nil {
		return []string{path}
	}
	return p.Files(path)
}

// existing returns those of the files written for a path that exist.
func (p Path) existing(path string) (list []string) {
	for _, name := range p.written(path) {
		if _, err := os.Stat(name); err == nil {
			list = append(list, name)
		}
	}
	return list
}

// CheckSave says why nothing can be written at a path that was typed, or returns
// nil.
func (p Path) CheckSave(text string) error {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, string(filepath.Separator)) {
		return errors.New("type the name of a file")
	}
	if !filepath.IsAbs(text) {
		return errors.New("type the full path, starting from the top folder")
	}
	path := p.Full(text)
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s", filepath.Dir(path))
	}
	for _, name := range p.written(path) {
		if err := atomicfile.Check(name, atomicfile.Options{ReadOnly: true}); err != nil {
			return err
		}
	}
	return nil
}

// SaveNote says what saving at a path that was typed would write or overwrite, or
// why it cannot.
func (p Path) SaveNote(text string) string {
	if err := p.CheckSave(text); err != nil {
		return err.Error()
	}
	path := p.Full(text)
	switch old := p.existing(path); len(old) {
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
	for _, name := range p.written(path) {
		names = append(names, filepath.Base(name))
	}
	return "Saves " + listed(names) + " in " + filepath.Dir(path) + "."
}

// listed writes names as a list: "a, b and c".
func listed(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// CheckOpen says why a path that was typed names no file that can be opened, or
// returns nil.
func (p Path) CheckOpen(text string) error {
	text = strings.TrimSpace(text)
	switch info, err := os.Stat(text); {
	case text == "":
		return errors.New("choose a file, or type its path")
	case !filepath.IsAbs(text):
		return errors.New("type the full path, starting from the top folder")
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("there is no file %s in %s", filepath.Base(text), filepath.Dir(text))
	case err != nil:
		return fmt.Errorf("%s cannot be read: %w", filepath.Base(text), errors.Unwrap(err))
	case info.IsDir():
		return errors.New("choose a file in this folder")
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is not an ordinary file: choose another", filepath.Base(text))
	}
	return nil
}

// Overwrite asks before files are overwritten; Return and Escape cancel.
func (d *Dialogs) Overwrite(title, text string, overwrite func()) *Question {
	return d.Warn(title, text, "Overwrite", overwrite, nil)
}

// Confirm calls Done with the path of a file to save that was typed. Before it
// overwrites a file it asks; of a read-only one Done asks by itself.
func (d *Dialogs) Confirm(p Path, text string) {
	if err := p.CheckSave(text); err != nil {
		d.line.Fail(err)
		return
	}
	path := p.Full(text)
	old, readOnly := p.existing(path), new(atomicfile.ReadOnly)
	switch {
	case len(old) == 0, len(old) == 1 && errors.As(atomicfile.Check(old[0], atomicfile.Options{}), &readOnly):
		p.Done(path)
	case len(old) == 1:
		d.Overwrite("The file exists", fmt.Sprintf("%s exists. Overwrite it?", old[0]), func() { p.Done(path) })
	default:
		d.Overwrite("The files exist", fmt.Sprintf("These files exist: %s. Overwrite them?", listed(old)), func() { p.Done(path) })
	}
}
