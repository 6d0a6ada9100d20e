package plan

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// Distances of printed lines (common practice, no source).
const (
	roundM        = 500  // divides those of nearly all maps for walking, metres
	fineM         = 100  // divides those of maps for running and plans of a site
	fineRoomPx    = 100  // so far apart at least, lines of the latter are watched for
	roundUnits    = 1000 // of a grid that is not in metres, in its unit
	roundMinutes  = 0.5  // of latitude and longitude
	onLineM       = 0.5  // nearer, a control point was typed as a crossing
	metresAMinute = 1855 // of latitude, about
)

// samePlacePx is how near a crossing a feature is taken to be that crossing, as
// calib takes control points.
const samePlacePx = 10

// crossings says whether a place lies where two printed lines of a kind may
// cross, within a distance per axis in metres.
type crossings func(g geodesy.Grid, reachM float64) bool

// metreCrossings are those of a grid in metres.
func metreCrossings(g geodesy.Grid, reachM float64) bool {
	return math.Abs(math.Remainder(g.E, roundM)) <= reachM && math.Abs(math.Remainder(g.N, roundM)) <= reachM
}

// fineCrossing says whether a place in the picture lies where two lines of a
// close grid may cross. What was typed for it does not matter: it proves only
// where the calibration has it there.
func fineCrossing(c *calib.Calibration, at calib.PicturePt, reachM float64) bool {
	g := c.ToGrid(at)
	return c.MetresPerPixel() <= fineM/fineRoomPx &&
		math.Abs(math.Remainder(g.E, fineM)) <= reachM && math.Abs(math.Remainder(g.N, fineM)) <= reachM
}

// unitCrossings are those of a grid in another unit.
func unitCrossings(sys *geodesy.System) crossings {
	step := roundUnits * sys.Unit().Metres
	return func(g geodesy.Grid, reachM float64) bool {
		return math.Abs(math.Remainder(g.E, step)) <= reachM && math.Abs(math.Remainder(g.N, step)) <= reachM
	}
}

// graticuleCrossings are those of latitude and longitude on a datum.
func graticuleCrossings(latLon func(geodesy.Grid) (geodesy.LatLon, error)) crossings {
	return func(g geodesy.Grid, reachM float64) bool {
		at, err := latLon(g)
		if err != nil {
			return false
		}
		lat, lon := at.Lat.Deg(), at.Lon.Deg()
		wide := metresAMinute * math.Cos(lat*math.Pi/180)
		return math.Abs(math.Remainder(60*lat, roundMinutes))*metresAMinute <= reachM &&
			math.Abs(math.Remainder(60*lon, roundMinutes))*wide <= reachM
	}
}

// printedOf are the kinds of printed lines that calib, which knows of metres
// only, does not watch: those of latitude and longitude on either datum, and of
// a grid in feet.
func printedOf(sys *geodesy.System) []crossings {
	kinds := graticulesOf(sys)
	if u := sys.Unit(); u.Metres != 1 && u.Name != "degree" {
		kinds = append(kinds, unitCrossings(sys))
	}
	return kinds
}

// graticulesOf are the lines of latitude and longitude on the grid's own datum
// and on WGS 84.
func graticulesOf(sys *geodesy.System) []crossings {
	return []crossings{
		graticuleCrossings(func(g geodesy.Grid) (geodesy.LatLon, error) {
			at, _, err := sys.Unproject(g)
			return at, err
		}),
		graticuleCrossings(func(g geodesy.Grid) (geodesy.LatLon, error) {
			at, _, err := sys.ToWGS84(g)
			return at, err
		}),
	}
}

// PrintedAlike says why a crossing of printed lines is not the feature that
// proves the sheet, for it would agree though the sheet is wrong: one where
// control points are crossings of the same lines, or where a file places the
// sheet. It is "" where there is nothing against the feature. c is the sheet's
// calibration, at where the feature was clicked, ref its coordinates and
// sigmaRefM their σ per axis in metres, which stand for a square, and kind the
// kind of proof: latitude and longitude that the margin prints are not read off
// the lines of a grid.
func (s Sheet) PrintedAlike(c *calib.Calibration, at calib.PicturePt, ref geodesy.Grid, sigmaRefM float64, kind string) string {
	sys, err := geodesy.Lookup(s.Code)
	if err != nil {
		return err.Error()
	}
	reach := samePlacePx * c.MetresPerPixel()
	crosses := func(k crossings) bool {
		return k(ref, reach+sigmaRefM*math.Sqrt(12)) || k(c.ToGrid(at), reach)
	}
	if s.PlacedByFile() && (crosses(metreCrossings) || fineCrossing(c, at, reach)) {
		return "one crossing of the printed grid agrees as well where the file is turned or mirrored about it: check the file against the printed grid and name three crossings, or take a trig pillar or another feature off the lines"
	}
	kinds := printedOf(sys)
	if kind == calib.ProofMargin {
		kinds = graticulesOf(sys)
	}
	for _, k := range kinds {
		if s.ByMatrix() || !crosses(k) {
			continue
		}
		for i, p := range s.Points {
			if k(p.Ref, onLineM) {
				return fmt.Sprintf("this is a crossing of printed lines, like control point %d: lines misread alike everywhere would agree too. Take a trig pillar, a church or another feature whose reference comes from elsewhere", i+1)
			}
		}
	}
	return ""
}

// PlacedByFile reports whether a file gave the sheet's matrix or all of its
// control points.
func (s Sheet) PlacedByFile() bool {
	if len(s.Points) == 0 {
		return s.ByMatrix()
	}
	return !slices.ContainsFunc(s.Points, func(p calib.ControlPoint) bool { return p.Source != calib.FilePoint })
}
