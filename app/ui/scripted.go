package ui

import "legwright/canvas/pyramid"

// What follows is for a script that works the bench from within: the speed
// figures and the test that does things at random. Call all of it on the main
// thread.

// Open opens what a path names, as the file menu does.
func (b *Bench) Open(path string) { b.open(path) }

// GiveUp gives up the opening under way, as its button does.
func (b *Bench) GiveUp() { b.giveUpOpening() }

// Opening reports whether a picture is being opened.
func (b *Bench) Opening() bool { return b.picture.now != nil }

// CloseSheet puts an empty plan on the bench and asks nothing.
func (b *Bench) CloseSheet() { b.newPlan() }

// Pyramid is what the sheet shows, or nil.
func (b *Bench) Pyramid() *pyramid.Pyramid {
	if b.glimpsed() {
		return b.picture.glimpse
	}
	return b.picture.pyramid
}

// Dismiss takes away the dialogs that wait for an answer, and says how many
// there were.
func (b *Bench) Dismiss() int {
	n := 0
	b.asked = nil
	for over := b.window.Canvas().Overlays(); over.Top() != nil; n++ {
		over.Remove(over.Top())
	}
	return n
}
