package session

import (
	"slices"

	"legwright/app/history"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Over is something that saving may replace because the person agreed.
type Over int

// What may be replaced.
const (
	OverChanged  Over = iota // a file that another program has changed
	OverReadOnly             // a read-only file
)

// Saving is a plan on its way to its file. BeginSave makes it, Write writes the file
// on any goroutine, EndSave tells the session.
type Saving struct {
	store Store
	of    *history.History
	plan  *plan.Plan // as it is open
	text  *plan.Plan // as it is written
	read  *leg.Reader
	over  plan.Overwrite
	path  string
	stamp Stamp
}

// BeginSave prepares the plan as it is now for its own file, or, with a path, for
// another one, which becomes the plan's file and loses what it held: ask first. Errors:
// ErrNoPath, ErrNoStore.
func (s *Session) BeginSave(path string, over ...Over) (*Saving, error) {
	switch {
	case s.store == nil:
		return nil, ErrNoStore
	case path == "" && s.path == "":
		return nil, ErrNoPath
	}
	s.Settle()
	w := &Saving{store: s.store, of: s.hist, plan: s.Plan(), text: s.Plan().StampSaved(s.now()), read: s.Reader(), path: path}
	w.over.ReadOnly = slices.Contains(over, OverReadOnly)
	if path == "" {
		w.path = s.path
		if !slices.Contains(over, OverChanged) {
			w.over.Expect = s.stamp
		}
	}
	s.hist.Seal() // what is saved stays a step of its own
	return w, nil
}

// Write judges the sheets that still wait, for the file says which of them are checked, and
// writes the file, once. Errors: ErrChangedOnDisk and those of the store; after an error the
// file is as it was.
func (w *Saving) Write() (err error) {
	judged := w.read.Judged()
	w.text = w.text.Remembering(func(id plan.ID) bool { return judged.Verdict(id).Checked })
	w.stamp, err = w.store.Save(w.path, w.text, w.over)
	return err
}

// Saves reports whether a save is of the plan that is open: no other was opened since
// BeginSave.
func (s *Session) Saves(w *Saving) bool { return w.of == s.hist }

// EndSave makes the file that was written the plan's file. Changes made to the plan
// since BeginSave stay unsaved. It does nothing if another plan was opened since.
func (s *Session) EndSave(w *Saving) {
	if !s.Saves(w) {
		return
	}
	s.saved, s.savedAt, s.path, s.stamp = w.plan, w.text.Saved, w.path, w.stamp
	s.journal.Clear()
	s.journal.Document(w.path, w.stamp)
	if s.Dirty() {
		s.record("changes since the plan was saved")
	}
	s.tell(FileChanged, "save")
}

// Save writes the plan to its file at once. Errors: those of BeginSave and Write.
func (s *Session) Save(over ...Over) error { return s.saveNow("", over) }

// SaveAs writes the plan to another file at once, which becomes the plan's file. It
// replaces any content: ask first. Errors: those of BeginSave and Write.
func (s *Session) SaveAs(path string, over ...Over) error { return s.saveNow(path, over) }

func (s *Session) saveNow(path string, over []Over) error {
	w, err := s.BeginSave(path, over...)
	if err == nil {
		err = w.Write()
	}
	if err == nil {
		s.EndSave(w)
	}
	return err
}
