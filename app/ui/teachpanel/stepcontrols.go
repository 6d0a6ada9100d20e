package teachpanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/widgets"
)

// stepControls choose the way, the step, and whether it is done right.
type stepControls struct {
	body  fyne.CanvasObject
	ways  [2]*widgets.Tool // in the order of teach.Way
	steps [teach.LastStep]*widgets.Tool
	row   *fyne.Container
	how   *lineChoice
	fills bool // the choice is being filled; nobody chose
}

func newStepControls(n *Needs, st *stage, x *compass, letter func(rune) bool) *stepControls {
	c := &stepControls{row: container.New(&rows{})}
	ways := container.New(&rows{})
	for w, text := range []string{"Map to ground", "Ground to map"} {
		c.ways[w] = st.button("", text, text+": begin at the first step  (M)", func() {
			if s, _ := n.Lesson.Stepping(); s.Way != teach.Way(w) {
				x.otherWay()
			}
		})
		ways.Add(c.ways[w])
	}
	for i := range c.steps {
		c.steps[i] = st.button("", "", fmt.Sprintf("Go to step %d  (%[1]d)", i+1), func() { x.step(i + 1) })
		c.row.Add(c.steps[i])
	}
	c.how = newLineChoice(st, letter, func(string) {
		if i := c.how.SelectedIndex(); !c.fills && i >= 0 {
			x.setWrong(teach.Hows()[i])
			n.View.Focus() // a presenter's keys go on from here
		}
	})
	for _, w := range teach.Hows() {
		c.how.Options = append(c.how.Options, w.Words())
	}
	c.body = container.NewVBox(ways, c.row, labelled("mistake  (W)", c.how))
	return c
}

// fill marks what holds now.
func (c *stepControls) fill(s teach.Stepping, t teach.CompassTask) {
	for w, tool := range c.ways {
		tool.SetOn(teach.Way(w) == s.Way)
	}
	other := false
	for i, name := range t.StepNames(s.Way) {
		c.steps[i].SetOn(i+1 == s.Step)
		if text := fmt.Sprintf("%d %s", i+1, name); text != c.steps[i].Text() {
			c.steps[i].SetText(text)
			other = true
		}
	}
	if other {
		c.row.Refresh()
	}
	if text := s.Wrong.Words(); c.how.Selected != text {
		c.fills = true
		c.how.SetSelected(text)
		c.fills = false
	}
}
