package ui

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/mapio/planfile"
)

// open opens one file by itself.
func (b *Bench) open(path string) {
	b.desk.EndBatch()
	b.openAsItIs(path)
}

// openAsItIs opens whatever a path is: a plan, a GPX file, or a picture.
func (b *Bench) openAsItIs(path string) {
	b.cancelReading()
	switch strings.ToLower(filepath.Ext(path)) {
	case planfile.Ext:
		b.guard(func() { b.openPlan(path) })
	case ".gpx":
		b.importGPX(path)
	default:
		b.desk.Open(path)
	}
}

// tellMended says what had to be changed in reading the plan's file, such as
// that a sheet is checked no more.
func (b *Bench) tellMended() {
	var list []string
	for _, text := range b.s.Plan().Mended {
		list = append(list, foot.SentenceOf(text))
	}
	if len(list) > 0 {
		b.tell("Changed in reading the plan", strings.Join(list, "\n\n"))
	}
}

// browse asks for a file to open.
func (b *Bench) browse(title, verb string, endings []string, then func(path string)) {
	b.dialogs.OpenPath(ask.Path{Title: title, Verb: verb, Start: filepath.Dir(b.suggest("")), Endings: endings, Done: then})
}

// dropped opens what is dropped on the window.
func (b *Bench) dropped(_ fyne.Position, list []fyne.URI) {
	paths := make([]string, len(list))
	for i, u := range list {
		paths[i] = u.Path()
	}
	b.openAll(paths)
}

// openAll opens the first of some files, and if all are pictures the others as further
// sheets of its plan. It says what it leaves out.
func (b *Bench) openAll(paths []string) {
	b.cancelReading()
	if first, ok := b.desk.Drop(paths); ok {
		b.openAsItIs(first)
	}
}
