package teachpanel

import "legwright/app/teach"

// Acts are what the menu does with a lesson. Each brings the panel to the front.
type Acts struct{ p *Panel }

// Next shows what is hidden, or else goes to the next line.
func (a *Acts) Next() { a.front(a.p.stage.next) }

// Previous goes to the line before.
func (a *Acts) Previous() { a.front(a.p.stage.previous) }

// ToggleHidden hides the figures wherever the group can see, or shows them.
func (a *Acts) ToggleHidden() { a.front(a.p.stage.toggleHidden) }

// NextNorth goes on to the next north to measure bearings from.
func (a *Acts) NextNorth() { a.front(a.p.n.Lesson.NextNorth) }

// AskForGuess goes to the job of guessing and hides the figures.
func (a *Acts) AskForGuess() {
	a.p.Choose(Guess)
	a.p.find(Guess).(*guess).askFor()
}

// Answer shows the answer to what was guessed.
func (a *Acts) Answer() { a.front(a.p.stage.answer) }

// DrawGuesses draws the guesses while the figures stay hidden, or says that they cannot be
// drawn.
func (a *Acts) DrawGuesses() {
	a.front(func() {
		if l := a.p.n.Lesson; l.Guessed() > 0 && !l.Ask().OnSheet() {
			a.p.n.urge("A climb or time cannot be drawn on the sheet. Press A to show the answer.")
		}
		a.p.n.Lesson.DrawGuesses()
	})
}

// SetAsk chooses what the group guesses.
func (a *Acts) SetAsk(what teach.Ask) {
	a.p.Choose(Guess)
	a.p.n.Lesson.SetAsk(what)
}

// ToggleTurning has a guess turned on the dial, or ends that.
func (a *Acts) ToggleTurning() {
	a.p.Choose(Guess)
	a.p.find(Guess).(*guess).turn.toggle()
}

// ToggleEstimateFirst has each new line come with its figures hidden, or ends that.
func (a *Acts) ToggleEstimateFirst() {
	a.front(func() { a.p.n.Lesson.SetEstimateFirst(!a.p.n.Lesson.EstimateFirst()) })
}

// TypeTraining goes to the field for the training GMA.
func (a *Acts) TypeTraining() {
	a.p.Choose(Show)
	a.p.find(Show).(*show).training.focus()
}

// Step shows the compass after a step; 0 is before the first.
func (a *Acts) Step(to int) { a.stepping(func(x *compass) { x.step(to) }) }

// NextWrong has the compass handled with the next mistake.
func (a *Acts) NextWrong() { a.stepping((*compass).nextWrong) }

// SetWrong has the compass handled with a mistake, or right.
func (a *Acts) SetWrong(w teach.Wrong) { a.stepping(func(x *compass) { x.setWrong(w) }) }

// OtherWay steps from the ground to the map, or from the map to the ground.
func (a *Acts) OtherWay() { a.stepping((*compass).otherWay) }

// stepping goes to the compass and acts there.
func (a *Acts) stepping(act func(*compass)) {
	a.p.Choose(Compass)
	act(a.p.compass())
}

// letters are the acts by the keys that the menu names.
func (a *Acts) letters() map[rune]func() {
	return map[rune]func(){
		'h': a.ToggleHidden, 'n': a.NextNorth, 'g': a.AskForGuess, 'f': a.DrawGuesses, 'a': a.Answer, 't': a.ToggleTurning,
		'b': func() { a.SetAsk(teach.AskBearing) }, 'd': func() { a.SetAsk(teach.AskDistance) },
		'c': func() { a.SetAsk(teach.AskClimb) }, 'm': func() { a.SetAsk(teach.AskTime) },
	}
}

// front brings the panel to the front and acts there.
func (a *Acts) front(act func()) {
	a.p.n.Host.ShowPanel()
	act()
	a.p.n.Host.Changed()
}
