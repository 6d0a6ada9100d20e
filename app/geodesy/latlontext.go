package geodesy

import (
	"fmt"
	"math"
)

// FormatLatLon writes a place in decimal degrees with hemisphere letters, to
// 1e-6° (0.1 m), such as "57.123456°N 4.500000°W". ParseRef reads it back.
func FormatLatLon(ll LatLon) string {
	return hemisphere(ll.Lat.Deg(), "N", "S") + " " +
		hemisphere(wrapLon(float64(ll.Lon))*180/math.Pi, "E", "W")
}

func hemisphere(deg float64, positive, negative string) string {
	text := fmt.Sprintf("%.6f°", math.Abs(deg))
	if deg < 0 && text != "0.000000°" {
		return text + negative
	}
	return text + positive
}
