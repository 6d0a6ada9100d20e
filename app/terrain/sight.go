package terrain

import (
	"math"

	"legwright/app/geodesy"
)

// Constants of a line of sight.
const (
	earthM     = 6_371_000.0 // mean radius
	refraction = 0.13        // the ray's curvature in parts of the earth's, as surveyors use it
	// NearM is how far before the target the ground is not asked: a pillar stands on its
	// top, and posts do not know where exactly.
	NearM = 30
	// EndsM is how near an end the ground always comes close to the line of sight.
	EndsM = 100
)

// Sight is what the ground does to a line of sight.
type Sight struct {
	Visible    bool
	ClearanceM float64 // of the line above the ground where it is least, negative where hidden; +Inf where no ground lies between
	AlongM     float64 // where that is, metres from the eye
	LengthM    float64
	MidwayM    float64 // the least clearance farther than EndsM from both ends; +Inf if nothing is
}

// Doubtful reports whether the ground comes so near the line of sight, from above or below,
// that heights which are out by DeadBandM would turn the answer [common practice, no source].
func (s Sight) Doubtful() bool {
	if s.Visible {
		return s.MidwayM < DeadBandM
	}
	return s.ClearanceM > -DeadBandM
}

// Visible says whether a target some metres above the ground can be seen from an eye some metres
// above it, with the earth's curvature and refraction. Ground within NearM of the target
// hides nothing. ok is false where an end or some ground between them is not known: a
// void may hide a hill.
func (g Ground) Visible(from geodesy.Grid, eyeM float64, to geodesy.Grid, targetM float64) (s Sight, ok bool) {
	eye, okEye := g.Height(from)
	target, okTarget := g.Height(to)
	lengthM, err := 0.0, error(nil)
	if okEye && okTarget {
		lengthM, err = geodesy.GroundDistance(g.sys, from, to)
	}
	if !okEye || !okTarget || err != nil {
		return Sight{}, false
	}
	s = Sight{Visible: true, ClearanceM: math.Inf(1), MidwayM: math.Inf(1), LengthM: lengthM}
	if lengthM <= NearM {
		return s, true
	}
	eye, target = eye+eyeM, target+targetM
	p := g.Profile(from, between(from, to, 1-NearM/lengthM), 0)
	for _, q := range p.Points[min(1, len(p.Points)):] {
		line := eye + (target-eye)*q.AlongM/lengthM - Drop(q.AlongM, lengthM)
		c := line - q.HeightM
		if c < s.ClearanceM {
			s.ClearanceM, s.AlongM = c, q.AlongM
		}
		if c < s.MidwayM && q.AlongM >= EndsM && lengthM-q.AlongM >= EndsM {
			s.MidwayM = c
		}
	}
	s.Visible = s.ClearanceM > 0
	return s, p.Whole()
}

// Drop is how far, in metres, the line of sight between two ends at lengthM from each other lies
// below the straight chord over a level surface, at alongM from one of them: the earth's
// bulge less refraction, d(D − d)(1 − k)/2R.
func Drop(alongM, lengthM float64) float64 {
	return alongM * (lengthM - alongM) * (1 - refraction) / (2 * earthM)
}
