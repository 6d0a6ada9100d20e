package ui

import "legwright/app/ui/teachpanel"

// teachHost is the window as the Teach panel needs it.
type teachHost struct{ b *Bench }

// teaching is what the window has for a lesson.
type teaching struct {
	panel *teachpanel.Panel
}

func newTeaching(b *Bench) *teaching {
	return &teaching{panel: teachpanel.New(teachpanel.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Host: teachHost{b}, Outer: b.panelScroll,
	})}
}

// ShowPanel brings the Teach panel to the front.
func (h teachHost) ShowPanel() {
	if h.b.frame.panel.front != panelTeach {
		h.b.goTo(panelTeach)
	}
}

// Changed brings the menus up to date.
func (h teachHost) Changed() { h.b.refreshMenus() }
