package leg

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// lendingDoubt says why letters that a sheet supplies may be wrong, "" where the
// sheet is proved.
func lendingDoubt(s plan.Sheet, c *calib.Calibration) string {
	switch {
	case c == nil:
		return "which is not calibrated now"
	case s.Contradicted.Found():
		return "whose place its printed grid contradicts"
	case !s.Proof.Proved():
		return "which is unproved"
	}
	return ""
}

// Lender names the sheet that supplied the letters of a place, and says why these
// may be wrong: "isle.tif, which is unproved". doubt is false where the sheet is
// proved and lies where it lay. Both are zero for a place whose letters were typed.
func (r *Reader) Lender(pos plan.Position) (words string, doubt bool) {
	if pos.Origin != plan.Typed || pos.LettersOf == "" {
		return "", false
	}
	s := r.sheetByID(pos.LettersOf)
	switch {
	case s == nil:
		return "a sheet that is not in the plan any more", true
	case s.doubt != "":
		return s.name + ", " + s.doubt, true
	case r.main == nil:
		return s.name + ", whose grid is not known", true
	}
	if g, _, err := r.Convert(pos, r.main.sys); err != nil || !plan.LentFrom(s.ground, g) {
		return fmt.Sprintf("%s, which lies %.0f km from there now", s.name, apart(g, s.ground)/1000), true
	}
	return s.name + ", which is proved", false
}

func apart(a, b geodesy.Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }

// lettersFlags warns of places that may be whole lettered squares out: their
// letters were supplied from a sheet that is not proved. what says what the place
// is.
func (r *Reader) lettersFlags(what string, ends ...place) []Flag {
	var out []Flag
	for i, p := range ends {
		words, doubt := r.Lender(p.pos)
		if !doubt || i > 0 && ends[0].pos.LettersOf == p.pos.LettersOf && len(out) > 0 {
			continue
		}
		out = append(out, Flag{LettersLent, fmt.Sprintf(
			"the letters of the reference of %s were not typed but supplied from %s: it may be 100 km out with that. Type the reference with its letters", what, words)})
	}
	return out
}
