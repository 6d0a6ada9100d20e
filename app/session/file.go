package session

import (
	"legwright/app/leg"
	"legwright/app/plan"
)

// NewPlan puts an empty plan for today in place of the open one, which is lost
// where it was not saved: ask first where Dirty.
func (s *Session) NewPlan() {
	s.journal.Clear()
	s.adopt(emptyPlan(s.now()), "", Stamp{})
	s.tell(Everything, "new plan")
}

// Opened is a plan as read from its file, with its sheets calibrated.
type Opened struct {
	Plan  *plan.Plan
	Path  string
	Stamp Stamp

	reader  *leg.Reader
	changed bool // something had to be corrected while it was read: the file is another plan
}

// Read reads a plan file and prepares its readings; with hundreds of control points
// that takes seconds. It does not change the session and may be called from any
// goroutine.
func (s *Session) Read(path string) (Opened, error) {
	if s.store == nil {
		return Opened{}, ErrNoStore
	}
	p, stamp, err := s.store.Load(path)
	if err == nil {
		err = p.Validate()
	}
	if err != nil {
		return Opened{}, err
	}
	r, err := leg.NewReader(p)
	if err != nil {
		return Opened{}, err
	}
	changed := len(p.Mended) > 0
	if notes := noLongerChecked(r); len(notes) > 0 {
		p = p.Noted(notes)
		if r, err = r.For(p); err != nil {
			return Opened{}, err
		}
	}
	r.Legs() // computed here, not on the main thread when the ledger asks
	return Opened{Plan: p, Path: path, Stamp: stamp, reader: r, changed: changed}, nil
}

// noLongerChecked says of each sheet that was checked when the plan was saved and is
// not now, which and why.
func noLongerChecked(r *leg.Reader) []string {
	var out []string
	for _, s := range r.Plan().Sheets {
		v := r.Verdict(s.ID)
		if !s.WasChecked || v.Checked {
			continue
		}
		why := v.Advice
		if len(v.Cautions) > 0 && (why == "" || v.Cautions[0].Stop()) {
			why = v.Cautions[0].Text()
		}
		out = append(out, r.Plan().SheetName(s.ID)+" was checked when the plan was saved, but is unchecked now. "+why)
	}
	return out
}

// Take replaces the open plan by one that was read. Unsaved changes are lost. A plan in
// which something had to be corrected counts as unsaved: its file does not hold it so.
func (s *Session) Take(o Opened) {
	s.journal.Clear()
	s.adopt(o.Plan, o.Path, o.Stamp)
	s.reader, s.snaps = o.reader, nil
	if o.changed {
		s.saved = nil
	}
	s.tell(Everything, "open")
}

// Open reads a plan file and takes it. After an error the open plan stays.
func (s *Session) Open(path string) error {
	o, err := s.Read(path)
	if err != nil {
		return err
	}
	s.Take(o)
	return nil
}

// Use puts a plan that comes from no file, such as the demo, in place of the
// open one. It counts as saved until it is changed. The error is a
// *plan.Invalid.
func (s *Session) Use(p *plan.Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	s.journal.Clear()
	s.adopt(p, "", Stamp{})
	s.tell(Everything, "open")
	return nil
}

// Recover puts a plan out of a journal in place of the open one. It counts as
// not saved and has no file yet. The error is a *plan.Invalid.
func (s *Session) Recover(p *plan.Plan) error { return s.RecoverAs("", Stamp{}, p) }

// RecoverAs is Recover for a plan whose file is known: base is what the file
// looked like when the journal was begun, so that Save still sees whether it
// has changed since.
func (s *Session) RecoverAs(path string, base Stamp, p *plan.Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	s.journal.Clear()
	s.adopt(p, path, base)
	s.saved = nil
	s.journal.Append("recover", p)
	s.tell(Everything, "recover")
	return nil
}

// Close ends the session. With keep the journal of an unsaved plan is left for
// the next start; without, it is deleted.
func (s *Session) Close(keep bool) error {
	s.settle()
	if !keep || !s.Dirty() {
		s.journal.Clear()
	}
	return s.journal.Close()
}
