package session

import "legwright/app/plan"

// Aspect says what a change touched; aspects combine.
type Aspect uint

// The aspects of a change.
const (
	PlanChanged      Aspect = 1 << iota // the plan is another one
	SheetChanged                        // a sheet's picture, control points, grid or evidence, or which one is in hand
	SelectionChanged                    // what is selected
	FileChanged                         // path, dirty or saved
	OtherPlan                           // a whole plan was put in place of another
)

// Has reports whether the change touched any of the aspects.
func (a Aspect) Has(b Aspect) bool { return a&b != 0 }

// Change is told to watchers after it has happened.
type Change struct {
	What Aspect
	Step string // name of the act, such as "move mark"; "" for none
}

// OnChange adds a watcher. Watchers are called in the order they were added,
// on the session's goroutine, after each change.
func (s *Session) OnChange(f func(Change)) { s.watchers = append(s.watchers, f) }

func (s *Session) tell(c Change) {
	for _, f := range s.watchers {
		f(c)
	}
}

// Kind says what a selection is of.
type Kind int

// What can be selected.
const (
	Nothing Kind = iota
	OfMark
	OfLeg
	OfSight
)

// Selection is the mark, leg or sight that is selected, or nothing.
type Selection struct {
	Kind Kind
	ID   plan.ID
}

// Selection returns what is selected.
func (s *Session) Selection() Selection { return s.sel }

// Select selects a mark, leg or sight by its ID; "" or an unknown one selects
// nothing.
func (s *Session) Select(id plan.ID) { s.choose(s.selectionOf(id)) }

func (s *Session) choose(sel Selection) {
	if sel == s.sel {
		return
	}
	s.sel = sel
	s.tell(Change{What: SelectionChanged})
}

func (s *Session) selectionOf(id plan.ID) Selection {
	p := s.Plan()
	if _, ok := p.MarkByID(id); ok {
		return Selection{OfMark, id}
	}
	if _, ok := p.LegByID(id); ok {
		return Selection{OfLeg, id}
	}
	if _, ok := p.SightByID(id); ok {
		return Selection{OfSight, id}
	}
	return Selection{}
}
