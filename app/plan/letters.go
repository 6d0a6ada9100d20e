package plan

import (
	"math"

	"legwright/app/geodesy"
)

// unknownSheet stands for a sheet of which nothing is known any more.
const unknownSheet ID = "unknown"

// HoldLetters returns the plan with the sheet named that supplied the letters of
// each reference that was typed without. It is for a plan that comes from a file:
// files of before do not say it. Of several sheets one that is not proved is
// taken, for it may have been that.
func (p *Plan) HoldLetters() *Plan {
	lender := unknownSheet
	for i, s := range p.Sheets {
		if i == 0 || !s.Proof.Proved() {
			lender = s.ID
		}
		if !s.Proof.Proved() {
			break
		}
	}
	changed := false
	q := p.mapPositions(func(pos Position) Position {
		if pos.Origin == Typed && pos.LettersOf == "" && pos.SquareM > 0 && lettersLent(pos.Text, pos.Code, pos.Grid) {
			pos.LettersOf, changed = lender, true
		}
		return pos
	})
	if !changed {
		return p
	}
	return q
}

// lettersLent reports whether a text is a reference without its letters, which
// means a place near g only because something supplied them.
func lettersLent(text string, code geodesy.Code, g geodesy.Grid) bool {
	sys, err := geodesy.Lookup(code)
	if err != nil || !g.IsFinite() {
		return false
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: sys, Near: &g})
	return err == nil && !ref.LettersGiven
}

// LendReachM is how far from the ground that supplied its letters, along either
// axis, a reference can lie: half a lettered square, metres.
const LendReachM = 50_000

// LentFrom reports whether letters supplied from ground put a reference at g: no
// other square would be nearer.
func LentFrom(ground, g geodesy.Grid) bool {
	const slackM = 1000 // the ground may have moved a little since
	return math.Abs(g.E-ground.E) <= LendReachM+slackM && math.Abs(g.N-ground.N) <= LendReachM+slackM
}
