package ui

import "legwright/app/plan"

// routeHost is the window as the Route panel needs it.
type routeHost struct{ b *Bench }

// Show brings the Route panel to the front.
func (h routeHost) Show() {
	if h.b.frame.panel.front != panelRoute {
		h.b.goTo(panelRoute)
	}
}

// Moving reports whether dragging moves marks and ends.
func (h routeHost) Moving() bool { return h.b.frame.panel.moving }

// ShowSheet shows another sheet of the plan, and then brings a thing into sight.
func (h routeHost) ShowSheet(id, thing plan.ID) { h.b.showSheet(id, thing) }
