package session

import (
	"context"
	"errors"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// ImportWork is an import of marks, routes and tracks under way: BeginImport starts
// it, Run computes it on any goroutine, EndImport adds it to the plan as one act.
// Positions are converted to the sheet's grid, or, without one, to the grid of the
// plan's first mark, or to UTM. An existing mark with the same name and position is
// not added again.
type ImportWork struct {
	in     Imported
	of     *plan.Plan
	sys    *geodesy.System
	postM  float64 // of the terrain's posts
	next   *plan.Plan
	report ImportReport
}

// tellEvery is after how many positions Run tells and looks whether it is to end.
const tellEvery = 256

// BeginImport prepares an import into the current plan. Errors: a refusal if there
// is nothing to import, and those of a grid or a position.
func (s *Session) BeginImport(in Imported) (*ImportWork, error) {
	sys, err := s.importSystem(in)
	if err != nil {
		return nil, err
	}
	return &ImportWork{in: in, of: s.Plan(), sys: sys, postM: s.postM()}, nil
}

// Run computes the plan that the import leads to. It may run on any goroutine,
// once. tell, which may be nil, hears how many of the positions are done. Errors:
// that of ctx, those of a position that cannot be computed, *plan.Invalid.
func (w *ImportWork) Run(ctx context.Context, tell func(done, total int)) error {
	b, total, done := newImporter(w.of, w.sys, w.in.Name), w.in.places(), 0
	b.postM = w.postM
	b.tick = func() error {
		if done++; done%tellEvery != 0 {
			return nil
		}
		if tell != nil {
			tell(done, total)
		}
		return ctx.Err()
	}
	if err := b.all(w.in); err != nil {
		return err
	}
	next := b.plan()
	if err := next.Validate(); err != nil {
		return err
	}
	w.next, w.report = next, b.report
	w.report.Escapes = w.in.Escapes
	return ctx.Err()
}

// ErrPlanChanged is returned by EndImport if the plan has changed since
// BeginImport: begin again.
var ErrPlanChanged = errors.New("the plan changed during the import: import the file again")

// EndImport replaces the plan by the computed one, as one act. Error:
// ErrPlanChanged.
func (s *Session) EndImport(w *ImportWork) (ImportReport, error) {
	if w.next == nil || w.of != s.Plan() {
		return ImportReport{}, ErrPlanChanged
	}
	if w.next != s.Plan() { // the file holds something that the plan had not
		s.put("import "+w.report.Name, "", w.next)
	}
	return w.report, nil
}

// RemoveImport removes whatever came with one import and is still in the plan, as one
// act; see plan.Imports. The error is a *Refused if there is nothing of that name.
func (s *Session) RemoveImport(name string) error {
	for _, m := range s.Plan().Imports() {
		if m.Name != name {
			continue
		}
		ids := make([]plan.ID, len(m.Things))
		for i, t := range m.Things {
			ids[i] = t.ID
		}
		return s.do("delete import "+name, "", s.Plan().Remove(ids...))
	}
	return refuse("nothing in the plan came from an import called %q", name)
}

// places counts the positions: the marks and the route points.
func (in Imported) places() int {
	n := len(in.Marks)
	for _, r := range in.Routes {
		n += len(r)
	}
	for _, x := range in.Shapes {
		n += len(x.Points)
	}
	return n
}
