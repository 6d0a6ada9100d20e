package geodesy

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy/earth"
)

// mostDecimals of a degree are written: 0.1 m.
const mostDecimals = 6

// FormatLatLon writes a position in decimal degrees with hemisphere letters, to
// 1e-6° (0.1 m), such as "57.123456°N 4.500000°W". ParseRef reads it back.
func FormatLatLon(ll LatLon) string { return FormatLatLonTo(ll, mostDecimals) }

// FormatLatLonTo is FormatLatLon with fewer decimals, 0 to 6. Five of latitude are
// 1.1 m, each one less ten times that.
func FormatLatLonTo(ll LatLon, decimals int) string {
	decimals = min(max(decimals, 0), mostDecimals)
	return hemisphere(ll.Lat.Deg(), decimals, "N", "S") + " " +
		hemisphere(earth.WrapLon(float64(ll.Lon))*180/math.Pi, decimals, "E", "W")
}

func hemisphere(deg float64, decimals int, positive, negative string) string {
	text := fmt.Sprintf("%.*f°", decimals, math.Abs(deg))
	if deg < 0 && strings.Trim(text, "0.°") != "" {
		return text + negative
	}
	return text + positive
}
