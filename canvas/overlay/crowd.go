package overlay

import (
	"math"

	"legwright/canvas/view"
)

// elbowRoom is how far many control points must be apart for the corners around
// each, in device-independent pixels: nearer, the corners would hide the map.
const elbowRoom = 44

// crowded reports whether the control points, as many as are not named on the
// sheet, stand closer than elbowRoom, by the mean of the ground they take up.
func crowded(list []Control, v view.View, px float64) bool {
	if len(list) <= mostNamed {
		return false
	}
	lo, hi := list[0].At, list[0].At
	for _, c := range list {
		lo.X, lo.Y = math.Min(lo.X, c.At.X), math.Min(lo.Y, c.At.Y)
		hi.X, hi.Y = math.Max(hi.X, c.At.X), math.Max(hi.Y, c.At.Y)
	}
	each := (hi.X - lo.X) * (hi.Y - lo.Y) / float64(len(list))
	return v.Scale()*math.Sqrt(each) < elbowRoom*px
}
