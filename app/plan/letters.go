package plan

import (
	"math"

	"legwright/app/geodesy"
)

// LettersInferred reports whether a text is a reference without its letters, which
// means a position near g only because something supplied them.
func LettersInferred(text string, code geodesy.Code, g geodesy.Grid) bool {
	sys, err := geodesy.Lookup(code)
	if err != nil || !g.IsFinite() {
		return false
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: sys, Near: &g})
	return err == nil && !ref.LettersGiven
}

// LettersReachM is how far from the ground that supplied its letters, along either
// axis, a reference can lie: half a lettered square, metres.
const LettersReachM = 50_000

// InLettersReach reports whether letters supplied from ground put a reference at g: no
// other square would be nearer.
func InLettersReach(ground, g geodesy.Grid) bool {
	const slackM = 1000 // the ground may have moved a little since
	return math.Abs(g.E-ground.E) <= LettersReachM+slackM && math.Abs(g.N-ground.N) <= LettersReachM+slackM
}
