package ui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"legwright/app/session"
	"legwright/mapio/planfile"
)

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
		b.picture.leave()
		b.leaveStraight()
		_ = b.s.Close(false)
		b.window.SetCloseIntercept(nil)
		b.window.Close()
	})
}
