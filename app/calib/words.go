package calib

import (
	"math"
	"strconv"

	"legwright/app/units"
)

// figure writes a length in whole metres with commas between its thousands, or with one decimal below ten metres.
func figure(m float64) string {
	m = math.Abs(m)
	if m < 9.95 {
		return strconv.FormatFloat(m, 'f', 1, 64)
	}
	return units.Grouped(m)
}
