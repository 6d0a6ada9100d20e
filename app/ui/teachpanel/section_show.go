package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/teach"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// show is the job that shows a line: its direction in words, then the figure, with the
// north lines at its start and the angle swept between.
type show struct {
	n        *Needs
	stage    *stage
	inset    fyne.CanvasObject
	hint     *widgets.Sentence
	words    *widget.Label // the direction in words
	figure   *struck       // and its figure
	note     *widget.Label // the distance
	figures  *fyne.Container
	cautions *cautionList
	norths   *norths
	training *training
	on       bool
}

func newShow(n *Needs, st *stage) *show {
	x := &show{n: n, stage: st, hint: widgets.NewSentence("", widgets.Note), cautions: newCautionList()}
	x.words, x.figure, x.note = widgets.NewWrapped(""), newStruck(), widget.NewLabel("")
	x.words.SizeName, x.words.TextStyle.Bold = theme.SizeNameSubHeadingText, true
	x.norths, x.training = newNorths(n), newTraining(n, st)
	x.figures = container.NewBorder(nil, nil, nil, x.note, x.figure.body)
	x.inset = inset(n, container.NewVBox(x.hint, container.New(twoLines{}, x.words), x.figures, x.cautions.body, x.norths.body, x.training.body))
	return x
}

// twoLines keeps room for two lines of words, so that nothing below them jumps while a
// line is dragged.
type twoLines struct{}

// MinSize is at least as high as two lines.
func (twoLines) MinSize(o []fyne.CanvasObject) fyne.Size {
	if !o[0].Visible() {
		return fyne.Size{}
	}
	line := fyne.MeasureText("Hg", theme.Size(theme.SizeNameSubHeadingText), fyne.TextStyle{Bold: true}).Height
	m := o[0].MinSize()
	return fyne.NewSize(m.Width, max(m.Height, 2*line+2*theme.InnerPadding()))
}

// Layout gives the words all the room.
func (twoLines) Layout(o []fyne.CanvasObject, size fyne.Size) {
	widgets.Put(o[0], 0, 0, size.Width, size.Height)
}

// inset lets a section scroll, with some room at its edge.
func inset(n *Needs, o fyne.CanvasObject) fyne.CanvasObject {
	return widgets.NewNestedScroll(container.New(&widgets.Pad{Right: 12, Bottom: 12}, o), n.Outer)
}

func (x *show) body() fyne.CanvasObject { return x.inset }

func (x *show) tool() sheetview.Tool { return sheetview.Tool{Kind: tool.Sight} }

func (x *show) draw(s *overlay.Scene) { x.stage.draw(s) }

func (x *show) show(on bool) {
	if x.on = on; on {
		x.fill()
	}
}

func (x *show) key(*fyne.KeyEvent) bool { return false }

// fill shows the line of the lesson.
func (x *show) fill() {
	if !x.on {
		return
	}
	r, ok := x.stage.reading()
	told := ok && !x.stage.concealed
	x.sayHint(ok)
	visible(x.words, told)
	visible(x.figures, told)
	if told {
		x.tell(r)
	} else {
		x.cautions.set(nil)
	}
	x.norths.fill()
	x.training.fill()
}

// tell writes the words and the figures of a reading.
func (x *show) tell(r leg.Reading) {
	c, north := x.stage.circle(), x.n.Lesson.North()
	angle, figure, ok := told(r, north, c)
	if !ok {
		write(x.words, "No "+north.Long()+" bearing here")
		x.figure.set("–", false)
		write(x.note, units.Metres(r.GroundM, r.DistanceSigmaM))
		x.cautions.set(r.Cautions)
		return
	}
	write(x.words, teach.NameOf(angle).Words)
	x.figure.set(figure, caution.Stops(r.Cautions, caution.OnLeg))
	write(x.note, units.Metres(r.GroundM, r.DistanceSigmaM))
	x.cautions.set(r.Cautions)
}

// told is a reading's bearing from a north, and its figure with its ±; false where there
// is none.
func told(r leg.Reading, north units.North, c units.Circle) (angle units.Angle, figure string, ok bool) {
	sigma := r.BearingSigma
	switch north {
	case units.MagneticNorth:
		if !r.HasMagnetic {
			return 0, "", false
		}
		angle, sigma = r.Magnetic.Angle(), r.MagneticSigma
	case units.TrueNorth:
		angle, sigma = r.True.Angle(), r.TrueSigma
	default:
		angle = r.Grid.Angle()
	}
	figure = north.Figure(c, angle)
	if half := c.Half(sigma); half != "" {
		figure += " " + half
	}
	return angle, figure, true
}

// hiddenWords say why nothing shows, and what to do.
const hiddenWords = "The figures are hidden. Press H to show them."

// sayHint says what to do next.
func (x *show) sayHint(line bool) {
	text := x.stage.missing()
	switch {
	case text != "":
	case !line:
		text = "Press on a position and drag to a feature, or press Page Down for the first line of the plan."
	case x.stage.concealed:
		text = hiddenWords
	}
	x.hint.Set(text, widgets.Note)
	visible(x.hint, text != "")
}

// missing says what must be done before a line can be read; "" where nothing.
func (st *stage) missing() string {
	_, err := st.n.Session.Calibration()
	switch {
	case st.n.View.Wanted() != "":
		return st.n.View.Wanted()
	case err != nil:
		return "Calibrate the sheet first: go to the Sheet panel."
	}
	return ""
}

// write writes a label's text where it is another.
func write(l *widget.Label, text string) {
	if l.Text != text {
		widgets.SetText(l, text)
	}
}

func visible(o fyne.CanvasObject, on bool) {
	if on == o.Visible() {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
