package files

import (
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/app/ui/opening"
	"legwright/mapio/planfile"
)

// Host is the window around the room.
type Host interface {
	// TakeTyping hands over what is being typed into a field of the plan, before the
	// plan is saved or exported. It reports false if the field refuses it; the field
	// says why.
	TakeTyping() bool
	// PlanOpened shows a plan that was opened in place of another, or an empty one.
	PlanOpened(empty bool)
	// Busy is called when a job of the room begins, comes further or ends.
	Busy()
	// PictureOpened uses what the file of a picture says of where the map lies.
	PictureOpened(opening.Report)
}

// Needs is what the room works with.
type Needs struct {
	Session  *session.Session
	Foot     *foot.Line
	Dialogs  *ask.Dialogs
	Desk     *opening.Desk // opens pictures
	Settings *Settings
	Known    *planfile.Known // across starts: pictures outside a plan's folder
	Host     Host
	Later    func(func()) // runs a function on the main thread
}

// Room is everything that a person does with files.
type Room struct {
	Saver    *Saver
	Exchange *Exchange
	Rectify  *Rectifier
	Opener   *Opener
	Recovery *Recovery
	Pictures *Pictures
	Terrain  *Terrain
	Packing  *Packing
	Settings *Settings
	leaving  *leaving
}

// New makes the room.
func New(n Needs) *Room {
	r := &Room{Saver: newSaver(n), Settings: n.Settings}
	r.Exchange = newExchange(n, r.Saver)
	r.Rectify = newRectifier(n, r.Saver)
	r.Terrain = newTerrain(n, r.Saver)
	r.Packing = newPacking(n, r.Saver)
	r.Opener = newOpener(n, r.Saver, r.Exchange, r.Terrain, r.Packing)
	r.Recovery = newRecovery(n, r.Opener)
	r.Pictures = newPictures(n, r.Saver)
	r.leaving = &leaving{Needs: n, saver: r.Saver, exports: []*jobs.Slot{r.Exchange.writing, r.Rectify.job, r.Packing.writing}}
	n.Session.OnChange(r.follow)
	return r
}

// follow notes which plan is open, for the next start, and ends what was begun for the
// plan before.
func (r *Room) follow(c session.Change) {
	if c.What.Has(session.FileChanged) {
		r.Opener.Settings.SetLast(r.Opener.Session.Path())
	}
	if c.What.Has(session.PlanReplaced) {
		r.Opener.job.Cancel()
		r.Exchange.taking.Cancel()
		r.Packing.unpacking.Cancel()
	}
}

// showJob shows over the window how far the job of a slot has come, in words, with a
// button that cancels it.
func (n Needs) showJob(slot *jobs.Slot, words func(jobs.Job) string, cancel func()) {
	var view *ask.Progress
	slot.OnChange(func() {
		n.Host.Busy()
		job, on := slot.Now()
		switch {
		case !on:
			view.Close()
			view = nil
			return
		case view == nil:
			view = n.Dialogs.Progress(job.Title, cancel)
		}
		share, known := job.Progress.Share()
		if !known {
			share = -1
		}
		view.Tell(words(job), share)
	})
}
