package teachpanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// guess is the job that has the group estimate first: the figures hide, guesses come in,
// and then the answer shows with the difference of each guess in words.
type guess struct {
	n      *Needs
	stage  *stage
	inset  fyne.CanvasObject
	hint   *widgets.Sentence
	choice *widgets.Chooser // bearing or distance
	first  *widgets.Check   // each new line comes hidden
	ask    *widgets.Tool
	fan    *widgets.Tool
	answer *widgets.Tool
	turn   *turner
	entry  *entry
	list   *guessList
	slips  *slips
	on     bool
}

func newGuess(n *Needs, st *stage) *guess {
	x := &guess{n: n, stage: st, hint: widgets.NewSentence("", widgets.Note)}
	var names []string
	for _, a := range teach.Asks() {
		names = append(names, a.Name())
	}
	x.choice = widgets.NewChooser(names, func(i int) { n.Lesson.SetAsk(teach.Ask(i)) })
	x.first = widgets.NewCheck("Hide the figures of each new line", x.hideEach, n.View.Focus, n.View.Focus)
	x.ask = st.button(look.IconHelp, "Ask for a guess", "Hide the figures and let the group guess  (G)", x.askFor)
	x.fan = st.button(look.IconRoute, "Draw guesses", "Draw the guesses on the sheet while the figures stay hidden  (F)", n.Lesson.DrawGuesses)
	x.answer = st.button(look.IconConfirm, "Show the answer", "Show the figures, and how far each guess is out  (A)", st.answer)
	x.turn = newTurner(n, st, x.addTurned)
	x.entry = newEntry(n, st, x.turn.tool, x.add)
	x.slips = newSlips(n, st, x.fill)
	x.list = newGuessList(n, st, x.slips)
	acts := container.New(&rows{}, x.ask, x.answer, x.fan)
	x.inset = inset(n, container.NewVBox(x.hint, x.choice, x.entry.body, acts, x.list.body, x.slips.body, x.first))
	return x
}

// button is a button of words whose hint stands in the foot line.
func (st *stage) button(icon fyne.ThemeIconName, text, hint string, do func()) *widgets.Tool {
	t := widgets.NewTextTool(icon, text, hint, do)
	t.OnHint = st.n.Foot.Hint
	return t
}

func (x *guess) body() fyne.CanvasObject { return x.inset }

func (x *guess) tool() sheetview.Tool { return sheetview.Tool{Kind: tool.Sight} }

func (x *guess) draw(s *overlay.Scene) { x.stage.draw(s) }

func (x *guess) show(on bool) {
	x.on = on
	if !on {
		x.turn.end()
		x.n.Dial.Ask("")
		return
	}
	x.hint.HoldLines(2) // what stands below it is being typed into
	x.fill()
}

// key ends the turning of a guess at Escape. The line stays: with it the guesses of the
// whole group would go.
func (x *guess) key(e *fyne.KeyEvent) bool {
	ends := e.Name == fyne.KeyEscape && x.turn.on
	if ends {
		x.turn.end()
	}
	return ends
}

// letter takes a digit, which begins a guess.
func (x *guess) letter(r rune) bool {
	if isDigit(r) {
		x.entry.begin(r)
	}
	return isDigit(r)
}

// hideEach has each new line come hidden, or not. The keys go back to the sheet: a
// presenter's go on from here.
func (x *guess) hideEach(on bool) {
	if on != x.n.Lesson.EstimateFirst() {
		x.n.Lesson.SetEstimateFirst(on)
		x.n.View.Focus()
	}
}

// askFor hides the figures and goes to the field for the guesses.
func (x *guess) askFor() {
	if _, ok := x.n.Lesson.Line(); !ok {
		x.n.refuse(teach.ErrNoLine)
		return
	}
	x.n.Lesson.SetHidden(true)
	x.n.urge("The figures are hidden. Type the guesses, then show the answer.")
	x.entry.focus()
}

// add adds the guesses that were typed, all or none.
func (x *guess) add(text string) bool {
	l := x.n.Lesson
	if ask := l.Ask(); ask != teach.AskBearing {
		list, err := teach.ParseNumbers(text, ask)
		return x.take(len(list), err, func(i int) error { return l.GuessNumber(ask, list[i]) })
	}
	list, err := teach.ParseBearings(text, l.GuessNorth(), x.stage.circle())
	return x.take(len(list), err, func(i int) error { return l.GuessBearing(list[i]) })
}

// take adds n guesses, or says why none is added.
func (x *guess) take(n int, err error, add func(i int) error) bool {
	_, line := x.n.Lesson.Line()
	room := teach.MostGuesses - x.n.Lesson.Guessed()
	switch {
	case err != nil:
	case n == 0:
		return false
	case !line:
		err = teach.ErrNoLine
	case room == 0:
		err = teach.ErrAllGuessed
	case n > room:
		err = fmt.Errorf("you typed %d guesses, but there is room for only %d more (%d in all): type fewer", n, room, teach.MostGuesses)
	}
	for i := 0; i < n && err == nil; i++ {
		err = add(i)
	}
	done := "Guesses added."
	if n == 1 {
		done = "Guess added."
	}
	return x.n.Foot.Try(err, done)
}

// addTurned adds what the dial is turned to.
func (x *guess) addTurned() {
	a, ok := x.n.Dial.Turned()
	if ok {
		x.take(1, nil, func(int) error { return x.n.Lesson.GuessBearing(a) })
	}
}

// fill shows the guesses and, once it is shown, the answer.
func (x *guess) fill() {
	if !x.on {
		return
	}
	l := x.n.Lesson
	x.choice.SetChosen(int(l.Ask()))
	if x.first.Checked != l.EstimateFirst() {
		x.first.SetChecked(l.EstimateFirst())
	}
	x.hint.Set(x.next())
	visible(x.ask, !l.Hidden())
	visible(x.answer, l.Hidden())
	visible(x.fan, l.Guessed() > 0 && !l.GuessesDrawn() && l.Ask().OnSheet())
	visible(x.turn.tool, l.Ask() == teach.AskBearing)
	x.n.Dial.Ask(l.Ask().Question(l.GuessNorth()))
	x.turn.fill()
	x.entry.fill()
	x.list.fill()
	x.slips.fill()
}

// next says the answer, or what to do next.
func (x *guess) next() (text string, tone widgets.Tone) {
	l := x.n.Lesson
	_, line := l.Line()
	switch missing := x.stage.missing(); {
	case missing != "":
		return missing, widgets.Note
	case !line:
		return "Drag a line, or press Page Down for the first line of the plan.", widgets.Note
	case x.stage.concealed && l.Guessed() == 0 && l.Ask() != teach.AskBearing:
		return "The figures are hidden. Type the group's guesses with spaces between them.", widgets.Note
	case x.stage.concealed && l.Guessed() == 0:
		return "The figures are hidden. Type the group's guesses, or guess by turning the dial.", widgets.Note
	case x.stage.concealed && !l.GuessesDrawn() && l.Ask().OnSheet():
		return "Press F to draw the guesses on the sheet, or A to show the answer.", widgets.Note
	case x.stage.concealed:
		return "Press A to show the answer.", widgets.Note
	case l.Guessed() == 0:
		return "Press G to hide the figures and ask the group.", widgets.Note
	}
	return x.stage.truth()
}
