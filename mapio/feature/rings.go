package feature

import (
	"math"

	"github.com/paulmach/orb"

	"legwright/app/ground"
)

// Rings are the border of an area and its holes, without the slits that join them in a plan; the
// border alone where it has none. on is the ring of each point of the outline, nil for one ring.
func (f Feature) Rings() (rings [][]Point, on []int) {
	if !f.Closed || len(f.Points) == 0 {
		return [][]Point{f.Points}, nil
	}
	cos := math.Cos(float64(f.Points[0].At.Lat))
	list := make([]orb.Point, len(f.Points))
	for i, p := range f.Points {
		list[i] = orb.Point{p.At.Lon.Deg() * cos, p.At.Lat.Deg()}
	}
	on = ground.Rings(list)
	return ground.OnRings(f.Points, on), on
}
