package ask

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// pathDialog is the dialog for a path: a field with the whole path over the list of
// its folder. Both say the same: typing lists the folder that is typed, and
// choosing in the list writes into the field.
type pathDialog struct {
	Path
	d      *Dialogs
	q      *Question
	field  *widgets.EscapeEntry
	list   *fileList
	note   *network
	check  func(text string) error
	writes bool
	typing bool // the field changes by the dialog's own doing
}

// OpenPath asks for a file that exists, and calls Done with its path.
func (d *Dialogs) OpenPath(p Path) *Question {
	return d.askPath(&pathDialog{Path: p, d: d, check: p.CheckOpen})
}

// SavePath asks for a file to write, and calls Done with its path, which has an
// ending. It asks again before it overwrites one.
func (d *Dialogs) SavePath(p Path) *Question {
	return d.askPath(&pathDialog{Path: p, d: d, check: p.CheckSave, writes: true})
}

func (d *Dialogs) askPath(p *pathDialog) *Question {
	p.q = &Question{d: d}
	p.field = d.Entry("")
	p.note = &network{widgets.NewWrappedQuiet(""), d, map[string]*answer{}, func() { p.typed(p.field.Text) }}
	focus := func(f fyne.Focusable) { d.window.Canvas().Focus(f) }
	p.list = newFileList(p.hasEnding, p.choose, p.open, d.escape, focus)
	p.field.OnDown = func() { focus(p.list); p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown}) }
	p.field.OnChanged = p.typed
	p.field.OnSubmitted = func(text string) { p.submit(text) }
	body := container.NewBorder(container.NewVBox(p.field, p.places()), p.below(), nil, nil, p.list)
	cancel := newKeyButton("Cancel", false, d.escape, func() { p.q.dialog.Hide() })
	act := p.q.button(p.Verb, true, func() { p.submit(p.field.Text) })
	p.q.show(p.Title, body, fyne.NewSize(820, 560), []fyne.CanvasObject{cancel, act})
	focus(p.field)
	p.write(p.start())
	return p.q
}

// below is what stands under the list.
func (p *pathDialog) below() fyne.CanvasObject {
	if p.Extra == nil {
		return p.note.Quiet
	}
	return container.NewVBox(p.note.Quiet, p.Extra)
}

// places are the buttons that lead to other folders.
func (p *pathDialog) places() fyne.CanvasObject {
	up := newKeyButton("Folder above", false, p.d.escape, func() { p.open(filepath.Dir(p.list.folder)) })
	row := container.NewHBox(up)
	if home, err := os.UserHomeDir(); err == nil {
		row.Add(newKeyButton("Home", false, p.d.escape, func() { p.open(home) }))
	}
	for _, top := range drives() {
		row.Add(newKeyButton(top, false, p.d.escape, func() { p.open(top) }))
	}
	return row
}

// start is what the field begins with: a folder of a file to open, and the whole
// path of one to save.
func (p *pathDialog) start() string {
	if p.writes {
		return p.Start
	}
	folder := p.Start
	for p.note.reached(folder) && !isFolder(folder) && folder != filepath.Dir(folder) {
		folder = filepath.Dir(folder)
	}
	return inFolder(folder)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// inFolder writes a folder so that a name can be typed behind it.
func inFolder(folder string) string {
	return strings.TrimSuffix(folder, string(filepath.Separator)) + string(filepath.Separator)
}

// write puts a path into the field, with the cursor behind it, and lists its folder.
func (p *pathDialog) write(path string) {
	p.typing = true
	p.field.SetText(path)
	p.field.CursorColumn = len([]rune(path))
	p.field.Refresh()
	p.typing = false
	p.typed(path)
}

// typed lists the folder that stands in the field and says what would be done.
func (p *pathDialog) typed(text string) {
	if p.typing {
		return
	}
	p.note.Importance = widget.LowImportance
	text = wholePath(text)
	if !p.note.near(text) {
		return
	}
	if folder := filepath.Dir(text); filepath.IsAbs(text) {
		if strings.HasSuffix(text, string(filepath.Separator)) {
			p.list.show(filepath.Clean(text), "")
		} else if isFolder(folder) {
			p.list.show(folder, filepath.Base(text))
		}
	}
	p.say(text)
}

// say writes the line under the list.
func (p *pathDialog) say(text string) {
	note := ""
	switch err := p.check(text); {
	case p.list.fault != nil:
		note = p.list.fault.Error()
	case p.writes:
		note = p.SaveNote(text)
	case err != nil && isFolder(text) && !p.list.offers():
		note = "This folder contains no file of the right kind. Go to another folder, or type the path of a file."
	case err != nil:
		note = err.Error()
	default:
		note = "Opens " + filepath.Base(text) + "."
	}
	p.note.SetText(foot.SentenceOf(note))
}

// wholePath is a path as it was typed, without spaces around it, and with the home
// folder for a leading ~. A whole path that was typed behind the folder in the field,
// which ends with a stroke, takes its place.
func wholePath(text string) string {
	text = asTyped(strings.TrimSpace(text))
	if rest, ok := strings.CutPrefix(text, "~"); ok && (rest == "" || rest[0] == filepath.Separator) {
		if home, err := os.UserHomeDir(); err == nil {
			return home + rest
		}
	}
	return text
}

// choose takes what is chosen in the list into the field.
func (p *pathDialog) choose(path string) {
	p.typing = true
	p.field.SetText(path)
	p.typing = false
	p.say(path)
}

// open goes into a folder, and takes a file.
func (p *pathDialog) open(path string) {
	if !p.note.reached(path) {
		p.write(inFolder(path))
		return
	}
	if !isFolder(path) {
		p.submit(path)
		return
	}
	name := ""
	if p.writes && p.note.near(wholePath(p.field.Text)) && !isFolder(p.field.Text) {
		name = filepath.Base(p.field.Text)
	}
	p.write(inFolder(path) + name)
}

// submit takes the path, or says why it will not do.
func (p *pathDialog) submit(text string) {
	text = wholePath(text)
	if !p.note.near(text) {
		return
	}
	if isFolder(text) {
		p.open(text)
		return
	}
	if p.check(text) != nil {
		p.note.Importance = widget.DangerImportance
		p.say(text) // the path stays, to be mended
		return
	}
	p.q.answered = true
	p.q.dialog.Hide()
	if p.writes {
		p.d.Confirm(p.Path, text)
		return
	}
	p.Done(text)
}
