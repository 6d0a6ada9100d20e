package earth

import "math"

// Box is a range of latitudes and longitudes in degrees. West may be greater
// than east: then the box crosses the 180° meridian.
type Box struct{ South, West, North, East float64 }

// Area is a union of boxes.
type Area []Box

// AreaOf returns the area of some boxes, each by its south, west, north and east.
func AreaOf(boxes ...[4]float64) Area {
	a := make(Area, len(boxes))
	for i, b := range boxes {
		a[i] = Box{b[0], b[1], b[2], b[3]}
	}
	return a
}

// Contains reports whether a latitude and a longitude from −180 to 180 lie in the box.
func (b Box) Contains(latDeg, lonDeg float64) bool {
	if latDeg < b.South || latDeg > b.North {
		return false
	}
	if b.West > b.East {
		return lonDeg >= b.West || lonDeg <= b.East
	}
	return lonDeg >= b.West && lonDeg <= b.East
}

// Contains reports whether a position lies in one of the boxes.
func (a Area) Contains(ll LatLon) bool {
	lat, lon := ll.Lat.Deg(), WrapLon(float64(ll.Lon))*180/math.Pi
	for _, b := range a {
		if b.Contains(lat, lon) {
			return true
		}
		if lon == 180 && b.Contains(lat, -180) {
			return true
		}
	}
	return false
}

// Size returns the square degrees of the boxes together.
func (a Area) Size() float64 {
	sum := 0.0
	for _, b := range a {
		width := b.East - b.West
		if width < 0 {
			width += 360
		}
		sum += width * (b.North - b.South)
	}
	return sum
}

// Grown returns the area with every box widened by a margin in degrees.
func (a Area) Grown(deg float64) Area {
	out := make(Area, len(a))
	for i, b := range a {
		b.South, b.North = b.South-deg, b.North+deg
		if b.East-b.West < 360-2*deg || b.West > b.East {
			b.West, b.East = WrapDeg(b.West-deg), WrapDeg(b.East+deg)
		}
		out[i] = b
	}
	return out
}

// WrapDeg brings a longitude of at most one turn too much into −180° to 180°.
func WrapDeg(deg float64) float64 {
	switch {
	case deg < -180:
		return deg + 360
	case deg > 180:
		return deg - 360
	}
	return deg
}
