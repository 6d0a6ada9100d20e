package mapview

import (
	"math"
	"time"

	"legwright/canvas/view"
)

// drift is how the view has been moving, so that tiles can be made before
// they are wanted.
type drift struct {
	dx, dy float64 // of the sheet, screen pixels a second
	zoom   float64 // octaves a second, above 0 towards the sheet
}

const (
	// driftMemory is how long ago a movement may have been to count.
	driftMemory = 200 * time.Millisecond
	// driftAhead is how far tiles are looked ahead for.
	driftAhead = 0.4 // seconds
	// driftMost is the most tiles looked ahead along each axis.
	driftMost = 2
)

// follow takes note of a change of the view. A window of another size is no
// movement.
func (m *MapView) follow(to view.View) {
	now := m.now()
	past := now.Sub(m.movedAt)
	m.movedAt = now
	if past > driftMemory || m.view.IsZero() || to.Rotation() != m.view.Rotation() || to.Middle() != m.view.Middle() {
		m.drift = drift{}
		return
	}
	s := max(past.Seconds(), 0.004)
	mid, was := to.Middle(), m.view.ToPicture(m.view.Middle())
	at := to.ToScreen(was)
	const keep = 0.6 // of the speed known so far
	mix := func(old, now float64) float64 { return keep*old + (1-keep)*now }
	m.drift = drift{
		dx:   mix(m.drift.dx, (at.X-mid.X)/s),
		dy:   mix(m.drift.dy, (at.Y-mid.Y)/s),
		zoom: mix(m.drift.zoom, math.Log2(to.Scale()/m.view.Scale())/s),
	}
}

// drifting is how the sheet moves now: not at all, if it has not for a while.
func (m *MapView) drifting() drift {
	if m.now().Sub(m.movedAt) > driftMemory {
		return drift{}
	}
	return m.drift
}

// ahead is how many tiles of a side in screen pixels come into sight soon,
// along each axis; below 0 at the left or upper edge.
func (d drift) ahead(side float64) (x, y int) {
	n := func(speed float64) int {
		t := min(math.Round(math.Abs(speed)*driftAhead/side+0.3), driftMost)
		return -int(math.Copysign(t, speed)) // the sheet goes right: tiles come in from the left
	}
	return n(d.dx), n(d.dy)
}

// next is by how many levels what is shown will soon change: −1, 0 or 1.
func (d drift) next() int {
	const octaves = 1.5 // a second
	switch {
	case d.zoom > octaves:
		return -1
	case d.zoom < -octaves:
		return 1
	}
	return 0
}
