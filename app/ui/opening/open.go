package opening

import (
	"context"
	"slices"

	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// reopenAbove is the memory of a picture, in bytes, above which it is closed before
// another one is decoded.
const reopenAbove = 64 << 20

// heavy reports whether a picture takes more memory than reopenAbove, or will in a
// moment.
func heavy(p *pyramid.Pyramid) bool {
	size := p.Size()
	return p.Stats().PictureBytes > reopenAbove || !p.Ready(0) && size.X*size.Y > reopenAbove
}

// open opens a picture, once it is clear what it is to become.
func (m *machine) open(path string) {
	if m.state == Asking {
		m.interrupt()
		m.restore("")
	}
	sheet, ok := m.s.Sheet()
	switch {
	case onDemo(m.s) && m.s.Dirty():
		m.ask(Question{Kind: DemoChanged, Path: path})
	case onDemo(m.s):
		m.start(&job{wanted: wanted{path: path}, use: NewPlan, choosePage: true})
	case !ok || untouched(m.s.Plan(), sheet) || onlySheetOf(m.s.Plan(), path):
		m.start(&job{wanted: wanted{path: path}, use: InPlace, choosePage: true})
	default:
		m.ask(Question{Kind: WhichSheet, Path: path})
	}
}

// openPage opens the page that was chosen. The same page at another resolution stays
// the same sheet.
func (m *machine) openPage(q Question, page plan.Page) {
	shown := q.Picture.Page
	if page == shown {
		return
	}
	j := &job{wanted: wanted{path: q.Path, page: page}, use: InPlace}
	sheet, ok := m.s.Sheet()
	switch {
	case page.Number == shown.Number && ok && m.shown.is(sheet):
		j.use = Redrawn
	case q.Beside:
		j.use = Another
	}
	m.start(j)
}

// openOwn opens the picture of the sheet in hand.
func (m *machine) openOwn() {
	m.cleared = false
	sheet, ok := m.s.Sheet()
	switch {
	case !ok:
		m.rest()
	case !m.reach.withholds(sheet.Picture):
		m.start(&job{wanted: wanted{path: sheet.Picture, page: sheet.Page, sheet: &sheet}, use: Own})
	case slices.Contains(m.reach.declined, sheet.Picture):
		m.rest()
		m.host.Tell(Report{Reason: Withheld, Path: sheet.Picture})
	default:
		m.rest()
		m.ask(Question{Kind: OutsideFolder, Path: sheet.Picture})
	}
}

// start begins a job, in place of the one under way.
func (m *machine) start(j *job) {
	m.interrupt()
	m.withdraw()
	if m.shown != nil && heavy(m.shown.Pyramid) {
		m.cleared = true
		m.clear()
	}
	j.side = scan.DefaultSide
	if m.opt.Side != nil {
		j.side = max(j.side, m.opt.Side())
	}
	j.reading = m.from.takeAhead(j.wanted)
	m.job, m.state = j, Looking
	m.slot.Start(Name(j.path), func(ctx context.Context, tell func(jobs.Progress)) error {
		return j.reading.follow(ctx, tell, func(a arrival) { m.opt.Later(func() { m.arrived(j, a) }) })
	}, func(error) { m.readingEnded(j) })
}

// interrupt ends the job under way without a word, and closes what it brought unless
// that is worked on. A question about it is taken away.
func (m *machine) interrupt() {
	j := m.job
	if j == nil {
		return
	}
	if m.state == Asking || m.asked.now.Kind == WhichPage {
		m.withdraw()
	}
	m.job = nil
	j.reading.cancel()
	m.slot.Cancel()
	if j.picture != nil && j.picture != m.shown {
		m.from.close(j.picture)
	}
	seen := m.state == Preview
	m.cleared = m.cleared || m.state == Usable // its rest is missing
	m.rest()
	if seen {
		m.host.Show(Shown{Picture: m.shown})
	}
}

// cancel is Desk.Cancel.
func (m *machine) cancel() bool {
	j := m.job
	if j == nil {
		return false
	}
	worked := j.before != nil && m.s.Plan() != j.made
	if worked {
		j.before, j.aside = nil, nil // the work since then stays, without its picture
	}
	bare := j.use == Own || worked
	m.undo(j)
	m.host.Tell(Report{Reason: Cancelled, Path: j.path, Use: j.use, Bare: bare, Back: j.aside != nil, Rest: m.past.rest(j.path)})
	if bare {
		m.cleared = false
		m.rest()
		return true
	}
	m.restore("")
	return true
}

// undo ends a job, takes its picture off the sheet, and undoes what it did to the
// plan.
func (m *machine) undo(j *job) {
	off, cleared := j.picture != nil && j.picture == m.shown, m.cleared
	m.interrupt()
	m.cleared = cleared
	if off {
		m.takeOff()
	}
	if j.before != nil {
		_ = m.act(func() error { j.back(m); return nil })
	}
	m.rest()
	if off {
		m.host.Show(Shown{})
	}
}

// restore brings back the picture of the sheet in hand, if it was removed for a job
// that came to nothing. failed is a path that cannot be opened, or "".
func (m *machine) restore(failed string) {
	sheet, ok := m.s.Sheet()
	if m.cleared && ok && sheet.Picture != failed {
		m.openOwn()
		return
	}
	m.cleared = false
	m.rest()
}
