package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
)

// teach holds the acts of a lesson.
func (m *menuBar) teach() *fyne.Menu {
	b, p := m.b, m.b.teach.panel
	var list []*fyne.MenuItem
	for _, j := range []struct {
		job   teachpanel.Job
		words string
	}{
		{teachpanel.Show, "Show a line"},
		{teachpanel.Guess, "Guess a bearing or a distance"},
		{teachpanel.Identify, "See what lies on a bearing"},
		{teachpanel.TwoPeople, "Compare the bearings of two people"},
		{teachpanel.Compass, "Step through the compass"},
	} {
		if p.Has(j.job) {
			on := func() bool { return b.frame.panel.front == panelTeach && p.Chosen() == j.job }
			list = append(list, m.tick(on, fyne.NewMenuItem(j.words, func() { p.Choose(j.job) })))
		}
	}
	acts := func(words string, do func()) *fyne.MenuItem {
		return fyne.NewMenuItem(words, func() {
			if !b.dialogs.Waiting() {
				do()
			}
		})
	}
	line := func() bool { _, ok := b.teach.lesson.Line(); return ok }
	guessed := func() bool { return b.teach.lesson.Guessed() > 0 }
	asks := func(a teach.Ask) func() bool { return func() bool { return b.teach.lesson.Ask() == a } }
	row := func() bool { return len(b.teach.lesson.Row()) > 0 }
	return fyne.NewMenu("Teach", append(append(list, fyne.NewMenuItemSeparator()),
		m.when(row, acts("Next line  (Page Down)", p.Next)),
		m.when(row, acts("Previous line  (Page Up)", p.Previous)),
		m.tick(b.teach.lesson.Hidden, acts("Hide figures from the group  (H)", p.ToggleHidden)),
		acts("Tell bearings from the next north  (N)", p.NextNorth),
		fyne.NewMenuItemSeparator(),
		m.when(line, acts("Ask for a guess  (G)", p.AskForGuess)),
		m.tick(asks(teach.AskBearing), acts("Guess the bearing  (B)", func() { p.SetAsk(teach.AskBearing) })),
		m.tick(asks(teach.AskDistance), acts("Guess the distance  (D)", func() { p.SetAsk(teach.AskDistance) })),
		acts("Turn a guess on the dial  (T)", p.ToggleTurning),
		m.when(guessed, acts("Draw the guesses  (F)", p.DrawGuesses)),
		m.when(line, acts("Show the answer  (A)", p.Answer)),
		fyne.NewMenuItemSeparator(),
		m.tick(b.teach.projector.IsOpen, m.item("Open the window for the group", key(fyne.KeyP), b.toggleProjector)))...)
}
