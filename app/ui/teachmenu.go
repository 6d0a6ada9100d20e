package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
	"legwright/app/units"
)

// teach holds the acts of a lesson.
func (m *menuBar) teach() *fyne.Menu {
	b, do := m.b, m.b.teach.panel.Acts()
	acts := m.act
	line := func() bool { _, ok := b.Lesson().Line(); return ok }
	guessed := func() bool { return b.Lesson().Guessed() > 0 }
	asks := func(a teach.Ask) func() bool { return func() bool { return b.Lesson().Ask() == a } }
	row := func() bool { return len(b.Lesson().Row()) > 0 }
	return fyne.NewMenu("Teach", append(append(m.teachJobs(), fyne.NewMenuItemSeparator()),
		m.when(row, acts("Next line  (Page Down)", do.Next)),
		m.when(row, acts("Previous line  (Page Up)", do.Previous)),
		m.tick(b.Lesson().Hidden, acts("Hide figures from the group  (H)", do.ToggleHidden)),
		m.tick(b.Lesson().EstimateFirst, acts("Hide the figures of each new line", do.ToggleEstimateFirst)),
		acts("Switch between grid, magnetic and true north  (N)", do.NextNorth),
		m.northLines(),
		acts("Type a training GMA", do.TypeTraining),
		m.tick(b.teach.projector.IsOpen, m.item("Open the window for the group", key(fyne.KeyB, fyne.KeyModifierShift), b.toggleProjector)),
		fyne.NewMenuItemSeparator(),
		m.when(line, acts("Ask for a guess  (G)", do.AskForGuess)),
		m.tick(asks(teach.AskBearing), acts("Guess the bearing  (B)", func() { do.SetAsk(teach.AskBearing) })),
		m.tick(asks(teach.AskDistance), acts("Guess the distance  (D)", func() { do.SetAsk(teach.AskDistance) })),
		m.tick(asks(teach.AskClimb), acts("Guess the climb  (C)", func() { do.SetAsk(teach.AskClimb) })),
		m.tick(asks(teach.AskTime), acts("Guess the walking time in minutes  (M)", func() { do.SetAsk(teach.AskTime) })),
		m.when(asks(teach.AskBearing), acts("Start or stop guessing on the dial  (T)", do.ToggleTurning)),
		m.when(guessed, acts("Draw the guesses  (F)", do.DrawGuesses)),
		m.when(line, acts("Show the answer  (A)", do.Answer)),
		fyne.NewMenuItemSeparator(),
		m.steps(line), m.wrongs(line))...)
}

// steps go through the compass.
func (m *menuBar) steps(line func() bool) *fyne.MenuItem {
	l, do := m.b.Lesson(), m.b.teach.panel.Acts()
	entry := func(words string, to int) *fyne.MenuItem {
		on := func() bool { s, is := l.Stepping(); return is && s.Step == to }
		return m.when(line, m.tick(on, m.act(words, func() { do.Step(to) })))
	}
	back := func() bool { s, is := l.Stepping(); return is && s.Way == teach.GroundToMap }
	list := []*fyne.MenuItem{entry("Before the first step  (0)", 0)}
	for i, nth := range []string{"First", "Second", "Third", "Fourth"} {
		list = append(list, entry(fmt.Sprintf("%s step  (%d)", nth, i+1), i+1))
	}
	list = append(list, m.when(line, m.tick(back, m.act("From the ground to the map  (M)", do.OtherWay))))
	out := fyne.NewMenuItem("Steps of the compass", nil)
	out.ChildMenu = fyne.NewMenu("", list...)
	return out
}

// wrongs choose how the compass is handled.
func (m *menuBar) wrongs(line func() bool) *fyne.MenuItem {
	l, do := m.b.Lesson(), m.b.teach.panel.Acts()
	list := []*fyne.MenuItem{m.when(line, m.act("Next mistake  (W)", do.NextWrong))}
	for _, w := range teach.Hows() {
		on := func() bool { s, is := l.Stepping(); return is && s.Wrong == w }
		words := strings.ToUpper(w.Words()[:1]) + w.Words()[1:]
		list = append(list, m.when(line, m.tick(on, m.act(words, func() { do.SetWrong(w) }))))
	}
	out := fyne.NewMenuItem("Mistakes with the compass", nil)
	out.ChildMenu = fyne.NewMenu("", list...)
	return out
}

// teachJobs go to the jobs that there are.
func (m *menuBar) teachJobs() []*fyne.MenuItem {
	b, p := m.b, m.b.teach.panel
	var list []*fyne.MenuItem
	for _, j := range []struct {
		job   teachpanel.Job
		words string
	}{
		{teachpanel.Show, "Show a line"},
		{teachpanel.Guess, "Guess a bearing, distance, climb or time"},
		{teachpanel.Identify, "See what lies on a bearing"},
		{teachpanel.TwoPeople, "Compare the bearings of two people"},
		{teachpanel.Compass, "Step through the compass"},
	} {
		if p.Has(j.job) {
			on := func() bool { return b.frame.panel.front == panelTeach && p.Chosen() == j.job }
			list = append(list, m.tick(on, fyne.NewMenuItem(j.words, func() { p.Choose(j.job) })))
		}
	}
	return list
}

// act is an entry that does nothing while a dialog waits for its answer.
func (m *menuBar) act(words string, do func()) *fyne.MenuItem {
	return fyne.NewMenuItem(words, func() {
		if !m.b.dialogs.Waiting() {
			do()
		}
	})
}

// northLines draw each north line, or leave it away.
func (m *menuBar) northLines() *fyne.MenuItem {
	l := m.b.Lesson()
	var list []*fyne.MenuItem
	for _, n := range units.Norths() {
		list = append(list, m.tick(func() bool { return l.Draws(n) }, m.act("Draw the line of "+n.Long()+" north", func() { l.SetDraws(n, !l.Draws(n)) })))
	}
	out := fyne.NewMenuItem("North lines", nil)
	out.ChildMenu = fyne.NewMenu("", list...)
	return out
}
