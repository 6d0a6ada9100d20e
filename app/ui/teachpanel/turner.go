package teachpanel

import (
	"legwright/app/teach"
	"legwright/app/ui/dial"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// turner has a guess turned on the dial.
type turner struct {
	n     *Needs
	stage *stage
	tool  *widgets.Tool
	on    bool
	label string // above the figure on the dial
	add   func()

	hidden bool // the figures were, at the last fill
}

func newTurner(n *Needs, st *stage, add func()) *turner {
	t := &turner{n: n, stage: st, add: add}
	t.tool = widgets.NewTool(look.IconRedo, "Guess by turning the dial; Return adds the guess  (T)", t.toggle)
	t.tool.OnHint = n.Foot.Hint
	return t
}

// toggle makes the dial an input for guesses, or ends that.
func (t *turner) toggle() {
	if t.on {
		t.end()
		return
	}
	if t.n.Lesson.Ask() != teach.AskBearing {
		return
	}
	t.on = true
	t.begin(0)
	t.n.Host.Reveal(t.n.Dial)
	t.n.Dial.Focus()
	t.n.urge("Turn the ring with the mouse, the wheel or the arrow keys. Return adds the guess.")
}

// begin gives the dial the input, at an angle that tells nothing of the answer.
func (t *turner) begin(at units.Angle) {
	t.label = t.words()
	t.n.Dial.SetInput(&dial.Input{Label: t.label, Circle: t.stage.circle(), At: at, Accept: t.add})
	t.tool.SetOn(true)
}

// end gives the dial back to the reading.
func (t *turner) end() {
	if !t.on {
		return
	}
	t.on = false
	t.n.obeyed()
	t.n.Dial.SetInput(nil)
	t.tool.SetOn(false)
	t.n.Host.Reveal(t.stage.top)
}

// fill follows the lesson: a distance cannot be turned, the answer takes the dial back,
// and a north other than the lesson's is named.
func (t *turner) fill() {
	hidden := t.n.Lesson.Hidden()
	answered := t.hidden && !hidden
	t.hidden = hidden
	switch at, ok := t.n.Dial.Turned(); {
	case !t.on:
	case t.n.Lesson.Ask() != teach.AskBearing, answered:
		t.end()
	case ok && t.label != t.words():
		t.begin(at)
	}
}

// words stand above the figure on the dial.
func (t *turner) words() string { return "Your guess, " + t.n.Lesson.GuessNorth().String() }
