package calib

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/units"
)

// Limits of what two points may say before it is called unlikely.
const (
	maxOffQuarterDeg = 15.0  // from a quarter turn
	scaleTolerance   = 0.04  // from a usual scale: paper and copiers stretch by 1% to 2%
	minUsualMPP      = 0.1   // metres per pixel where the dpi is unknown:
	maxUsualMPP      = 100.0 // from 1:2 500 at 600 dpi to 1:300 000 at 75 dpi
	uprightDeg       = 5.0   // an undone slip must put the sheet this close to upright
)

// usualScales are the scales of walking maps that a pair is compared with.
func usualScales() []float64 {
	return []float64{10000, 12500, 25000, 40000, 50000, 63360, 100000}
}

// inspectPair checks two points against common sense, since nothing else can.
func inspectPair(c *Calibration) []caution.Caution {
	var found []caution.Caution
	if off := offQuarterDeg(c.Rotation()); off > maxOffQuarterDeg {
		found = append(found, caution.Of(caution.UnlikelyRotation, fmt.Sprintf("%.0f°", off)))
	}
	if text := unlikelyScale(c.MetresPerPixel(), c.options.DPI); text != "" {
		found = append(found, caution.Of(caution.UnlikelyScale, text))
	}
	if len(found) == 0 {
		return nil
	}
	return append(pairSwaps(c), found...)
}

// offQuarterDeg is how far a lies from the nearest quarter turn, in [0, 45].
func offQuarterDeg(a units.Angle) float64 {
	deg := a.Deg()
	return math.Abs(deg - 90*math.Round(deg/90))
}

// unlikelyScale says why the scale is implausible, or nothing.
func unlikelyScale(mpp, dpi float64) string {
	if dpi == 0 {
		if mpp >= minUsualMPP && mpp <= maxUsualMPP {
			return ""
		}
		return fmt.Sprintf("one pixel would cover %.3g m of ground; %g m to %g m is usual", mpp, minUsualMPP, maxUsualMPP)
	}
	scale := mpp * dpi / 0.0254
	nearest, off := nearestScale(scale)
	if off <= scaleTolerance {
		return ""
	}
	return fmt.Sprintf("at %g pixels per inch the scale would be 1:%s; the nearest usual one is 1:%s",
		dpi, units.Grouped(scale), units.Grouped(nearest))
}

// nearestScale returns the usual scale nearest by ratio, and by how much scale
// is off as a fraction.
func nearestScale(scale float64) (nearest, off float64) {
	off = math.Inf(1)
	for _, s := range usualScales() {
		if d := math.Max(scale/s, s/scale) - 1; d < off {
			nearest, off = s, d
		}
	}
	return nearest, off
}

// pairSwaps says at which points easting and northing look swapped, where that would
// put an unlikely pair right.
func pairSwaps(c *Calibration) (found []caution.Caution) {
	for words, which := range map[string][]int{"every control point": {0, 1}, "control point 1": {0}, "control point 2": {1}} {
		p, ok := startPlane(swappedAt(c.points, which...))
		if ok && math.Abs(p.rotation(c.points[0].At).Deg()) <= uprightDeg && unlikelyScale(p.metresPerPixel(c.points[0].At), c.options.DPI) == "" {
			found = append(found, caution.Of(caution.AxesSwapped, words))
		}
	}
	slices.SortFunc(found, func(a, b caution.Caution) int { return strings.Compare(a.Args[0], b.Args[0]) })
	return found
}
