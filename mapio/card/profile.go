package card

import (
	"legwright/app/leg"
	"legwright/app/terrain"
	"legwright/mapio/paper"
)

// Heights of the profile on a card: the usual one, and the one that is taken where it saves
// a page.
const profileMM, lowProfileMM = 45.0, 30.0

// routeOf is the ground along the legs, nil where terrain has no height of any.
func routeOf(rows []leg.Row) (out []paper.Stretch) {
	var list []terrain.Profile
	for i, row := range rows {
		list = append(list, row.Profile)
		out = append(out, paper.Stretch{Number: i + 1, Ground: row.Profile, LengthM: row.Reading.GroundM})
	}
	if _, ok := terrain.SpanOf(list...); !ok {
		return nil
	}
	return out
}

// profile draws the ground along the legs, if terrain has heights.
func (c *Content) profile(f *flow, high float64) {
	if len(c.route) == 0 {
		return
	}
	f.need(high)
	box, rest := f.rest.Top(high)
	if f.p.Profile(box, c.route) {
		f.rest = rest
		f.gap()
	}
}
