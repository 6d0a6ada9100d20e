package calib

import "legwright/app/caution"

// Warning is what a check found. Code is stable and for programs, Text is a
// sentence for people. Points are the control points that look wrong, counted
// from 1, where the check names one or two; the fit still goes by them.
type Warning struct {
	Code, Text string
	Points     [2]int
	Args       [caution.MostArgs]string // what the sentence of its caution quotes
}

// The codes of warnings.
const (
	CodeNoRedundancy     = "no-redundancy"     // nothing checks the points
	CodeUnlikelyRotation = "unlikely-rotation" // two points: over 15° from a quarter turn
	CodeUnlikelyScale    = "unlikely-scale"    // two points: no usual map scale
	CodeMirrored         = "mirrored"          // left and right exchanged in the picture
	CodeSwappedAll       = "swapped-all"       // eastings and northings exchanged at every point
	CodeSwappedPoint     = "swapped-point"     // easting and northing exchanged at one point
	CodeExchanged        = "exchanged-references"
	CodeDigitOut         = "digit-out"        // one digit of one coordinate wrong
	CodeOutlier          = "outlier"          // one point out of place
	CodePoorFit          = "poor-fit"         // the points do not fit each other
	CodeStretched        = "stretched"        // more than paper stretches or shears
	CodeShortReach       = "short-reach"      // points in one part of the picture, the far corner is a guess
	CodePhoto            = "photo-needs-four" // a photograph with fewer than four points
	CodeWeakBase         = "weak-base"        // points so close together that the direction is loose
)
