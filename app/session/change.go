package session

import "legwright/app/plan"

// Aspect says what a change touched; aspects combine.
type Aspect uint64

// The aspects of a change. Each names the part that differs from before, so that
// whoever shows a part looks at its own aspects and at nothing else.
const (
	PlanReplaced       Aspect = 1 << iota // another plan was opened, begun or recovered; all other aspects are set too
	SheetShown                            // another sheet is shown
	SheetsChanged                         // the list of sheets, or which picture file one of them has
	CalibrationChanged                    // what calibrates a sheet: control points, matrix, medium, grid
	EvidenceChanged                       // what checks a sheet or speaks against it: evidence, its file's cautions, a slip that was chosen
	PartyChanged                          // compass, speeds, paces
	DateChanged                           // the day of the outing, or whether snow is lying on it
	TerrainChanged                        // the terrain files of the plan, the heights that were read from them, or what counts as over-steep
	TimingChanged                         // how walking times are worked out, start, time zone
	TitleChanged                          // the plan's title
	SelectionChanged                      // what is selected
	FileChanged                           // the plan's file, or whether everything is saved
	HistoryChanged                        // what Undo and Redo would do
	EscapesJudged                         // escapes that waited were judged, see Escapes
	NotesChanged                          // what is noted at legs and nothing else of them: tick-off and catching features, notes
	firstThing                            // of plan.Kind 0, which nothing is of
)

// The aspects of things: the list of that kind, or any field of one of them. A mark
// that moves or gets another name moves the ends that stand on it.
const (
	MarksChanged   = firstThing << plan.OfMark
	LegsChanged    = firstThing << plan.OfLeg
	SightsChanged  = firstThing << plan.OfSight
	TracksChanged  = firstThing << plan.OfTrack
	HazardsChanged = firstThing << plan.OfHazard
	HavensChanged  = firstThing << plan.OfHaven
	LinesChanged   = firstThing << plan.OfLine
	EscapesChanged = firstThing << plan.OfEscape
	AreasChanged   = firstThing << plan.OfArea
)

// AspectOf returns the aspect of a kind of things.
func AspectOf(kind plan.Kind) Aspect { return firstThing << kind }

// Groups of aspects for those who show more than one part.
const (
	// AnySheet is whatever may change about sheets and which one is shown.
	AnySheet = SheetShown | SheetsChanged | CalibrationChanged | EvidenceChanged
	// AnyThing is whatever may be drawn over the sheet, of any kind.
	AnyThing = Everything &^ (firstThing<<1 - 1)
	// Readings is whatever may change a figure, a name or a caution in a row of the
	// ledger or on the dial.
	Readings = MarksChanged | LegsChanged | SightsChanged | HazardsChanged | AreasChanged | SheetsChanged | CalibrationChanged | EvidenceChanged | PartyChanged | DateChanged | TerrainChanged | TimingChanged
	// AnyEscape is whatever may change what there is to say of an escape.
	AnyEscape = Readings | HavensChanged | LinesChanged | EscapesChanged | EscapesJudged
	// PlanContents is whatever belongs to the plan itself.
	PlanContents = AnyThing | NotesChanged | SheetsChanged | CalibrationChanged | EvidenceChanged | PartyChanged | DateChanged | TerrainChanged | TimingChanged | TitleChanged
	// Everything is the aspect of a whole plan that replaces another.
	Everything = ^Aspect(0)
)

// Has reports whether the change touched any of the aspects.
func (a Aspect) Has(b Aspect) bool { return a&b != 0 }

// Change is what watchers hear after an act: one Change for one act, whatever it
// touched.
type Change struct {
	What   Aspect
	Step   string // name of the act, such as "move mark"; "" for none
	Moving bool   // the act goes on: something follows the pointer or is nudged

	unjudged bool // the first move of a control point
}

// Passing reports whether only the drawing of the moving thing must follow: more moves
// will come, and the last one is announced once more. The first move of a control point
// is not passing: from then on no sheet counts as checked, and every room must say so.
func (c Change) Passing() bool { return c.Moving && !c.unjudged }

// OnChange adds a watcher. Watchers are called in the order they were added,
// on the session's goroutine, after each change.
func (s *Session) OnChange(f func(Change)) { s.watchers = append(s.watchers, f) }

// tell tells the watchers what an act touched, with what follows from it: another
// sheet is shown, the selected thing is gone, the plan is no longer as saved.
func (s *Session) tell(what Aspect, step string) {
	if sel := s.selectionOf(s.sel.ID); sel != s.sel {
		s.sel = sel
		what |= SelectionChanged
	}
	now := s.outside()
	if now.sheet != s.told.sheet {
		what |= SheetShown
	}
	if now.dirty != s.told.dirty || now.path != s.told.path {
		what |= FileChanged
	}
	s.told = now
	moving := s.moving()
	first := false
	if moving && what.Has(CalibrationChanged) {
		first = !s.owed.Has(CalibrationChanged)
		s.beside.use(nil) // what is being judged is no longer as it was
	}
	if what = s.owe(what, moving); what != 0 {
		s.notify(Change{What: what, Step: step, Moving: moving, unjudged: first})
	}
}

func (s *Session) notify(c Change) {
	for _, f := range s.watchers {
		f(c)
	}
}

// outside is what watchers know of a session beside its plan and selection.
type outside struct {
	sheet plan.ID // that is shown
	path  string
	dirty bool
}

func (s *Session) outside() outside {
	sheet, _ := s.Sheet()
	return outside{sheet.ID, s.path, s.Dirty()}
}

// Selection is the thing that is selected, or nothing.
type Selection struct {
	Kind plan.Kind
	ID   plan.ID
}

// Selection returns what is selected.
func (s *Session) Selection() Selection { return s.sel }

// Select selects a thing of any kind by its ID; "" or an unknown one selects nothing.
func (s *Session) Select(id plan.ID) { s.choose(s.selectionOf(id)) }

func (s *Session) choose(sel Selection) {
	if sel == s.sel {
		return
	}
	s.sel = sel
	s.tell(SelectionChanged, "")
}

func (s *Session) selectionOf(id plan.ID) Selection {
	t, ok := s.Plan().ThingByID(id)
	if id == "" || !ok {
		return Selection{}
	}
	return Selection{t.Kind, id}
}
