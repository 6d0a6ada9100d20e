package teachpanel

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// chosenOne says of one mark or feature what a coach says, and how its bearing is made
// up: quarter, nearer cardinal direction and by how much, sixteen-point name, figure.
type chosenOne struct {
	stage    *stage
	body     *fyne.Container
	sentence *widgets.Sentence
	quarter  *widget.Label
	rest     *widget.Label
	said     *cautionList
}

func newChosenOne(st *stage) *chosenOne {
	x := &chosenOne{stage: st, sentence: widgets.NewSentence("", widgets.Note), quarter: widget.NewLabel(""), rest: widget.NewLabel(""), said: newCautionList()}
	x.quarter.TextStyle.Bold = true
	x.body = container.NewVBox(x.sentence, container.New(&tight{}, x.quarter, x.rest), x.said.body)
	x.body.Hide()
	return x
}

// show shows a candidate with its bearing from a north, nil for none.
func (x *chosenOne) show(k *teach.Candidate, north units.North) {
	if visible(x.body, k != nil); k == nil {
		return
	}
	tone := widgets.Note
	switch k.Verdict {
	case teach.Likely:
		tone = widgets.Good
	case teach.Possible:
		tone = widgets.Caution
	}
	if stopWords(k.Cautions) != "" {
		tone = widgets.Fault
	}
	x.sentence.Set(k.Sentence(), tone)
	quarter, rest := x.madeUp(k, north)
	write(x.quarter, quarter)
	write(x.rest, rest)
	visible(x.quarter, quarter != "")
	visible(x.rest, quarter != "")
	x.said.set(k.Cautions)
}

// madeUp is the bearing of a candidate from the coarse to the fine: its quarter with the
// nearer cardinal direction, then by how much, the sixteen-point name and the figure.
// Both are "" where there is no bearing.
func (x *chosenOne) madeUp(k *teach.Candidate, north units.North) (quarter, rest string) {
	if k.DistanceM == 0 {
		return "", ""
	}
	c, name := x.stage.circle(), teach.NameOf(k.Bearing)
	rest = name.Point + " · " + north.Figure(c, k.Bearing)
	switch {
	case name.Quarter == "":
		return "on " + name.Near, rest
	case name.Near == "":
		return "half-way " + name.Quarter, rest
	}
	return name.Quarter + ", nearer " + name.Near, c.Amount(name.Off) + " from " + name.Near + " · " + rest
}

// stopWords are the stops of a list in a few words, "" where there is none.
func stopWords(list []caution.Caution) string { return caution.Lead(list, caution.OnLeg) }

// tight sets labelled lines one below another with no room between.
type tight struct{}

// tightLine is the height of such a line, in units of the window.
const tightLine = float32(22)

// MinSize is that of all lines.
func (*tight) MinSize(o []fyne.CanvasObject) fyne.Size {
	widest := float32(0)
	for _, line := range o {
		widest = max(widest, line.MinSize().Width)
	}
	return fyne.NewSize(widest, tightLine*float32(len(o)))
}

// Layout places the lines.
func (*tight) Layout(o []fyne.CanvasObject, size fyne.Size) {
	for i, line := range o {
		h := line.MinSize().Height
		widgets.Put(line, 0, float32(i)*tightLine+(tightLine-h)/2, size.Width, h)
	}
}

// cautionList writes in full what speaks against a figure, the gravest first.
type cautionList struct {
	body *fyne.Container
	said []string
}

func newCautionList() *cautionList { return &cautionList{body: container.NewVBox()} }

// set shows other cautions.
func (x *cautionList) set(list []caution.Caution) {
	list = caution.GravestFirst(caution.OfLeg(list))
	var texts []string
	for _, c := range list {
		texts = append(texts, c.Text())
	}
	if slices.Equal(texts, x.said) {
		return
	}
	x.said = texts
	x.body.RemoveAll()
	for _, c := range list {
		tone := widgets.Caution
		if c.Stop() {
			tone = widgets.Fault
		}
		x.body.Add(widgets.NewSentence(c.Text(), tone))
	}
}
