package mapview

import (
	"math"
	"time"

	"legwright/canvas/view"
)

// velocity is how the view has been moving, so that tiles can be made before
// they are wanted.
type velocity struct {
	dx, dy float64 // of the sheet, screen pixels a second
	zoom   float64 // octaves a second, above 0 towards the sheet
}

const (
	// velocityMemory is how long ago a movement may have been to count.
	velocityMemory = 200 * time.Millisecond
	// lookAhead is how far tiles are looked ahead for.
	lookAhead = 0.4 // seconds
	// mostAhead is the most tiles looked ahead along each axis.
	mostAhead = 2
)

// follow takes note of a change of the view. A window of another size is no
// movement.
func (m *MapView) follow(to view.View) {
	now := m.now()
	past := now.Sub(m.movedAt)
	m.movedAt = now
	if past > velocityMemory || m.view.IsZero() || to.Rotation() != m.view.Rotation() || to.Middle() != m.view.Middle() {
		m.velocity = velocity{}
		return
	}
	s := max(past.Seconds(), 0.004)
	mid, was := to.Middle(), m.view.ToPicture(m.view.Middle())
	at := to.ToScreen(was)
	const keep = 0.6 // of the speed known so far
	mix := func(old, now float64) float64 { return keep*old + (1-keep)*now }
	m.velocity = velocity{
		dx:   mix(m.velocity.dx, (at.X-mid.X)/s),
		dy:   mix(m.velocity.dy, (at.Y-mid.Y)/s),
		zoom: mix(m.velocity.zoom, math.Log2(to.Scale()/m.view.Scale())/s),
	}
}

// velocityNow is how the sheet moves now: not at all, if it has not for a while.
func (m *MapView) velocityNow() velocity {
	if m.now().Sub(m.movedAt) > velocityMemory {
		return velocity{}
	}
	return m.velocity
}

// ahead is how many tiles of a side in screen pixels come into sight soon,
// along each axis; below 0 at the left or upper edge.
func (d velocity) ahead(side float64) (x, y int) {
	n := func(speed float64) int {
		t := min(math.Round(math.Abs(speed)*lookAhead/side+0.3), mostAhead)
		return -int(math.Copysign(t, speed)) // the sheet goes right: tiles come in from the left
	}
	return n(d.dx), n(d.dy)
}

// next is by how many levels what is shown will soon change: −1, 0 or 1.
func (d velocity) next() int {
	const octaves = 1.5 // a second
	switch {
	case d.zoom > octaves:
		return -1
	case d.zoom < -octaves:
		return 1
	}
	return 0
}
