package geodesy

import "math"

// placeShift chooses among published shifts by the place, whose datum does not
// matter for that.
type placeShift struct {
	parts []partShift
	rest  *helmert
}

type partShift struct {
	where box
	shift *helmert
}

func (p placeShift) at(ll LatLon) *helmert {
	lat, lon := ll.Lat.Deg(), wrapLon(float64(ll.Lon))*180/math.Pi
	for _, part := range p.parts {
		if part.where.contains(lat, lon) {
			return part.shift
		}
	}
	return p.rest
}

func (p placeShift) fromWGS84(s *System, ll LatLon) (Grid, Factors, Shift, error) {
	return p.at(ll).fromWGS84(s, ll)
}

// toWGS84 chooses by the place on the grid's own datum, some 100 m away. At a
// parting line, where two shifts meet that differ by metres, the way back may
// use the other one.
func (p placeShift) toWGS84(s *System, g Grid) (LatLon, Shift, error) {
	own, _, err := s.Unproject(g)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	return p.at(own).toWGS84(s, g)
}
