package teach

import (
	"fmt"
	"math"

	"legwright/app/plan"
	"legwright/app/units"
)

// Line is one line of a lesson: a leg or sight of the plan, or one that was drawn for
// the lesson alone and has no ID.
type Line struct {
	ID       plan.ID
	Name     string
	From, To plan.End
}

// same reports whether two lines ask the same question: one thing of the plan, or a drawn
// line between the same ends.
func (l Line) same(m Line) bool {
	if l.ID != "" || m.ID != "" {
		return l.ID == m.ID
	}
	return l.sameEnds(m)
}

func (l Line) sameEnds(m Line) bool {
	return l.From.Position.Same(m.From.Position) && l.To.Position.Same(m.To.Position)
}

// Lesson is what the group looks at: one line, whether its figures are hidden, what was
// guessed, and from which north bearings are measured. It belongs to one goroutine. It is not
// part of the plan: it is neither saved nor undone.
//
// Figures that are hidden stay hidden until Next or SetHidden shows them. No other act
// does: a line that is drawn, moved, removed or reached backwards gives nothing away.
type Lesson struct {
	line          Line
	has           bool // there is a line
	row           row
	hidden        bool
	estimateFirst bool
	ask           Ask
	north         units.North
	undrawn       map[units.North]bool // norths whose lines are left away
	guesses       guesses
	training      units.GMA
	trains        bool
	stepping      Stepping
	steps         bool // the compass is shown
	watchers      []func()
}

// NewLesson returns a lesson without a line. Bearings count from grid north.
func NewLesson() *Lesson {
	return &Lesson{north: units.GridNorth, row: row{at: -1}}
}

// OnChange adds a watcher. It is called once after each act that changed something.
func (l *Lesson) OnChange(f func()) { l.watchers = append(l.watchers, f) }

func (l *Lesson) tell() {
	for _, f := range l.watchers {
		f()
	}
}

// Line returns the line of the lesson; false while there is none.
func (l *Lesson) Line() (Line, bool) { return l.line, l.has }

// Show makes this the line of the lesson. Guesses belong to a line: those of another one
// go. Figures hide where the group estimates first.
func (l *Lesson) Show(line Line) {
	if l.has && l.line == line {
		return
	}
	l.take(line)
	l.tell()
}

// take makes this the line, and finds its place in the row.
func (l *Lesson) take(line Line) {
	asksAnother := !l.has || !l.line.same(line)
	if asksAnother || !l.line.sameEnds(line) {
		l.guesses = guesses{}
	}
	if asksAnother {
		l.hideForGuesses()
		l.restart()
	}
	l.line, l.has = line, true
	if i := l.row.find(line.ID); i >= 0 {
		l.row.at = i
	}
}

// Clear takes the line away.
func (l *Lesson) Clear() {
	if !l.has {
		return
	}
	l.drop()
	l.tell()
}

func (l *Lesson) drop() {
	l.line, l.has, l.guesses = Line{}, false, guesses{}
	l.hideForGuesses()
}

// hideForGuesses hides the figures of a line that is about to be estimated.
func (l *Lesson) hideForGuesses() { l.hidden = l.hidden || l.estimateFirst }

// EstimateFirst reports whether each line comes with its figures hidden.
func (l *Lesson) EstimateFirst() bool { return l.estimateFirst }

// SetEstimateFirst sets whether each line comes with its figures hidden. Switched on, it
// hides those of the present line too. Switched off, it leaves them hidden: the coach
// shows them.
func (l *Lesson) SetEstimateFirst(on bool) {
	if on == l.estimateFirst {
		return
	}
	l.estimateFirst = on
	l.hidden = on || l.hidden && l.has
	l.tell()
}

// Hidden reports whether the figures are hidden wherever the group can see.
func (l *Lesson) Hidden() bool { return l.hidden }

// SetHidden hides the figures or shows them.
func (l *Lesson) SetHidden(on bool) {
	if on == l.hidden {
		return
	}
	l.hidden = on
	l.tell()
}

// North returns the north that bearings are measured from.
func (l *Lesson) North() units.North { return l.north }

// SetNorth sets the north that bearings are measured from. It ignores NoNorth.
func (l *Lesson) SetNorth(n units.North) {
	if n == l.north || n.Letter() == "" {
		return
	}
	l.north = n
	l.tell()
}

// NextNorth goes on from grid to magnetic to true north, and back to grid.
func (l *Lesson) NextNorth() {
	norths := units.Norths()
	for i, n := range norths {
		if n == l.north {
			l.SetNorth(norths[(i+1)%len(norths)])
			return
		}
	}
}

// MostTraining bounds the training GMA to either side. Beyond a right angle the needle
// would no longer point to the north side of the map.
const MostTraining = units.Angle(math.Pi / 2)

// Training returns the GMA that is declared for the lesson; false without one.
func (l *Lesson) Training() (units.GMA, bool) { return l.training, l.trains }

// SetTraining declares a GMA for the lesson, where the real one is too small to teach
// with. It changes what is shown and nothing in the plan. The error is a sentence.
func (l *Lesson) SetTraining(g units.GMA) error {
	if a := g.Angle(); !(a >= -MostTraining && a <= MostTraining) {
		return fmt.Errorf("a training GMA must be between %.0f° west and %[1]v° east: type one such as 12 east", math.Round(MostTraining.Deg()))
	}
	if l.trains && g == l.training {
		return nil
	}
	l.training, l.trains = g, true
	l.tell()
	return nil
}

// ClearTraining goes back to the GMA of the ground.
func (l *Lesson) ClearTraining() {
	if !l.trains {
		return
	}
	l.training, l.trains = 0, false
	l.tell()
}
