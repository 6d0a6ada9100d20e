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

func (s placeShift) at(ll LatLon) *helmert {
	lat, lon := ll.Lat.Deg(), wrapLon(float64(ll.Lon))*180/math.Pi
	for _, part := range s.parts {
		if part.where.contains(lat, lon) {
			return part.shift
		}
	}
	return s.rest
}

func (s placeShift) fromWGS84(p plane, ll LatLon) (Grid, Factors, Shift, error) {
	return s.at(ll).fromWGS84(p, ll)
}

// toWGS84 chooses by the place on the grid's own datum, some 100 m away. At a
// parting line, where two shifts meet that differ by metres, the way back may
// use the other one.
func (s placeShift) toWGS84(p plane, g Grid) (LatLon, Shift, error) {
	own, _, err := p.unproject(g)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	return s.at(own).toWGS84(p, g)
}

// nad27Shifts returns the published mean shifts of the large countries (EPSG
// 1176, 1249, 1172, 1187 and 1173, from DMA TR8350.2): Alaska is good to 12 m,
// the Aleutians to 15 m, Canada to 20 m, Mexico to 12 m, the 48 states to
// 10 m. The parting lines are our own; southern Ontario and Quebec, and
// Mexico north of 26°, fall to the shift of the 48 states.
func nad27Shifts() placeShift {
	alaska := translation("three-parameter shift (NAD27, Alaska)", 6, -5, 135, 172)
	canada := translation("three-parameter shift (NAD27, Canada)", 10, -10, 158, 187)
	return placeShift{
		parts: []partShift{
			{box{51, -180, 54.34, -164}, translation("three-parameter shift (NAD27, Aleutians)", 7.5, -2, 152, 149)},
			{box{54.34, -180, 75, -141}, alaska},
			{box{54.34, -141, 60, -130}, alaska},
			{box{49, -141, 84, -44}, canada},
			{box{40, -66.9, 49, -44}, canada},
			{box{14, -118.5, 26, -86.6}, translation("three-parameter shift (NAD27, Mexico)", 6, -12, 130, 190)},
		},
		rest: translation("three-parameter shift (NAD27, 48 states)", 5, -8, 160, 176),
	}
}
