package session

import (
	"time"

	"legwright/app/calib"
	"legwright/app/history"
	"legwright/app/leg"
	"legwright/app/plan"
)

// undoSteps is how many acts can be undone.
const undoSteps = 500

// Session is what is open now. It is not safe for concurrent use.
type Session struct {
	store   Store
	journal Journal
	now     func() time.Time

	hist    *history.History
	saved   *plan.Plan // the plan as it is in the file
	savedAt time.Time  // see SavedAt
	path    string
	stamp   Stamp

	sel      Selection
	shown    plan.ID // sheet; see Sheet
	before   plan.ID // the sheet shown before it
	watchers []func(Change)
	told     outside // what the watchers know
	dragging bool
	drag     drag
	owed     Aspect // of moves that go on: told once more at their end
	loose    *loose // nil for none
	beside   beside
	nudging  bool // moves merge as in a drag, but need no begin and no end

	reader  *leg.Reader // of hist.Now(), or nil until asked for
	ground  heights     // heights that were read
	snaps   []snapPoint // of the same plan, or nil until asked for
	escapes escapes
}

// New returns a session with an empty plan for today. store and journal may
// be nil: then nothing can be saved, or nothing is journalled.
func New(store Store, journal Journal, now func() time.Time) *Session {
	if journal == nil {
		journal = noJournal{}
	}
	s := &Session{store: store, journal: journal, now: now}
	s.adopt(emptyPlan(now()), "", Stamp{})
	return s
}

// Plan returns the plan as it is now. Treat it as read-only.
func (s *Session) Plan() *plan.Plan { return s.hist.Now() }

// Reader returns the reader of the current plan. If the program does not know the
// plan's grid, each reading returns the error.
func (s *Session) Reader() *leg.Reader {
	if s.reader == nil {
		s.reader = new(leg.Reader)
	}
	model, _ := s.Ground()
	switch waits := s.waits(); { // readings of the new reader give its error
	case s.reader.Plan() == s.Plan() && (waits || !s.reader.Waits()):
		if s.reader.Model() == model {
			return s.reader
		}
	case waits:
		s.reader, _ = s.reader.Moving(s.Plan(), s.held()...)
	case s.beside.sheets() || s.beside.late:
		s.reader, _ = s.reader.Moving(s.Plan())
		s.reader = s.reader.Over(model)
		s.judgeAgain()
	default:
		s.reader, _ = s.reader.For(s.Plan())
	}
	s.reader, s.snaps = s.reader.Over(model), nil
	return s.reader
}

// Calibration returns the calibration of the sheet shown, or
// plan.ErrUncalibrated, or the error of its fit.
func (s *Session) Calibration() (*calib.Calibration, error) {
	sheet, _ := s.Sheet()
	return s.Reader().CalibrationOf(sheet.ID)
}

// Dirty reports whether the plan differs from what is in its file.
func (s *Session) Dirty() bool { return s.Plan() != s.saved }

// SavedAt returns when the plan was written to its file, as plan.StampSaved gives it; zero where
// it differs from what is there, or has no file.
func (s *Session) SavedAt() time.Time {
	if s.Dirty() {
		return time.Time{}
	}
	return s.savedAt
}

// Path returns the plan's file, or "" where it has none yet.
func (s *Session) Path() string { return s.path }

// Stamp returns the stamp of the plan's file when it was last read or written, or
// zero without a file.
func (s *Session) Stamp() Stamp { return s.stamp }

// adopt makes p the plan of a fresh history.
func (s *Session) adopt(p *plan.Plan, path string, stamp Stamp) {
	s.hist = history.New(p, undoSteps)
	s.saved, s.savedAt, s.path, s.stamp = p, p.Saved, path, stamp
	s.sel, s.dragging, s.loose = Selection{}, false, nil
	s.beside.use(nil)
	s.shown, s.before = "", ""
	s.told = s.outside()
	s.journal.Document(path, stamp)
}

// do makes p the plan, as one act with that name. A plan that cannot be is
// refused with its *plan.Invalid.
func (s *Session) do(name, key string, p *plan.Plan) error {
	if p == s.Plan() {
		return nil
	}
	if err := p.Validate(); err != nil {
		return err
	}
	s.put(name, key, p)
	return nil
}

// add is do for a plan with one more thing, which it selects in the same change, so
// that watchers show the plan once.
func (s *Session) add(name string, id plan.ID, p *plan.Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	s.sel = Selection{ID: id} // changed finds its kind in the new plan
	s.put(name, "", p)
	return nil
}

// put makes a plan that is valid the plan, as one act with that name.
func (s *Session) put(name, key string, p *plan.Plan) {
	if l := s.loose; l != nil && !s.moving() {
		s.settle()
		p = p.Recalibrated(l.from, s.Reader().Fit)
	}
	before := s.Plan()
	if s.moving() {
		s.hist.Merge(name, key, p)
	} else {
		s.hist.Do(name, p)
	}
	s.record(name)
	s.changed(before, name)
}

// changed tells what differs between the plan before and the one now.
func (s *Session) changed(before *plan.Plan, name string) {
	what := differences(before, s.Plan()) | HistoryChanged
	if what.Has(AnySheet) {
		s.snaps = nil
	}
	s.tell(what, name)
}
