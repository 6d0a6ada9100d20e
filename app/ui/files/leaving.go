package files

import (
	"time"

	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
)

// leaving is the way to the end of the program.
type leaving struct {
	Needs
	saver    *Saver
	exports  []*jobs.Slot  // whose files are lost if the program ends
	question *ask.Question // the latest one about them
}

// Leave calls end once nothing would be lost by ending the program: it asks about
// unsaved work, and about an export that is under way.
func (r *Room) Leave(end func()) {
	if l := r.leaving; !l.question.Open() {
		l.saver.Guard(func() { l.askExports(end) })
	}
}

// askExports asks what is to become of an export that is under way, and calls end if
// there is none.
func (l *leaving) askExports(end func()) {
	slot, title := l.underWay()
	if slot == nil {
		end()
		return
	}
	l.question = l.Dialogs.Question(title, "This file is not finished. If you close now, it will not be written.", nil,
		ask.Answer{Text: "Cancel"},
		ask.Answer{Text: "Close anyway", Do: func() { l.giveUp(); end() }},
		ask.Answer{Text: "Wait, then close", Do: func() { l.wait(slot, end) }, Default: true})
}

// underWay returns the first slot whose export is under way and what that is called, or
// nil.
func (l *leaving) underWay() (slot *jobs.Slot, title string) {
	for _, s := range l.exports {
		if job, on := s.Now(); on {
			return s, job.Title
		}
	}
	return nil, ""
}

// wait goes on once an export has ended. If it failed, a dialog says why, and the
// program stays.
func (l *leaving) wait(slot *jobs.Slot, end func()) {
	if _, on := slot.Now(); !on {
		l.askExports(end)
		return
	}
	answered := l.Session.Plan()
	l.Foot.Say("Legwright closes once the file is written.")
	slot.Then(func() {
		switch {
		case l.Dialogs.Waiting():
		case l.Session.Plan() == answered:
			l.askExports(end)
		default: // what was done meanwhile may be unsaved
			l.saver.Guard(func() { l.askExports(end) })
		}
	})
}

// giveUp cancels the exports, and waits a moment until their unfinished files are
// removed.
func (l *leaving) giveUp() {
	const within = 2 * time.Second
	for _, s := range l.exports {
		if s.Cancel() {
			s.Wait(within)
		}
	}
}
