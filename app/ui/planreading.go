package ui

import (
	"errors"
	"os"
	"path/filepath"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// planReading is the reading of a plan's file beside the window: thousands of marks,
// or hundreds of control points, take seconds. Opening anything else cancels it.
type planReading struct {
	turn int // counts readings and cancellations: a result of an older turn is ignored
	view *progressView
}

// readPlan is a plan as read, and the folders from which its pictures may open.
type readPlan struct {
	session.Opened
	reach planfile.Reach
}

// openPlan reads a plan file beside the window, and opens it with the picture it
// names.
func (b *Bench) openPlan(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	b.cancelReading()
	r := &b.reading
	r.view = newProgressView(b, filepath.Base(path), func() { b.stopReading(path) })
	r.view.Tell("Reading the plan…", -1)
	turn, before, known := r.turn, b.s.Plan(), b.known
	go func() {
		o, err := b.s.Read(path)
		p := readPlan{Opened: o}
		if err == nil {
			p.reach = known.Reach(path, o.Stamp, o.Plan)
		}
		b.later(func() {
			if turn == b.reading.turn {
				b.planRead(path, p, err, before)
			}
		})
	}()
}

// planRead opens the plan that was read, or shows the error. If the person changed
// the plan before it in the meantime, it asks first.
func (b *Bench) planRead(path string, p readPlan, err error, before *plan.Plan) {
	b.cancelReading()
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			b.set.forget(path)
		}
		b.refuseFile("This plan cannot be opened", err, b.desk.EndBatch())
		return
	}
	if b.s.Plan() == before {
		b.takePlan(p)
		return
	}
	b.guard(func() { b.openPlan(path) }) // anew: the plan that was saved now may be in that file
}

// stopReading cancels the reading, and the opening of files dropped together with
// the plan.
func (b *Bench) stopReading(path string) {
	b.cancelReading()
	b.desk.EndBatch()
	b.say("Cancelled: " + filepath.Base(path) + " was not opened.")
}

// takePlan replaces the open plan by one that was read.
func (b *Bench) takePlan(p readPlan) {
	b.desk.SetReach(p.reach)
	b.s.Take(p.Opened)
	b.set.remember(p.Path)
	b.goTo(postRoute)
	b.say("Opened " + filepath.Base(p.Path) + ".")
	b.tellMended()
	b.tellLeft(b.desk.EndBatch())
}

// cancelReading ends the reading of a plan, if one is under way.
func (b *Bench) cancelReading() {
	b.reading.turn++
	b.reading.view.close()
	b.reading.view = nil
}
