package ui

import "legwright/canvas/pyramid"

// Pyramid is what the sheet shows, or nil. It serves the speed figures, which
// work the bench from within; call it on the main thread.
func (b *Bench) Pyramid() *pyramid.Pyramid {
	if p := b.desk.Preview(); p != nil {
		return p
	}
	return b.desk.Pyramid()
}
