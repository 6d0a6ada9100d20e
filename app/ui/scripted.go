package ui

import "legwright/canvas/pyramid"

// Pyramid is what the sheet shows, or nil. It serves the speed figures, which
// work the bench from within; call it on the main thread.
func (b *Bench) Pyramid() *pyramid.Pyramid {
	if b.glimpsed() {
		return b.picture.glimpse
	}
	return b.picture.pyramid
}
