package foot

import (
	"math"

	"legwright/app/units"
)

// longestBar is how long a scale bar is at most, in DIP.
const longestBar = 120

// ScaleBar returns the label and the width in DIP of a bar that stands for a round
// length, for metresPerPx metres on the ground to a physical pixel and scale
// physical pixels to a DIP. There is no bar where metresPerPx is not a positive
// number.
func ScaleBar(metresPerPx, scale float64) (label string, width float32) {
	if !(metresPerPx > 0) || math.IsInf(metresPerPx, 0) {
		return "", 0
	}
	most := longestBar * scale * metresPerPx
	unit := math.Pow(10, math.Floor(math.Log10(most)))
	length := unit
	for _, k := range []float64{5, 2} {
		if k*unit <= most {
			length = k * unit
			break
		}
	}
	return units.RoundLength(length), float32(length / metresPerPx / scale)
}
