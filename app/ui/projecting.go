package ui

import "legwright/app/ui/projector"

// newProjector makes the window for the group, which is closed at first.
func newProjector(b *Bench, t *teaching) *projector.Projector {
	p := projector.New(projector.Needs{App: b.program.app, Bench: b.window, Session: b.s, Lesson: t.lesson, Later: b.program.later})
	p.OnChange(func() {
		b.lessonChanged()
		b.program.probe.touch()
	})
	return p
}

// toggleProjector opens the window for the group, turned as the bench shows the sheet, or
// closes it.
func (b *Bench) toggleProjector() {
	p := b.teach.projector
	if p.IsOpen() {
		p.Close()
		return
	}
	teachHost{b}.ShowPanel() // which follows the lesson
	p.Turn(b.view.Area().View().Rotation())
	p.Open()
}

// turnSheet turns the sheet to an angle in radians, clockwise from upright, for the coach
// and for the group.
func (b *Bench) turnSheet(angle float64) {
	b.view.Area().RotateTo(angle)
	b.teach.projector.Turn(angle)
}
