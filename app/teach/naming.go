package teach

import (
	"math"

	"legwright/app/units"
)

// Naming is a bearing in words, from the coarse to the fine.
type Naming struct {
	Quarter string      // "between west and north"; "" on a cardinal direction
	Near    string      // the nearer cardinal direction, "" exactly half-way between two
	Off     units.Angle // from Near, positive clockwise; half-way, from the one before
	Point   string      // letters of the nearest of the sixteen points, such as "NNW"
	Words   string      // "between west and north, nearer north: NNW"
}

// asGood is how far from a direction a bearing still counts as that direction: nobody
// reads a compass finer (common practice, no source).
const asGood = 0.5

// NameOf returns the name of a bearing: a cardinal direction within half a degree,
// otherwise the quarter, the nearer cardinal direction and the sixteen-point name.
func NameOf(a units.Angle) Naming {
	deg := a.Turn().Deg()
	past := math.Mod(deg, 90) // clockwise of the cardinal direction before it
	before := int(deg/90) % 4
	after := (before + 1) % 4
	out := Naming{Off: units.Degrees(past), Point: units.SixteenShort(a)}
	switch {
	case past <= asGood+tiny:
		return out.on(before)
	case past >= 90-asGood-tiny:
		out.Off = units.Degrees(past - 90)
		return out.on(after)
	}
	out.Quarter = "between " + cardinal(before) + " and " + cardinal(after)
	switch {
	case math.Abs(past-45) <= asGood+tiny:
		out.Words = "half-way " + out.Quarter + ": " + out.Point
		return out
	case past < 45:
		out.Near = cardinal(before)
	default:
		out.Near, out.Off = cardinal(after), units.Degrees(past-90)
	}
	out.Words = out.Quarter + ", nearer " + out.Near + ": " + out.Point
	return out
}

// tiny is in degrees what a figure in radians loses.
const tiny = 1e-9

// on is the name of a cardinal direction itself.
func (n Naming) on(cardinals int) Naming {
	n.Near = cardinal(cardinals)
	n.Words = n.Near
	return n
}

// cardinal names a cardinal direction, counted in quarter turns from north.
func cardinal(quarters int) string {
	return [4]string{"north", "east", "south", "west"}[((quarters%4)+4)%4]
}
