package plan

import (
	"math"

	"legwright/app/geodesy"
)

// Track is a recorded track: it is shown, but not edited.
type Track struct {
	ID     ID
	Name   string
	Points []geodesy.LatLon // WGS 84
	Hidden bool             // not drawn
	Import string           // name of the import that it came with; "" for none
}

func (t *Track) parts() parts { return parts{id: &t.ID, name: &t.Name, from: &t.Import} }

func (t *Track) bad() string {
	for _, ll := range t.Points {
		if !(math.Abs(ll.Lat.Deg()) <= 90 && math.Abs(ll.Lon.Deg()) <= 360) {
			return "a point lies outside latitude ±90 or longitude ±360"
		}
	}
	return ""
}

// AddTrack returns the plan with one more track.
func (p *Plan) AddTrack(t Track) *Plan {
	return p.with(func(q *Plan) { q.Tracks = add(p.Tracks, t) })
}

// SetTrack returns the plan with the track of the same ID replaced.
func (p *Plan) SetTrack(t Track) *Plan {
	return p.with(func(q *Plan) {
		q.Tracks = replace(p.Tracks, t, func(x Track) bool { return x.ID == t.ID })
	})
}

// TrackByID returns the track with that ID.
func (p *Plan) TrackByID(id ID) (Track, bool) {
	return find(p.Tracks, func(t Track) bool { return t.ID == id })
}
