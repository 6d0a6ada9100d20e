package units

import "math"

// sixteen lists the points of the compass at 22.5° clockwise from north.
var sixteen = [16]string{
	"north", "north-north-east", "north-east", "east-north-east",
	"east", "east-south-east", "south-east", "south-south-east",
	"south", "south-south-west", "south-west", "west-south-west",
	"west", "west-north-west", "north-west", "north-north-west",
}

// SixteenPoint names the nearest of the sixteen points of the compass. Each
// point owns the 22.5° around it; a border belongs to the point clockwise of
// it (common practice, no source).
func SixteenPoint(a Angle) string {
	i := int(math.Floor(a.Turn().Deg()/22.5 + 0.5))
	return sixteen[i%16]
}

// EightPoint names the nearest of the eight points of the compass: more are misheard.
func EightPoint(a Angle) string {
	return SixteenPoint(Degrees(45 * math.Round(a.Turn().Deg()/45)))
}

// sixteenShort holds the letters of the same points.
var sixteenShort = [16]string{
	"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
	"S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
}

// SixteenShort returns the letters of SixteenPoint's name.
func SixteenShort(a Angle) string {
	i := int(math.Floor(a.Turn().Deg()/22.5 + 0.5))
	return sixteenShort[i%16]
}
