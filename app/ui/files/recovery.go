package files

import (
	"fmt"

	"fyne.io/fyne/v2"

	"legwright/app/ui/ask"
	"legwright/mapio/planfile"
)

// Recovery offers the work that crashed benches left in their journals.
type Recovery struct {
	Needs
	opener   *Opener
	dirs     []string          // the folders that may hold journals
	own      *planfile.Journal // of this bench, nil without one
	question *ask.Question     // that offers to restore
}

func newRecovery(n Needs, o *Opener) *Recovery { return &Recovery{Needs: n, opener: o} }

// Journals sets where the journals of benches are, and this bench's own.
func (r *Recovery) Journals(dirs []string, own *planfile.Journal) { r.dirs, r.own = dirs, own }

// Button is the button that restores, while that is offered, else nil.
func (r *Recovery) Button() fyne.CanvasObject {
	if !r.question.Open() {
		return nil
	}
	return r.question.Default()
}

// Offer offers unsaved work, piece by piece, the newest first, until the person
// restores one: then it calls restored. If none is restored it calls otherwise. It
// reports whether there was any.
func (r *Recovery) Offer(restored, otherwise func()) bool {
	list, err := planfile.Pending(r.dirs)
	if err != nil {
		r.Foot.Fail(fmt.Errorf("there may be unsaved work from last time, but its folder cannot be read: %w", err))
	}
	if len(list) == 0 {
		return false
	}
	(&offer{r: r, list: list, all: len(list), restored: restored, otherwise: otherwise}).next()
	return true
}

// Ask offers unsaved work from the menu.
func (r *Recovery) Ask() {
	r.opener.saver.Guard(func() {
		if !r.Offer(func() {}, func() {}) {
			r.Foot.Say("There is no unsaved work to restore.")
		}
	})
}

// offer asks about each piece of unsaved work in turn.
type offer struct {
	r                   *Recovery
	list                []planfile.Recovery // not answered yet; the first is asked about
	all, kept           int
	restored, otherwise func()
}

// next asks about the next piece of work, or ends the offer.
func (o *offer) next() {
	if len(o.list) == 0 {
		o.otherwise()
		o.sayKept("")
		return
	}
	title := "Unsaved work found"
	if o.all > 1 {
		title += fmt.Sprintf(" (%d of %d)", o.all-len(o.list)+1, o.all)
	}
	o.r.question = o.r.Dialogs.Question(title, unsavedWords(o.list[0]), o.later,
		ask.Answer{Text: "Discard…", Do: o.askDiscard},
		ask.Answer{Text: "Not now", Do: o.later},
		ask.Answer{Text: "Restore", Do: o.restore, Default: true})
}

// unsavedWords name the plan and its last kept change.
func unsavedWords(r planfile.Recovery) string {
	name, last := "a plan without a file", "the last change"
	if r.Path != "" {
		name = r.Path
	}
	if n := len(r.Steps); n > 0 {
		last = "“" + r.Steps[n-1] + "”"
	}
	return fmt.Sprintf("Legwright closed unexpectedly with unsaved changes to %s. Those up to and including %s, at %s, were kept.\n\nRestore them?",
		name, last, r.At.Local().Format("15:04:05 on 2 January 2006"))
}

// later keeps the work for another time.
func (o *offer) later() {
	o.kept++
	o.list = o.list[1:]
	o.next()
}

// askDiscard asks again before unsaved work is deleted.
func (o *offer) askDiscard() {
	o.r.Dialogs.Question("Discard the unsaved work?", "You cannot restore it afterwards.", o.later,
		ask.Answer{Text: "Keep", Do: o.later, Default: true},
		ask.Answer{Text: "Discard", Do: o.discard})
}

func (o *offer) discard() {
	err := o.list[0].Discard()
	o.list = o.list[1:]
	o.next()
	o.r.Foot.Fail(err)
}

// restore opens the work. Pieces not yet asked about are offered again another time.
func (o *offer) restore() {
	r, work := o.r, o.list[0]
	err := work.Plan.Validate()
	if err == nil {
		r.Desk.SetReach(reachOfWork(work, *r.Known))
		err = r.Session.RecoverAs(work.Path, work.Base, work.Plan)
	}
	if err != nil {
		o.later()
		r.Dialogs.Refuse("The unsaved work cannot be restored", err)
		return
	}
	o.kept += len(o.list) - 1
	r.discardOnceKept(work)
	r.Host.PlanOpened(false)
	o.sayKept("The unsaved work is restored. Save it now. ")
	r.opener.tellMended()
	o.restored()
}

// reachOfWork returns the folders from which the pictures of unsaved work may open.
// Work that was never in a file has only pictures that the person chose here.
func reachOfWork(r planfile.Recovery, known planfile.Known) planfile.Reach {
	if r.Path == "" {
		return planfile.Reach{}
	}
	return known.Reach(r.Path, r.Base, r.Plan)
}

// sayKept says what was done, and that other work is kept for later.
func (o *offer) sayKept(done string) {
	switch {
	case o.kept > 0:
		done += "The other unsaved work is kept: File → Restore unsaved work…"
	case done == "":
		return
	}
	o.r.Foot.Say(done)
}

// discardOnceKept deletes the journal of a crashed bench once this bench's own journal
// has the work on the disk: a second crash in between must not lose both.
func (r *Recovery) discardOnceKept(work planfile.Recovery) {
	if own := r.own; own != nil {
		go func() {
			if own.Flush() == nil {
				_ = work.Discard() // after a failure it is offered once more
			}
		}()
	}
}
