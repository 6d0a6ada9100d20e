package mapview

import "time"

// Stats are the main-thread times spent in the widget since the last
// FrameStats, for benches. They hold neither the toolkit's own painting nor
// what callbacks do outside events.
type Stats struct {
	Events  time.Duration // in event handlers, with callbacks, Place included
	Place   time.Duration // in placing tiles
	Overlay time.Duration // in drawing films, on a goroutine of its own
	Redraws int           // of the overlay
}

// FrameStats gives the times since the last call and starts anew.
func (m *MapView) FrameStats() Stats {
	s := m.stats
	m.stats = Stats{}
	return s
}

// time adds the time since start to a sum; use it with defer.
func (s *Stats) time(sum *time.Duration, start time.Time) { *sum += time.Since(start) }
