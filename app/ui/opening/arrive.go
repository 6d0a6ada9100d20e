package opening

import (
	"fmt"
	"strings"
)

// arrived takes a picture that a reading brought.
func (m *machine) arrived(j *job, a arrival) {
	switch {
	case m.job != j:
		m.from.close(a.picture)
	case a.usable:
		j.picture = a.picture
		if q, wait := m.question(j); wait {
			m.state = Asking
			m.host.Show(Shown{Picture: m.shown}) // a preview must not be mistaken for the sheet
			m.ask(q)
			return
		}
		m.use(j)
	default:
		j.picture, m.state = a.picture, Preview
		m.cleared = m.cleared || m.shown != nil
		m.takeOff()
		m.host.Show(Shown{Picture: a.picture, Preview: true, Use: j.use})
	}
}

// question returns the question that must be answered before a picture is used, and
// whether there is one.
func (m *machine) question(j *job) (Question, bool) {
	sheet, ok := m.s.Sheet()
	switch j.use {
	case Own:
		return Question{Kind: AnotherPicture, Path: j.path}, ok && !sheet.Embedded() && !j.picture.is(sheet)
	case Found:
		return Question{Kind: AnotherPicture, Path: j.path}, !j.picture.is(sheet)
	case NewPlan:
		kind := PlanChanged
		if onDemo(m.s) {
			kind = DemoChanged
		}
		return Question{Kind: kind, Path: j.path}, m.s.Dirty() && m.s.Plan() != j.agreed
	case InPlace, Another:
		was, ok := replaced(m.s.Plan(), j.picture)
		if ok && was.ID != sheet.ID { // the question is about that sheet
			m.cleared = true
			m.takeOff()
			_ = m.act(func() error { return m.s.ShowSheet(was.ID) }) // the plan has it
		}
		return Question{Kind: AnotherPicture, Path: j.path}, ok
	}
	return Question{}, false
}

// use puts a picture on the sheet, and makes it what its job says.
func (m *machine) use(j *job) {
	old := m.shown
	_, known := m.s.Plan().SheetOf(j.picture.SHA256, j.picture.Page)
	m.shown = j.picture // before the plan changes: whoever hears of that finds both
	if err := m.act(func() error { return j.change(m) }); err != nil {
		m.shown = old
		m.refuse(j, err)
		return
	}
	if old != nil {
		m.cleared = true
		m.from.close(old)
	}
	m.state = Usable
	m.from.awaitFinest(m.shown.Pyramid)
	if j.use != Own {
		m.reach.chosen(j.path)
	}
	m.host.Show(Shown{Picture: j.picture, Fresh: j.use != Own, Use: j.use})
	if j.choosePage && j.picture.Header.Pages > 1 {
		m.ask(Question{Kind: WhichPage, Path: j.path, Picture: j.picture, Beside: known})
	}
	if j.outcome != nil {
		m.finish(j, *j.outcome)
	}
}

// readingEnded takes the end of a job's reading.
func (m *machine) readingEnded(j *job) {
	if m.job != j {
		return
	}
	o := *j.reading.outcome
	if m.state == Asking && !o.changed && (o.err == nil || j.picture.stored) {
		j.outcome = &o // until the answer
		return
	}
	m.finish(j, o)
}

// finish ends a job as its reading ended.
func (m *machine) finish(j *job, o outcome) {
	switch usable := m.state == Usable; {
	case o.changed:
		m.undo(j)
		again := &job{wanted: j.wanted, use: j.use, choosePage: j.choosePage, agreed: j.agreed}
		again.afresh = true
		m.start(again)
	case o.missing:
		m.job, m.cleared = nil, false
		m.rest()
		m.ask(Question{Kind: Missing, Path: j.path, Copy: usable})
	case o.err == nil:
		m.complete(j, o)
	case usable && j.picture.stored:
		p := *m.shown
		p.Copy = true
		m.job, m.shown, m.cleared, m.state = nil, &p, false, Copy
		m.host.Show(Shown{Picture: m.shown, Use: j.use})
		m.host.Tell(Report{Reason: CopyShown, Path: j.path, Use: j.use, Err: o.err})
	case usable && (j.before == nil || m.s.Plan() != j.made):
		j.before = nil // the work since then stays
		m.undo(j)
		m.fail(j, Removed, o.err)
	default:
		m.refuse(j, o.err)
	}
}

// complete ends a job whose picture is there as a whole.
func (m *machine) complete(j *job, o outcome) {
	m.job, m.cleared = nil, false
	m.rest()
	sheet, _ := m.s.Sheet()
	r := Report{Reason: Opened, Path: j.path, Use: j.use, Picture: m.shown, File: File{o.found, o.notes}, First: m.past.first(string(sheet.ID), m.shown)}
	others := m.past.batch.opened(j.path)
	if !others {
		r.Rest = m.past.rest(j.path)
	}
	asks := m.host.Tell(r) || m.asked.now.Kind != NoQuestion
	switch {
	case !others:
	case asks:
		m.host.Tell(Report{Reason: Stopped, Path: j.path, Rest: m.past.end()})
	default:
		m.start(&job{wanted: wanted{path: m.past.batch.Waiting[0]}, use: Another, choosePage: true})
	}
}

// refuse ends a job that cannot be, with the plan as it was before.
func (m *machine) refuse(j *job, err error) {
	m.undo(j)
	m.fail(j, Refused, err)
}

// fail tells why a job failed, and brings back what was there before.
func (m *machine) fail(j *job, why Reason, err error) {
	m.host.Tell(Report{Reason: why, Path: j.path, Use: j.use, Back: why == Refused && j.aside != nil, Err: withName(j.path, err), Rest: m.past.rest(j.path)})
	if m.job == nil { // telling may have begun something else
		m.restore(j.path)
	}
}

// notUsed ends a job whose picture the person does not want.
func (m *machine) notUsed() {
	j := m.job
	m.interrupt()
	m.host.Tell(Report{Reason: NotOpened, Path: j.path, Use: j.use, Rest: m.past.rest(j.path)})
	m.restore(j.path)
}

// withName returns err with the picture's name in its text, once.
func withName(path string, err error) error {
	if name := Name(path); !strings.Contains(err.Error(), name) {
		return fmt.Errorf("%s: %w", name, err)
	}
	return err
}
