package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	"legwright/mapio/planfile"
)

// save writes the plan to its file, or asks for one. over lists what the person
// agreed to replace.
func (b *Bench) save(then func(), over ...session.Over) {
	if !b.takeTyping() {
		return
	}
	err := b.s.Save(over...)
	switch {
	case errors.Is(err, session.ErrNoPath):
		b.saveAs(then)
	case errors.Is(err, session.ErrChangedOnDisk):
		b.askOver(then, over)
	case err != nil:
		b.askReadOnly("The plan was not saved", err, func() { b.save(then, append(over, session.OverReadOnly)...) })
	default:
		b.saved(then)
	}
}

func (b *Bench) saved(then func()) {
	b.set.remember(b.s.Path())
	b.rememberSaved()
	b.say("Saved " + filepath.Base(b.s.Path()) + ".")
	b.desk.CheckFile()
	if then != nil {
		then()
	}
}

// askOver asks before it overwrites what another program wrote.
func (b *Bench) askOver(then func(), over []session.Over) {
	text := "The plan's file has changed since you opened it, perhaps in another window. To overwrite it loses those changes."
	b.question("The plan's file has changed", text, nil,
		answer{Text: "Cancel"},
		answer{Text: "Overwrite", Do: func() { b.save(then, append(over, session.OverChanged)...) }},
		answer{Text: "Save under another name", Do: func() { b.saveAs(then) }, Default: true})
}

// askReadOnly asks whether to overwrite a file that err calls read-only, and shows
// every other error.
func (b *Bench) askReadOnly(title string, err error, overwrite func()) {
	readOnly := new(atomicfile.ReadOnly)
	if !errors.As(err, &readOnly) {
		b.refuse(title, err)
		return
	}
	text := fmt.Sprintf("%s is read-only. Overwrite it?", filepath.Base(readOnly.Path))
	b.dialogs.Overwrite("The file is read-only", text, overwrite)
}

// saveAs asks for a file and writes the plan to it.
func (b *Bench) saveAs(then func()) {
	if !b.takeTyping() {
		return
	}
	b.dialogs.SavePath(pathAsk{
		Title: "Save the plan", Verb: "Save", Endings: []string{planfile.Ext}, Start: b.suggest(planfile.Ext),
		Done: func(path string) { b.saveTo(path, then) },
	})
}

// saveTo writes the plan to a file that the person chose.
func (b *Bench) saveTo(path string, then func(), over ...session.Over) {
	if err := b.s.SaveAs(path, over...); err != nil {
		b.askReadOnly("The plan was not saved", err, func() { b.saveTo(path, then, session.OverReadOnly) })
		return
	}
	b.saved(then)
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

// guardAsked reports whether guard has asked and waits for the answer.
func (b *Bench) guardAsked() bool { return b.guarding.Open() }

// guard asks what to do with unsaved work before it would be lost.
func (b *Bench) guard(then func()) {
	if b.guardAsked() {
		return
	}
	taken := b.takeTyping() // what is refused counts as unsaved
	if taken && !b.s.Dirty() {
		then()
		return
	}
	b.guarding = b.question("There is unsaved work", "The plan has changes that are not saved.", nil,
		answer{Text: "Cancel"}, answer{Text: "Discard", Do: then}, answer{Text: "Save", Do: func() { b.save(then) }, Default: true})
}

// takeTyping commits the typing that a field of the plan still holds, before
// something is done with the plan as a whole. It reports false where the text
// was refused, which the foot line says.
func (b *Bench) takeTyping() bool {
	if e, ok := b.window.Canvas().Focused().(*widgets.EditField); ok && !e.Commit() {
		return false
	}
	return b.ledger.TakeTyping()
}

// rememberSaved notes that the plan was saved here, so that the next start opens its
// pictures without asking. While a picture still waits for an answer it notes nothing:
// to save somebody else's plan is not to agree to its pictures.
func (b *Bench) rememberSaved() {
	waits := func(s plan.Sheet) bool { return b.desk.Withheld(s.Picture) }
	if !slices.ContainsFunc(b.s.Plan().Sheets, waits) {
		_ = b.known.Saved(b.s.Path(), b.s.Stamp()) // after a failure the bench asks again
	}
}
