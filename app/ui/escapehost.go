package ui

import "legwright/app/plan"

// escapeHost is the window as the Escape panel needs it.
type escapeHost struct{ b *Bench }

// Find brings a thing into sight.
func (h escapeHost) Find(id plan.ID) { h.b.route.Find(id) }
