package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"legwright/mapio/planfile"
)

// journalState is the journal that keeps unsaved work against a crash.
type journalState struct {
	dirs []string          // the folders it may be in
	file *planfile.Journal // nil in a bench without a journal
}

// stateDirs returns the folders that may hold the journal, the preferred one first:
// the state folder of the XDG base directories, its usual location if that exists,
// and the folder for settings. Unsaved work is looked for in all of them, whichever
// was used last time.
func stateDirs() []string {
	var dirs []string
	if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		dirs = append(dirs, filepath.Join(dir, "legwright"))
	}
	config, err := os.UserConfigDir()
	if home, err := os.UserHomeDir(); err == nil {
		usual := filepath.Join(home, ".local", "state")
		if dir := filepath.Join(usual, "legwright"); isDir(usual) && !slices.Contains(dirs, dir) {
			dirs = append(dirs, dir)
		}
	}
	if err == nil {
		dirs = append(dirs, filepath.Join(config, "legwright", "journal"))
	}
	return dirs
}

func isDir(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// keepIn gives the bench its journal and shows whether it can be written.
func (b *Bench) keepIn(j *planfile.Journal, dirs []string) {
	b.journal = journalState{dirs: dirs, file: j}
	j.OnFault(func() { b.later(b.showUnsafe) })
	b.showUnsafe()
}

// offerUnsaved offers the work of benches that crashed, one after the other, newest
// first, until the person restores one. If none is restored it calls otherwise. It
// reports whether there was any.
func (b *Bench) offerUnsaved(otherwise func()) bool {
	list, err := planfile.Pending(b.journal.dirs)
	if err != nil {
		b.fail(fmt.Errorf("an earlier start may have left unsaved work, but its folder cannot be read: %w", err))
	}
	if len(list) == 0 {
		return false
	}
	(&unsavedOffer{b: b, list: list, all: len(list), otherwise: otherwise}).next()
	return true
}

// askUnsaved offers unsaved work from the menu.
func (b *Bench) askUnsaved() {
	b.guard(func() {
		if !b.offerUnsaved(func() {}) {
			b.say("There is no unsaved work to restore.")
		}
	})
}

// unsavedOffer asks about each piece of unsaved work in turn.
type unsavedOffer struct {
	b         *Bench
	list      []planfile.Recovery // not answered yet; the first is asked about
	all, kept int
	otherwise func()
}

// next asks about the next piece of work, or ends the offer.
func (o *unsavedOffer) next() {
	b := o.b
	b.restore = nil
	if len(o.list) == 0 {
		o.otherwise()
		o.sayKept("")
		return
	}
	title := "Unsaved work found"
	if o.all > 1 {
		title += fmt.Sprintf(" (%d of %d)", o.all-len(o.list)+1, o.all)
	}
	b.restore = b.question(title, unsavedWords(o.list[0]), o.later,
		answer{Text: "Discard…", Do: o.askDiscard},
		answer{Text: "Not now", Do: o.later},
		answer{Text: "Restore", Do: o.restore, Default: true})
	b.probe.touch()
}

// unsavedWords names the plan and its last kept change.
func unsavedWords(r planfile.Recovery) string {
	name, last := "a plan that had no file yet", "its last change"
	if r.Path != "" {
		name = r.Path
	}
	if n := len(r.Steps); n > 0 {
		last = "“" + r.Steps[n-1] + "”"
	}
	return fmt.Sprintf("The program ended without saving %s. Everything up to %s at %s was kept.\n\nRestore it?",
		name, last, r.At.Local().Format("15:04:05 on 2 January 2006"))
}

// later keeps the work for another time.
func (o *unsavedOffer) later() {
	o.kept++
	o.list = o.list[1:]
	o.next()
}

// askDiscard asks again before unsaved work is deleted.
func (o *unsavedOffer) askDiscard() {
	o.b.question("Discard the unsaved work?", "You cannot restore it afterwards.", o.later,
		answer{Text: "Keep", Do: o.later, Default: true},
		answer{Text: "Discard", Do: o.discard})
}

func (o *unsavedOffer) discard() {
	err := o.list[0].Discard()
	o.list = o.list[1:]
	o.next()
	o.b.fail(err)
}

// restore opens the work. Pieces not yet asked about are offered again another time.
func (o *unsavedOffer) restore() {
	b, r := o.b, o.list[0]
	b.restore = nil
	err := r.Plan.Validate()
	if err == nil {
		b.desk.SetReach(reachOfWork(r, b.known))
		err = b.s.RecoverAs(r.Path, r.Base, r.Plan)
	}
	if err != nil {
		o.later()
		b.refuse("The unsaved work cannot be restored", err)
		return
	}
	o.kept += len(o.list) - 1
	b.discardOnceKept(r)
	b.goTo(postRoute)
	o.sayKept("The unsaved work is restored. Save it now. ")
	b.tellMended()
}

// reachOfWork returns the folders from which the pictures of unsaved work may open.
// Work that was never in a file has only pictures that the person chose here.
func reachOfWork(r planfile.Recovery, known planfile.Known) planfile.Reach {
	if r.Path == "" {
		return planfile.Reach{}
	}
	return known.Reach(r.Path, r.Base, r.Plan)
}

// sayKept reports what was done, and that other work is kept for later.
func (o *unsavedOffer) sayKept(done string) {
	switch {
	case o.kept > 0:
		done += "The other unsaved work is kept: File → Restore unsaved work…"
	case done == "":
		return
	}
	o.b.say(done)
}

// discardOnceKept deletes the journal of a crashed bench once this bench's own
// journal has the work on the disk: a second crash in between must not lose both.
func (b *Bench) discardOnceKept(r planfile.Recovery) {
	if own := b.journal.file; own != nil {
		go func() {
			if own.Flush() == nil {
				_ = r.Discard() // after a failure it is offered once more
			}
		}()
	}
}
