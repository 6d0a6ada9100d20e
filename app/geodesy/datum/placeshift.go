package datum

import (
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// placeShift chooses a published shift by position; the datum does not matter for that.
type placeShift struct {
	parts []partShift
	rest  *Helmert
}

type partShift struct {
	where earth.Area
	shift *Helmert
}

func (s placeShift) at(ll earth.LatLon) *Helmert {
	for _, part := range s.parts {
		if part.where.Contains(ll) {
			return part.shift
		}
	}
	return s.rest
}

func (s placeShift) FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	return s.at(ll).FromWGS84(p, ll)
}

// ToWGS84 chooses by the position on the grid's own datum, some 100 m away. At a
// parting line, where two shifts meet that differ by metres, the way back may
// use the other one.
func (s placeShift) ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	own, _, err := p.Unproject(g)
	if err != nil {
		return earth.LatLon{}, Shift{}, err
	}
	return s.at(own).ToWGS84(p, g)
}

// NAD27 returns the published mean shifts of the large countries (EPSG
// 1176, 1249, 1172, 1187 and 1173, from DMA TR8350.2): Alaska is good to 12 m,
// the Aleutians to 15 m, Canada to 20 m, Mexico to 12 m, the 48 states to
// 10 m. The parting lines are our own; southern Ontario and Quebec, and
// Mexico north of 26°, fall to the shift of the 48 states.
func NAD27() placeShift {
	alaska := Translation("three-parameter shift (NAD27, Alaska)", 6, -5, 135, 172)
	canada := Translation("three-parameter shift (NAD27, Canada)", 10, -10, 158, 187)
	return placeShift{
		parts: []partShift{
			{earth.AreaOf([4]float64{51, -180, 54.34, -164}), Translation("three-parameter shift (NAD27, Aleutians)", 7.5, -2, 152, 149)},
			{earth.AreaOf([4]float64{54.34, -180, 75, -141}), alaska},
			{earth.AreaOf([4]float64{54.34, -141, 60, -130}), alaska},
			{earth.AreaOf([4]float64{49, -141, 84, -44}), canada},
			{earth.AreaOf([4]float64{40, -66.9, 49, -44}), canada},
			{earth.AreaOf([4]float64{14, -118.5, 26, -86.6}), Translation("three-parameter shift (NAD27, Mexico)", 6, -12, 130, 190)},
		},
		rest: Translation("three-parameter shift (NAD27, 48 states)", 5, -8, 160, 176),
	}
}
