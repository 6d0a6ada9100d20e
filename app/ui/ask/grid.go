package ask

import (
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/geodesy"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/mapio/openfile"
)

// GridChosen says that a grid was chosen, and of a grid by definition how well its
// latitude and longitude are known.
func GridChosen(code geodesy.Code) string {
	sys, err := geodesy.Lookup(code)
	if err != nil || !code.Defined() {
		return "Grid chosen."
	}
	return "Grid chosen: " + sys.Name() + ". " + shiftWords(sys)
}

// shiftWords says how well a grid's datum leads to latitude and longitude.
func shiftWords(sys *geodesy.System) string {
	shift, ok := sys.TypicalShift()
	switch {
	case !ok:
		return ""
	case shift.Unknown:
		return foot.SentenceOf(shift.Name) + " Latitude and longitude may be hundreds of metres out; bearings and distances are not affected."
	case shift.SigmaM > 0:
		return fmt.Sprintf("Latitude and longitude are good to ± %.0f m (%s).", max(1, 2*shift.SigmaM), shift.Name)
	}
	return ""
}

// gridChooser is the list of grids with the field that narrows it.
type gridChooser struct {
	found  []*geodesy.System
	list   *gridList
	search *widgets.EscapeEntry
	note   *widget.Label
	body   *fyne.Container // laid out again when the note comes and goes
}

// gridList is a list in which Return chooses as Space does, and Escape leaves.
type gridList struct {
	widget.List
	escape func()
}

// TypedKey is Fyne's.
func (l *gridList) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case fyne.KeyEscape:
		l.escape()
	default:
		l.List.TypedKey(k)
	}
}

const gridHelp = "Search by name, country or EPSG code. For a grid that is not listed, paste its definition: a PROJ string, or the text of a .prj file."

// Grid lists the walking grids and calls then with the chosen one, which may also
// come from a definition. An empty text says how to search. folder is where the file of a definition is looked for
// first.
func (d *Dialogs) Grid(title, text, folder string, then func(code geodesy.Code)) *Question {
	if text == "" {
		text = gridHelp
	}
	c := d.newGridChooser()
	q := &Question{d: d}
	file := newKeyButton("From a .prj file…", false, d.escape, func() {
		d.OpenPath(Path{Title: "Read a grid definition", Verb: "Read", Start: folder, Endings: []string{".prj", ".wkt", ".txt"}, Done: func(path string) {
			text, err := readDefinitionFile(path)
			if err != nil {
				d.line.Fail(err)
				c.tell(foot.Sentence(err))
				return
			}
			c.search.SetText(text)
		}})
	})
	c.body = container.NewBorder(container.NewVBox(widgets.NewWrapped(text), c.search, c.note), container.NewHBox(file), nil, nil, c.list)
	choose := func(s *geodesy.System) {
		q.answered = true
		q.dialog.Hide()
		then(s.Code())
	}
	c.list.OnSelected = func(i widget.ListItemID) { choose(c.found[i]) }
	c.search.OnSubmitted = func(string) {
		if len(c.found) > 0 {
			choose(c.found[0])
		}
	}
	q.show(title, c.body, fyne.NewSize(560, 480), []fyne.CanvasObject{newKeyButton("Cancel", false, d.escape, func() { q.dialog.Hide() })})
	d.window.Canvas().Focus(c.search)
	return q
}

func (d *Dialogs) newGridChooser() *gridChooser {
	c := &gridChooser{found: geodesy.Catalogue(), search: d.Entry("name, country, code or definition"), note: widgets.NewWrapped("")}
	c.list = &gridList{escape: d.escape}
	c.list.Length = func() int { return len(c.found) }
	c.list.CreateItem = func() fyne.CanvasObject { return widget.NewLabel("") }
	c.list.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { o.(*widget.Label).SetText(gridWords(c.found[i])) }
	c.list.ExtendBaseWidget(c.list)
	c.note.Hide()
	c.search.OnChanged = c.narrow
	return c
}

// narrow shows what a text finds: grids of the catalogue, or the one it
// defines, or why it defines none.
func (c *gridChooser) narrow(text string) {
	note := ""
	switch {
	case strings.TrimSpace(text) == "":
		c.found = geodesy.Catalogue()
	case strings.ContainsAny(text, "=["):
		c.found = nil
		sys, err := geodesy.Define(text)
		if err != nil {
			note = foot.Sentence(err)
			break
		}
		c.found, note = []*geodesy.System{sys}, definedWords(sys)
	default:
		if c.found = geodesy.Find(text); len(c.found) == 0 {
			note = "The list has no such grid. Paste its definition, or read it from a .prj file."
		}
	}
	c.tell(note)
	c.list.UnselectAll()
	c.list.Refresh()
}

// tell shows what there is to say below the field, or nothing.
func (c *gridChooser) tell(note string) {
	c.note.SetText(note)
	if note == "" {
		c.note.Hide()
	} else {
		c.note.Show()
	}
	if c.body != nil {
		// twice: a line that wraps knows its height once it has its width
		c.body.Layout.Layout(c.body.Objects, c.body.Size())
		c.body.Layout.Layout(c.body.Objects, c.body.Size())
	}
}

// definedWords says what a definition was understood as.
func definedWords(sys *geodesy.System) string {
	if sys.EPSG() != 0 {
		return "This grid is in the list."
	}
	text := "This grid is not in the list, but you can use its definition. " + shiftWords(sys)
	if u := sys.Unit(); u.Name != "metre" {
		text += " Its unit is the " + u.Name + "."
	}
	return text
}

func gridWords(s *geodesy.System) string {
	if s.EPSG() == 0 {
		return s.String()
	}
	return fmt.Sprintf("%s  (EPSG:%d, %s)", s.Name(), s.EPSG(), s.Country())
}

// maxDefinitionFile bounds a file with the definition of a grid, in bytes.
const maxDefinitionFile = 64 << 10

func readDefinitionFile(path string) (string, error) {
	f, err := openfile.Open(path)
	if err != nil {
		return "", fmt.Errorf("the definition cannot be read: %w", err)
	}
	defer f.Close()
	content, err := io.ReadAll(io.LimitReader(f, maxDefinitionFile+1))
	if err != nil {
		return "", fmt.Errorf("the definition cannot be read: %w", err)
	}
	if len(content) > maxDefinitionFile {
		return "", fmt.Errorf("%s is longer than %d kB, too long for a grid definition", path, maxDefinitionFile>>10)
	}
	return strings.Join(strings.Fields(string(content)), " "), nil
}
