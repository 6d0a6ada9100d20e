package calib

import (
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// How well points must fit a mirrored picture before it is called mirrored.
const (
	mirrorGain  = 16.0 // times better than as it is,
	mirrorAllow = 9.0  // the clicks' variance being at most so many times what is stated,
	leastAllow  = 4    // of at least so many points: three fit much
)

// turnedOver says that the points fit the picture's mirror image where they do not
// fit the picture; misfit is that of the points as they are.
func turnedOver(points []ControlPoint, o Options, misfit float64) (caution.Caution, bool) {
	flipped := append([]ControlPoint(nil), points...)
	for i := range flipped {
		flipped[i].At.Col = float64(o.Width) - flipped[i].At.Col
	}
	e, err := estimateOf(flipped, o)
	if err != nil || e.gls.rank == 0 {
		return caution.Caution{}, false
	}
	most := chi2Bound(e.gls.rank)
	if len(points) >= leastAllow {
		most *= mirrorAllow
	}
	if e.strict > most || misfit < mirrorGain*math.Max(e.strict, float64(e.gls.rank)) {
		return caution.Caution{}, false
	}
	return mirrorCaution(points), true
}

// mirrorCaution says whether a mirrored picture comes of eastings and northings
// swapped at every point, after which the sheet stands upright or on its head, or
// of a scan that was flipped over.
func mirrorCaution(points []ControlPoint) caution.Caution {
	if p, ok := startPlane(swappedAt(points)); ok && math.Abs(math.Cos(p.rotation(points[0].At).Rad())) > math.Sqrt2/2 {
		return caution.Of(caution.AxesSwapped, "every control point")
	}
	return caution.Of(caution.Mirrored)
}

// swappedAt returns the points with easting and northing swapped at some of them,
// at all where none is given.
func swappedAt(points []ControlPoint, which ...int) []ControlPoint {
	out := append([]ControlPoint(nil), points...)
	if len(which) == 0 {
		for i := range out {
			which = append(which, i)
		}
	}
	for _, i := range which {
		out[i].Ref = geodesy.Grid{E: out[i].Ref.N, N: out[i].Ref.E}
	}
	return out
}
