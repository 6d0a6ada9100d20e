package planfile

import (
	"legwright/app/geodesy"
	"legwright/app/plan"
)

type trackShape struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	Hidden bool         `json:"hidden,omitempty"`
	Import string       `json:"import,omitempty"`
	Points [][2]float64 `json:"lat_lon_deg"`
}

func trackToShape(t plan.Track) trackShape {
	out := trackShape{ID: string(t.ID), Name: t.Name, Hidden: t.Hidden, Import: t.Import, Points: make([][2]float64, len(t.Points))}
	for i, ll := range t.Points {
		out.Points[i] = [2]float64{degrees(ll.Lat), degrees(ll.Lon)}
	}
	return out
}

func (r *reader) track(s trackShape) plan.Track {
	return plan.Track{ID: plan.ID(s.ID), Name: r.line("track", s.Name), Hidden: s.Hidden, Import: r.line("import", s.Import), Points: list(s.Points, func(q [2]float64) geodesy.LatLon {
		return geodesy.DegLatLon(q[0], q[1])
	})}
}
