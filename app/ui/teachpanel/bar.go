package teachpanel

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// bar chooses the line of the lesson and hides its figures. It stands above every job.
type bar struct {
	n      *Needs
	stage  *stage
	body   fyne.CanvasObject
	lines  *lineChoice
	hide   *widgets.Tool
	filled bool // the choice shows what the lesson has; nobody chose
}

func newBar(n *Needs, st *stage, letter func(rune) bool) *bar {
	b := &bar{n: n, stage: st}
	b.lines = newLineChoice(st, letter, b.chose)
	tool := func(icon fyne.ThemeIconName, hint string, do func()) *widgets.Tool {
		t := widgets.NewTool(icon, hint, do)
		t.OnHint = n.Foot.Hint
		return t
	}
	b.hide = tool(iconShown, "", st.toggleHidden)
	b.body = container.NewBorder(nil, nil,
		container.NewHBox(tool(look.IconLeft, "Previous line  (Page Up)", st.previous), tool(look.IconRight, "Next line, or first show the hidden figures  (Page Down)", st.next)),
		b.hide, b.lines)
	b.fill()
	return b
}

// fill shows the lines of the plan and the one of the lesson.
func (b *bar) fill() {
	b.filled = true
	defer func() { b.filled = false }()
	row := b.n.Lesson.Row()
	names := make([]string, len(row))
	for i, l := range row {
		names[i] = fmt.Sprintf("%d  %s", i+1, widgets.CutMiddle(l.Name, mostLineName))
	}
	if !slices.Equal(names, b.lines.Options) {
		b.lines.SetOptions(names)
	}
	text, none := "", "choose or drag a line"
	if len(names) == 0 {
		none = "drag a line"
	}
	if n, _ := b.n.Lesson.Place(); n > 0 {
		text = names[n-1]
	} else if line, ok := b.n.Lesson.Line(); ok {
		none = line.Name
	}
	if b.lines.Selected != text || b.lines.PlaceHolder != none {
		b.lines.PlaceHolder, b.lines.Selected = none, text
		b.lines.Refresh()
	}
	b.showHidden()
}

// The icons of figures that are shown and hidden.
const (
	iconShown  fyne.ThemeIconName = "eye"
	iconHidden fyne.ThemeIconName = "eye-off"
)

// mostLineName is how many letters of a line's name the choice has room for.
const mostLineName = 60

// showHidden says whether the figures are hidden.
func (b *bar) showHidden() {
	icon, hint := iconShown, "Hide the figures from the group  (H)"
	if b.n.Lesson.Hidden() {
		icon, hint = iconHidden, "Show the figures to the group  (H)"
	}
	b.hide.SetOn(b.n.Lesson.Hidden())
	b.hide.SetIcon(icon)
	b.hide.SetHint(hint)
}

// chose goes to the line that was chosen from the list.
func (b *bar) chose(string) {
	if b.filled {
		return
	}
	if i := b.lines.SelectedIndex(); i >= 0 {
		b.n.Lesson.Show(b.n.Lesson.Row()[i])
	}
	b.n.View.Focus() // a presenter's keys go on from here
}
