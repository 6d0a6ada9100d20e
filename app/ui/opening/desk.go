package opening

import (
	"errors"
	"time"

	"legwright/app/session"
	"legwright/app/ui/jobs"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// Shown is what the sheet shows.
type Shown struct {
	Picture *Picture // nil: nothing
	Preview bool     // it may only be looked at: nothing may be read off it or set on it
	Fresh   bool     // the plan has it as a sheet from now on, by Use
	Use     Use
}

// Host is the window, as far as a desk needs it. All is called on the main thread.
type Host interface {
	// Show is called when the sheet shows something else than before.
	Show(Shown)
	// Progress is called when an opening begins, has come further, or has ended:
	// see Desk.Job.
	Progress()
	// Tell says what came of something, and reports whether a question about it now
	// waits: then no further one of the dropped files is opened.
	Tell(Report) (asks bool)
	// Ask puts a question in place of the one before; Desk.Answer answers it. A
	// Question without a Kind only takes the one before away.
	Ask(Question)
}

// Options are what a desk is made with besides.
type Options struct {
	// Later runs a function on the main thread. It may be called from any goroutine.
	Later func(func())
	// Side returns the longer side of the window in pixels, for previews; nil means
	// scan.DefaultSide.
	Side func() int
	// Sharper is called when a level of the picture shown has become sharper; may be
	// nil.
	Sharper func(level int)
}

// Desk opens pictures and decides what the sheet shows. Make it with New. It belongs
// to the main thread.
type Desk struct{ m *machine }

// New makes a desk for a session. It listens to the session from then on: whatever
// sheet is in hand, its picture is shown.
func New(s *session.Session, from *Source, host Host, opt Options) *Desk {
	return &Desk{newMachine(s, from, host, &opt)}
}

// State returns where the desk stands.
func (d *Desk) State() State { return d.m.state }

// Picture returns the picture that can be worked on, and whether there is one.
func (d *Desk) Picture() (Picture, bool) {
	if d.m.shown == nil {
		return Picture{}, false
	}
	return *d.m.shown, true
}

// Pyramid returns the tiles of the picture that can be worked on, or nil.
func (d *Desk) Pyramid() *pyramid.Pyramid {
	if d.m.shown == nil {
		return nil
	}
	return d.m.shown.Pyramid
}

// Preview returns the tiles of a picture that may only be looked at, or nil.
func (d *Desk) Preview() *pyramid.Pyramid {
	if d.m.state != Preview {
		return nil
	}
	return d.m.job.picture.Pyramid
}

// Job returns the opening under way, and whether there is one.
func (d *Desk) Job() (jobs.Job, bool) { return d.m.slot.Now() }

// Source returns what openings draw on.
func (d *Desk) Source() *Source { return d.m.from }

// Open opens a picture that a person chose by itself. It asks what the picture is to
// become, unless there is only one thing it can be, before anything of it is read:
// only one large picture is in memory at a time.
func (d *Desk) Open(path string) {
	path = absolute(path)
	if d.m.past.batch.next() != path {
		d.EndBatch()
	}
	d.m.open(path)
}

// Add opens a picture as another sheet of the plan.
func (d *Desk) Add(path string) {
	d.EndBatch()
	d.m.start(&job{wanted: wanted{path: absolute(path)}, use: Another, choosePage: true})
}

// Find opens the picture of the sheet in hand that a person found at a path.
func (d *Desk) Find(path string) {
	d.EndBatch()
	if sheet, ok := d.m.s.Sheet(); ok {
		d.m.start(&job{wanted: wanted{path: absolute(path), page: sheet.Page}, use: Found})
	}
}

// AskPage asks for another page of the document that is shown, or another resolution,
// and reports whether there is one.
func (d *Desk) AskPage() bool {
	if p := d.m.shown; p != nil && p.Page.Number > 0 && d.m.state != Asking {
		d.m.ask(Question{Kind: WhichPage, Path: p.Path, Picture: p})
		return true
	}
	return false
}

// Cancel ends the opening under way and brings back what was there before. If the plan
// was changed since its picture was shown, the plan stays and only the picture goes. It
// reports whether there was one.
func (d *Desk) Cancel() bool { return d.m.cancel() }

// SetReach sets the folders from which the pictures of a plan may open. Call it
// before the session takes that plan.
func (d *Desk) SetReach(r planfile.Reach) { d.m.setReach(r) }

// Withheld reports whether a picture lies outside the plan's folder and nobody has
// agreed to open it: nothing may touch it then.
func (d *Desk) Withheld(path string) bool { return d.m.reach.withholds(path) }

// Agree notes that a person chose a file that the plan names, so that it is not withheld.
func (d *Desk) Agree(path string) { d.m.reach.chosen(path) }

// errReplaced: the picture's file is no longer the one that was opened.
var errReplaced = errors.New("the picture's file has changed since you opened it. The plan keeps the picture that it was made on. To decide whether to use the new picture, open the plan again")

// CheckFile looks, away from the window, whether the file of the picture shown is
// still the one that was opened, and tells FileChanged if it is not. The plan keeps
// the hash of the picture it was made on.
func (d *Desk) CheckFile() {
	m := d.m
	p := m.shown
	if p == nil || p.mark == ([32]byte{}) {
		return
	}
	go func() {
		fsys, name := m.from.folder(p.Path, p.Page)
		now, err := scan.Mark(fsys, name)
		if err == nil && now != p.mark {
			err = errReplaced
		}
		if err == nil {
			return
		}
		m.opt.Later(func() {
			if m.shown == p {
				m.host.Tell(Report{Reason: FileChanged, Path: p.Path, Err: withName(p.Path, err)})
			}
		})
	}()
}

// closeWithin is how long Close waits.
const closeWithin = 5 * time.Second

// Close ends the desk: it cancels what is being opened and closes all pictures, so
// that what is being stored leaves no unfinished file behind. It waits for that, but
// not for a drive that does not answer.
func (d *Desk) Close() {
	closed := make(chan struct{})
	end := d.m.end()
	go func() {
		defer close(closed)
		end()
	}()
	select {
	case <-closed:
	case <-time.After(closeWithin):
	}
}
