package teachpanel

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// norths chooses the north that bearings are measured from, and the north lines that are
// drawn.
type norths struct {
	n      *Needs
	body   fyne.CanvasObject
	choice *widgets.Chooser
	lines  []*widgets.Tool // in the order of units.Norths
}

func newNorths(n *Needs) *norths {
	x := &norths{n: n}
	x.choice = widgets.NewChooser([]string{"grid", "mag", "true"}, func(i int) { n.Lesson.SetNorth(units.Norths()[i]) })
	row := container.NewHBox()
	for _, north := range units.Norths() {
		t := widgets.NewTextTool("", north.Letter()+"  "+north.String(), "Draw "+north.Long()+" north at the start of the line", func() {
			n.Lesson.SetDraws(north, !n.Lesson.Draws(north))
		})
		t.OnHint = n.Foot.Hint
		x.lines = append(x.lines, t)
		row.Add(t)
	}
	x.body = container.NewVBox(labelled("angle from", x.choice), labelled("north lines", row))
	x.fill()
	return x
}

// fill shows what the lesson has.
func (x *norths) fill() {
	x.choice.SetChosen(slices.Index(units.Norths(), x.n.Lesson.North()))
	for i, north := range units.Norths() {
		x.lines[i].SetOn(x.n.Lesson.Draws(north))
	}
}

// labelled puts what something is for before it.
func labelled(text string, o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&labelLayout{}, widgets.NewQuiet(text), o)
}

// labelLayout gives all labels one width.
type labelLayout struct{}

// labelWidth is that of the widest label, in units of the window.
const labelWidth = float32(111)

// MinSize is that of the object and the label's width.
func (*labelLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := o[1].MinSize()
	return fyne.NewSize(labelWidth+m.Width-6, m.Height)
}

// Layout places the label beside the object.
func (*labelLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	h := o[0].MinSize().Height
	widgets.Put(o[0], -6, (size.Height-h)/2, labelWidth, h)
	widgets.Put(o[1], labelWidth-6, 0, size.Width-labelWidth+6, size.Height)
}
