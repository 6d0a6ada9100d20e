package files

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/atomicfile"
	"legwright/mapio/planfile"
)

// Saver saves the plan, and asks what is to become of unsaved work before it would be
// lost.
type Saver struct {
	Needs
	job      *jobs.Slot
	question *ask.Question // the latest one about unsaved work
}

func newSaver(n Needs) *Saver { return &Saver{Needs: n, job: jobs.NewSlot(n.Later)} }

// Asking reports whether the question about unsaved work is open.
func (v *Saver) Asking() bool { return v.question.Open() }

// Save writes the plan to its file, or asks for one. then, which may be nil, is called
// once the plan is saved.
func (v *Saver) Save(then func()) {
	switch {
	case !v.Host.TakeTyping():
	case v.Session.Path() == "":
		v.SaveAs(then)
	default:
		v.write("", then)
	}
}

// SaveAs asks for a file and writes the plan to it.
func (v *Saver) SaveAs(then func()) {
	if !v.Host.TakeTyping() {
		return
	}
	v.Dialogs.SavePath(ask.Path{
		Title: "Save the plan", Verb: "Save", Start: v.suggest(planfile.Ext), Endings: []string{planfile.Ext},
		Done: func(path string) { v.write(path, then) },
	})
}

// write writes the plan to a file, "" for its own, beside the window. over lists what
// the person agreed to replace.
func (v *Saver) write(path string, then func(), over ...session.Over) {
	if _, busy := v.job.Now(); busy {
		v.Foot.Say("The plan is still being saved. Try again in a moment.")
		return
	}
	w, err := v.Session.BeginSave(path, over...)
	if err != nil {
		v.Dialogs.Refuse("The plan was not saved", err)
		return
	}
	v.job.Start("Saving the plan", func(context.Context, func(jobs.Progress)) error { return w.Write() }, func(err error) {
		switch {
		case !v.Session.Saves(w): // what follows would be done to the plan that is open now
			v.Foot.Try(err, "The previous plan was saved.")
		case errors.Is(err, session.ErrChangedOnDisk):
			v.askOver(then, over)
		case err != nil:
			v.askReadOnly("The plan was not saved", err, func() { v.write(path, then, append(over, session.OverReadOnly)...) })
		default:
			v.Session.EndSave(w)
			v.saved(then)
		}
	})
}

func (v *Saver) saved(then func()) {
	path := v.Session.Path()
	v.Settings.Remember(path)
	v.noteSaved()
	v.Foot.Say("Saved " + filepath.Base(path) + ".")
	v.Desk.CheckFile()
	if then != nil {
		v.Guard(then) // the plan may have been changed while it was written
	}
}

// noteSaved notes that the plan was saved here, so that the next start opens its
// pictures without asking. While a picture still waits for an answer it notes nothing:
// whoever saves somebody else's plan has not agreed to its pictures.
func (v *Saver) noteSaved() {
	waits := func(s plan.Sheet) bool { return v.Desk.Withheld(s.Picture) }
	if !slices.ContainsFunc(v.Session.Plan().Sheets, waits) {
		_ = v.Known.Saved(v.Session.Path(), v.Session.Stamp()) // after a failure the bench asks again
	}
}

// askReadOnly asks whether to overwrite a file that err calls read-only, and shows
// every other error.
func (n Needs) askReadOnly(title string, err error, overwrite func()) {
	readOnly := new(atomicfile.ReadOnly)
	if !errors.As(err, &readOnly) {
		n.Dialogs.Refuse(title, err)
		return
	}
	n.Dialogs.Overwrite("The file is read-only", filepath.Base(readOnly.Path)+" is read-only. Overwrite it?", overwrite)
}

// askOver asks before it overwrites what another program wrote.
func (v *Saver) askOver(then func(), over []session.Over) {
	v.Dialogs.Question("The plan's file has changed",
		"The plan's file has changed since you opened or saved it, perhaps in another window. Overwriting it loses those changes.", nil,
		ask.Answer{Text: "Cancel"},
		ask.Answer{Text: "Overwrite", Do: func() { v.write("", then, append(over, session.OverChanged)...) }},
		ask.Answer{Text: "Save under another name", Do: func() { v.SaveAs(then) }, Default: true})
}

// Guard calls then if no unsaved work would be lost, and otherwise asks first.
func (v *Saver) Guard(then func()) {
	if v.Asking() {
		return
	}
	_, saving := v.job.Now()
	taken := v.Host.TakeTyping() // what is refused counts as unsaved
	if taken && !saving && !v.Session.Dirty() {
		then()
		return
	}
	v.question = v.Dialogs.Question("There is unsaved work", "The plan has unsaved changes.", nil,
		ask.Answer{Text: "Cancel"},
		ask.Answer{Text: "Discard", Do: then},
		ask.Answer{Text: "Save", Do: func() { v.Save(then) }, Default: true})
}

// Folder is where dialogs begin to look for files.
func (v *Saver) Folder() string { return filepath.Dir(v.suggest("")) }

// suggest offers a path with an ending: beside the plan's file, else beside the sheet's
// picture, else in the home folder, and named after the plan.
func (v *Saver) suggest(ending string) string {
	if p := v.Session.Path(); p != "" {
		return strings.TrimSuffix(p, filepath.Ext(p)) + ending
	}
	name := fileName(v.Session.Plan().Title)
	if name == "" {
		name = fileName(routeName(v.Session.Plan()))
	}
	if p := v.Session.PicturePath(); filepath.IsAbs(p) {
		return filepath.Join(filepath.Dir(p), name+ending)
	}
	home, err := os.UserHomeDir()
	if err != nil {
		home = string(filepath.Separator)
	}
	return filepath.Join(home, name+ending)
}

// routeName names a plan without a title after the ends of its route, else after its
// date.
func routeName(p *plan.Plan) string {
	if n := len(p.Legs); n > 0 {
		labels := p.Labels()
		return labels.Of(p.Legs[0].From) + " to " + labels.Of(p.Legs[n-1].To)
	}
	if p.Date.IsZero() {
		return "walk"
	}
	return fmt.Sprintf("walk %s", p.Date)
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
