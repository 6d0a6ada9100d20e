package geodesy

import "math"

// box is a range of latitudes and longitudes in degrees. West may be greater
// than east: then the box crosses the 180° meridian.
type box struct{ south, west, north, east float64 }

// area is a union of boxes.
type area []box

func (b box) contains(latDeg, lonDeg float64) bool {
	if latDeg < b.south || latDeg > b.north {
		return false
	}
	if b.west > b.east {
		return lonDeg >= b.west || lonDeg <= b.east
	}
	return lonDeg >= b.west && lonDeg <= b.east
}

func (a area) contains(ll LatLon) bool {
	lat, lon := ll.Lat.Deg(), wrapLon(float64(ll.Lon))*180/math.Pi
	for _, b := range a {
		if b.contains(lat, lon) {
			return true
		}
		if lon == 180 && b.contains(lat, -180) {
			return true
		}
	}
	return false
}

// size returns the square degrees of the boxes together.
func (a area) size() float64 {
	sum := 0.0
	for _, b := range a {
		width := b.east - b.west
		if width < 0 {
			width += 360
		}
		sum += width * (b.north - b.south)
	}
	return sum
}

// grown returns the area with every box widened by a margin in degrees.
func (a area) grown(deg float64) area {
	out := make(area, len(a))
	for i, b := range a {
		b.south, b.north = b.south-deg, b.north+deg
		if b.east-b.west < 360-2*deg || b.west > b.east {
			b.west, b.east = wrapDeg(b.west-deg), wrapDeg(b.east+deg)
		}
		out[i] = b
	}
	return out
}

func wrapDeg(deg float64) float64 {
	switch {
	case deg < -180:
		return deg + 360
	case deg > 180:
		return deg - 360
	}
	return deg
}
