package ui

import (
	"errors"
	"os"
	"path/filepath"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// planReading is a plan's file that is read beside the window: thousands of marks,
// or hundreds of control points, take their time. Whatever is opened afterwards
// cancels it.
type planReading struct {
	turn int // counts readings, and what cancels one
	view *progressView
}

// readPlan is a plan that was read, and from where its pictures open.
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
	r.view.words.SetText("Reading and checking the plan…")
	r.view.bar.Hide() // nobody knows how long it takes
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

// planRead takes the plan that was read, unless it could not be. What was done to the
// plan before in the meantime must not be lost without a question.
func (b *Bench) planRead(path string, p readPlan, err error, before *plan.Plan) {
	b.cancelReading()
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			b.set.forget(path)
		}
		b.refuseOpening("This plan cannot be opened", err)
		return
	}
	if b.s.Plan() == before {
		b.takePlan(p)
		return
	}
	b.guard(func() { b.takePlan(p) })
}

// stopReading cancels the reading, as its button says, and with it what was dropped
// together with the plan.
func (b *Bench) stopReading(path string) {
	b.cancelReading()
	b.sheets.queue, b.sheets.drop = nil, dropState{}
	b.say(filepath.Base(path) + " was not opened: cancelled.")
}

// takePlan puts a plan that was read in place of the one that is open.
func (b *Bench) takePlan(p readPlan) {
	b.s.Take(p.Opened)
	b.set.remember(p.Path)
	b.endImport()
	b.clearPicture()
	b.reachOf(p.reach)
	b.goTo(postRoute)
	b.say("Opened " + filepath.Base(p.Path) + ".")
	b.tellMended()
	b.openPlanPicture()
	b.dropOpened(p.Path)
}

// cancelReading ends the reading of a plan, if there is one.
func (b *Bench) cancelReading() {
	b.reading.turn++
	b.reading.view.close()
	b.reading.view = nil
}
