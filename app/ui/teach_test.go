package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/teachpanel"
)

// A lesson's letters mean nothing in the other panels, and hidden figures stay hidden
// there.
func TestLessonKeysStayInTheirPanel(t *testing.T) {
	b := withALeg(t)
	b.teach.panel.Choose(teachpanel.Show)
	b.rune('h')
	if !b.teach.lesson.Hidden() || !b.frame.dial.Concealed() {
		t.Fatal("H hides nothing")
	}
	b.goTo(panelRoute)
	b.rune('h')
	b.rune('a')
	b.key(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	if !b.teach.lesson.Hidden() || !b.frame.dial.Concealed() {
		t.Error("leaving the panel, or a letter in another one, shows what was hidden")
	}
	if b.frame.panel.front != panelRoute {
		t.Errorf("a letter leads to panel %d", b.frame.panel.front)
	}
}
