package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
)

// thing is a mark or a sight in a list: its name, and its reference or figures.
type thing struct {
	id         plan.ID
	name, note string
	cautions   []caution.Caution // what speaks against it
}

// shown is the note with its mark.
func (t thing) shown() string { return marked(t.note, caution.Stops(t.cautions, caution.OnLeg)) }

// hint is what is said of the row in full.
func (t thing) hint() string {
	text := t.name + "  " + t.note
	if words := caution.Shorts(t.cautions); len(words) > 0 {
		text += "  (" + strings.Join(words, ", ") + ")"
	}
	return text
}

// thingList lists marks or sights; only the rows that are seen exist.
type thingList struct {
	widget.BaseWidget
	b     *Bench
	count int
	at    func(int) thing // called for the rows that are seen
	list  *widget.List
	empty *widget.Label
}

func newThingList(b *Bench) *thingList {
	l := &thingList{b: b, empty: widgets.NewQuiet("")}
	l.list = widget.NewList(
		func() int { return l.count },
		func() fyne.CanvasObject {
			return container.New(&rowLayout{}, widgets.NewEntry("", "", "", nil), widgets.NewQuiet(""))
		},
		l.update)
	l.list.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

// update writes one row.
func (l *thingList) update(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= l.count {
		return
	}
	t := l.at(i)
	row := o.(*fyne.Container)
	name := row.Objects[0].(*widgets.Tool)
	name.SetHint(t.hint())
	name.SetOn(t.id == l.b.selectedID())
	name.OnTapped = func() { l.b.s.Select(t.id) }
	name.OnHint = l.b.hintTo
	note := row.Objects[1].(*widget.Label)
	note.SetText(t.shown())
	fitName(name, t.name, widgets.RowWidth-noteWidth(note, widgets.RowWidth)-rowGap)
	row.Layout.Layout(row.Objects, row.Size())
}

// show replaces the rows; at makes the i-th, and empty is the text of an empty
// list.
func (l *thingList) show(count int, at func(i int) thing, empty string) {
	l.count, l.at = count, at
	l.empty.SetText(empty)
	visible(l.empty, count == 0)
	l.list.Refresh()
}

// CreateRenderer is Fyne's.
func (l *thingList) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(l.list, container.NewVBox(l.empty)))
}

// rowLayout gives a list row its width, with a note at its right that the
// name never runs under.
type rowLayout struct{}

// MinSize is the row's height.
func (rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, o[0].MinSize().Height)
}

// Layout places the note first.
func (rowLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	note := noteWidth(o[1], size.Width)
	widgets.Put(o[0], 0, 0, size.Width-note-rowGap, size.Height)
	h := o[1].MinSize().Height
	widgets.Put(o[1], size.Width-note-rowGap, (size.Height-h)/2, note, h)
}

// rowGap is the space right of a row's note.
const rowGap = 6

// noteWidth is how much of a row its note takes.
func noteWidth(note fyne.CanvasObject, width float32) float32 {
	return min(note.MinSize().Width, width*0.7)
}

// fitName writes a name into a row, shortened to the room it has; of a name of
// two, from and to, both are.
func fitName(row *widgets.Tool, name string, room float32) {
	row.SetText(name)
	for n := len([]rune(name)); n > 3 && row.MinSize().Width > room; n-- {
		from, to, both := strings.Cut(name, " – ")
		if both {
			row.SetText(cutEnd(from, n/2) + " – " + cutEnd(to, n/2))
		} else {
			row.SetText(cutEnd(name, n))
		}
	}
}

// cutEnd shortens a text to n letters, with an ellipsis.
func cutEnd(text string, n int) string {
	if r := []rune(text); len(r) > n {
		return strings.TrimSpace(string(r[:max(n-1, 0)])) + "…"
	}
	return text
}
