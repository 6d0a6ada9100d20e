package teachpanel

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"legwright/app/teach"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// guessList lists the guesses of what is asked with their median. Once the answer shows,
// each says how far it is out.
type guessList struct {
	n     *Needs
	stage *stage
	slips *slips
	body  *fyne.Container
	shown []guessRow
}

// guessRow is what a row says.
type guessRow struct {
	figure, words, more string
	median              bool
}

// fit moves the words below the figure where both are too wide for one line.
func (r guessRow) fit() guessRow {
	bold := fyne.TextStyle{Bold: r.median}
	if fyne.MeasureText(r.figure+"   "+r.words, theme.TextSize(), bold).Width <= widgets.RowWidth-guessButton-guessRoom {
		return r
	}
	if r.more != "" {
		r.words += "; " + r.more
	}
	r.words, r.more = "", r.words
	return r
}

func (r guessRow) item() fyne.CanvasObject {
	return widgets.NewItem(r.figure, r.words, r.more, r.median)
}

func newGuessList(n *Needs, st *stage, s *slips) *guessList {
	return &guessList{n: n, stage: st, slips: s, body: container.NewVBox()}
}

// fill shows the guesses anew if they, or what they say, are others.
func (x *guessList) fill() {
	rows := x.rows()
	if slices.Equal(rows, x.shown) {
		return
	}
	x.shown = rows
	x.body.RemoveAll()
	for i, r := range rows {
		remove := widgets.NewTool(look.IconClose, fmt.Sprintf("Delete guess %d", i+1), func() { x.n.Lesson.RemoveGuess(i) })
		remove.OnHint = x.n.Foot.Hint
		visible(remove, !r.median)
		x.body.Add(container.New(&guessLayout{}, r.fit().item(), remove))
	}
	if len(rows) > 0 {
		x.body.Add(container.NewHBox(x.stage.button(look.IconDelete, "Delete all guesses", "Delete all guesses of this line", x.n.Lesson.ClearGuesses)))
	}
}

// rows are the guesses in the order they came in, and then their median.
func (x *guessList) rows() []guessRow {
	if ask := x.n.Lesson.Ask(); ask != teach.AskBearing {
		return x.numbers(ask)
	}
	l, c := x.n.Lesson, x.stage.circle()
	var out []guessRow
	why := x.slips.explained()
	for i, a := range l.Bearings() {
		row := guessRow{figure: l.GuessNorth().Figure(c, a), words: x.said(func() string { return x.stage.difference(a) })}
		if i < len(why) {
			row.more = perhaps(why[i])
		}
		out = append(out, row)
	}
	if len(out) < 2 {
		return out
	}
	m, ok := l.MedianBearing()
	if !ok {
		return append(out, guessRow{figure: "no median", more: "The guesses cancel each other out, like north and south, so they have no median.", median: true})
	}
	return append(out, guessRow{figure: "Median " + l.GuessNorth().Figure(c, m), words: x.said(func() string { return x.stage.difference(m) }), median: true})
}

// numbers are the guesses of a number, and their median.
func (x *guessList) numbers(ask teach.Ask) []guessRow {
	row := func(before string, v float64, median bool) guessRow {
		return guessRow{figure: before + ask.Figure(v), words: x.said(func() string { return x.stage.differenceOf(ask, v) }), median: median}
	}
	var out []guessRow
	for _, v := range x.n.Lesson.Numbers(ask) {
		out = append(out, row("", v, false))
	}
	if m, ok := x.n.Lesson.MedianNumber(ask); ok && len(out) > 1 {
		out = append(out, row("Median ", m, true))
	}
	return out
}

// said is what a row says of the answer, once that shows.
func (x *guessList) said(words func() string) string {
	if x.stage.concealed {
		return ""
	}
	return words()
}

// guessLayout sets a small button at the right of a row.
type guessLayout struct{}

// guessButton is the button's side, in units of the window.
const guessButton = float32(22)

// guessRoom is what an item and the section leave at their edges.
const guessRoom = float32(30)

// MinSize is as high as the row.
func (*guessLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := o[0].MinSize()
	return fyne.NewSize(m.Width+guessButton, max(m.Height, guessButton))
}

// Layout places both.
func (*guessLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	widgets.Put(o[0], 0, 0, size.Width-guessButton-4, size.Height)
	widgets.Put(o[1], size.Width-guessButton, 0, guessButton, guessButton)
}
