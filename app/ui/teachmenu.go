package ui

import (
	"fyne.io/fyne/v2"

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
	return fyne.NewMenu("Teach", list...)
}
