package opening

import (
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/jobs"
)

// State is where the desk stands; the package's comment has the table.
type State int

// The states of the desk.
const (
	Empty   State = iota // no picture, and the plan has no sheet that wants one
	Looking              // a file is read; the sheet shows what it showed, or nothing
	Preview              // its preview can be looked at; nothing may be read off it or set on it
	Asking               // it waits for an answer before it is used
	Usable               // it can be worked on while the rest is read
	Whole                // the picture is complete
	Copy                 // a copy from the store is shown, because the file cannot be read
	Failed               // the plan's sheet has a picture, but it is not shown
)

var stateNames = [...]string{"empty", "looking", "preview", "asking", "usable", "whole", "copy", "failed"}

func (s State) String() string { return stateNames[s] }

// Use is what becomes of a picture that is opened.
type Use int

// The uses of a picture.
const (
	Own     Use = iota // it is the picture of the sheet shown; the plan stays as it is
	InPlace            // it takes the place of the sheet shown
	Another            // it becomes another sheet of the plan
	NewPlan            // it becomes the only sheet of a new plan
	Found              // it is the picture of the sheet shown, found at this path
	Redrawn            // it is the page of the sheet shown, drawn at another resolution
)

// machine is what a Desk does: the state, what the sheet shows, and the job under way.
type machine struct {
	s     *session.Session
	from  *Source
	host  Host
	opt   *Options
	slot  *jobs.Slot
	state State

	shown   *Picture   // what can be worked on, or nil
	job     *job       // the opening under way, or what waits for an answer; or nil
	cleared bool       // what the sheet showed before the job must be read again if that comes to nothing
	hand    plan.Sheet // the sheet that the picture was last chosen for
	acting  bool       // the machine itself changes the plan

	asked *asked
	reach *reach
	past  *past
}

func newMachine(s *session.Session, from *Source, host Host, opt *Options) *machine {
	m := &machine{
		s: s, from: from, host: host, opt: opt, slot: jobs.NewSlot(opt.Later),
		asked: &asked{}, reach: &reach{}, past: &past{},
	}
	m.slot.OnChange(host.Progress)
	s.OnChange(m.planChanged)
	from.desk.Store(m)
	return m
}

// sharper passes on that a level has become sharper.
func (m *machine) sharper(level int) {
	if m.opt.Sharper != nil && (m.shown != nil || m.state == Preview) {
		m.opt.Sharper(level)
	}
}

// storeFault tells each fault of the store, or of reading a picture again, once.
func (m *machine) storeFault(path string, err error) {
	if m.past.firstFault(err) {
		m.host.Tell(Report{Reason: StoreFault, Path: path, Err: withName(path, err)})
	}
}

// rest enters the state of a desk without a job.
func (m *machine) rest() {
	_, wants := m.s.Sheet()
	switch {
	case m.shown == nil && wants:
		m.state = Failed
	case m.shown == nil:
		m.state = Empty
	case m.shown.Copy:
		m.state = Copy
	default:
		m.state = Whole
	}
}

// takeOff closes the picture that is worked on.
func (m *machine) takeOff() {
	if m.shown != nil {
		m.from.close(m.shown)
	}
	m.shown = nil
}

// clear leaves the sheet without a picture.
func (m *machine) clear() {
	m.takeOff()
	m.rest()
	m.host.Show(Shown{})
}

// act changes the plan for a job: the machine itself shows the picture that belongs to
// it then.
func (m *machine) act(change func() error) error {
	m.acting = true
	err := change()
	m.acting = false
	m.hand, _ = m.s.Sheet()
	return err
}

// planChanged follows the session: the picture of the sheet in hand is shown, and no
// other one for a moment, for readings on the wrong picture would look right.
func (m *machine) planChanged(c session.Change) {
	other := c.What.Has(session.PlanReplaced)
	if other {
		m.past.seen = nil
	}
	if m.acting || !c.What.Has(session.SheetShown|session.SheetsChanged) {
		return
	}
	sheet, ok := m.s.Sheet()
	was := m.hand
	m.hand = sheet
	same := sheet.ID == was.ID && sheet.SHA256 == was.SHA256 && sheet.Picture == was.Picture && sheet.Page == was.Page
	switch {
	case !other && same:
	case ok && !other && m.shown.is(sheet):
		m.keep(sheet)
	default:
		m.interrupt()
		m.clear()
		m.openOwn()
	}
}

// keep keeps what is shown for a sheet whose picture it is. An opening of something
// else was meant for the plan as it stood before.
func (m *machine) keep(sheet plan.Sheet) {
	p := *m.shown
	p.Path = sheet.Picture
	if m.job != nil && m.job.picture == m.shown {
		m.job.picture, m.shown = &p, &p
		return
	}
	m.shown = &p
	m.interrupt()
	m.restore("")
}

// end closes everything, and returns what waits for that.
func (m *machine) end() (wait func()) {
	all, ahead := []*Picture{m.shown}, m.from.ahead
	if j := m.job; j != nil {
		all = append(all, j.picture)
		if j.reading != nil {
			all = append(all, j.reading.shown())
		}
	}
	m.slot.Cancel()
	m.job, m.shown, m.state, m.from.ahead = nil, nil, Empty, nil
	return func() {
		if ahead != nil {
			ahead.abandon()
		}
		for _, p := range all {
			if p != nil {
				p.Pyramid.Close()
			}
		}
		m.slot.Wait(closeWithin)
		m.from.closing.Wait()
	}
}
