package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/projector"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/widgets"
)

// teachHost is the window as the Teach panel needs it.
type teachHost struct{ b *Bench }

// teaching is what the window has for a lesson.
type teaching struct {
	lesson    *teach.Lesson
	panel     *teachpanel.Panel
	projector *projector.Projector
	told      lessonState // what the window was last given to show
}

// Lesson is what the group is shown, beside the plan.
func (b *Bench) Lesson() *teach.Lesson { return b.teach.lesson }

// lessonState is what the window must know of a lesson, whose line may change with each
// step of a drag.
type lessonState struct {
	concealed, line, row, guessed, hidden, projected bool
	ask                                              teach.Ask
	stepping                                         teach.Stepping
}

func newTeaching(b *Bench) *teaching {
	t := &teaching{lesson: teach.NewLesson()}
	t.panel = teachpanel.New(teachpanel.Needs{
		Session: b.s, Lesson: t.lesson, Foot: b.foot, Ask: b.dialogs, View: b.view, Dial: b.frame.dial,
		Host: teachHost{b}, Outer: b.panelScroll, Project: b.toggleProjector,
	})
	t.projector = newProjector(b, t)
	t.lesson.OnChange(b.lessonChanged)
	return t
}

// lessonChanged hides the figures wherever the group can see the bench, or shows them,
// and brings the menus up to date. A group that has a window on a screen of its own does
// not see the bench.
func (b *Bench) lessonChanged() {
	t := b.teach
	l := t.lesson
	_, line := l.Line()
	now := lessonState{
		concealed: l.Hidden() && !t.projector.Apart(), line: line, row: len(l.Row()) > 0, guessed: l.Guessed() > 0,
		hidden: l.Hidden(), projected: t.projector.IsOpen(), ask: l.Ask(),
	}
	now.stepping, _ = l.Stepping()
	was := t.told
	t.told = now
	if now.concealed != was.concealed {
		b.conceal(now.concealed)
	}
	if now != was {
		t.panel.Projected(now.projected)
		b.refreshMenus()
	}
}

// Find brings a thing of the plan into sight.
func (h teachHost) Find(id plan.ID) { h.b.route.Find(id) }

// Reveal scrolls until a part of the panel is seen.
func (h teachHost) Reveal(o fyne.CanvasObject) { h.b.frame.panel.reveal(o) }

// ShowPanel brings the Teach panel to the front.
func (h teachHost) ShowPanel() {
	if h.b.frame.panel.front != panelTeach {
		h.b.goTo(panelTeach)
	}
}

// Changed brings the menus up to date, gives the compass its place beside the sheet, and
// the dial the height that the job leaves it. A field of a job that went gives up the keys.
func (h teachHost) Changed() {
	h.b.releaseKeys()
	h.b.splitSheet()
	h.b.refreshMenus()
	widgets.Arrange(h.b.frame.panel.column)
}

// splitSheet lays the window out anew where the compass beside the sheet came or went. The
// line that the group looks at stays in sight.
func (b *Bench) splitSheet() {
	l := b.frame.layout
	if l.beside.Visible() == l.splits {
		return
	}
	b.frame.panel.arrange()
	b.frame.root.Refresh()
	b.teach.panel.Bring()
}
