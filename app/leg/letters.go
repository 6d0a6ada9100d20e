package leg

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// lending says how good the letters are that a sheet lends to references typed
// without them, in words and as the grade of the caution they need.
func lending(c *calib.Calibration, v check.Verdict) (words string, g caution.Grade) {
	switch {
	case c == nil:
		return "which is not calibrated now", caution.Stop
	case caution.Stops(v.Cautions, caution.Position):
		return "which has a stop", caution.Stop
	case caution.Stops(c.Cautions(), caution.Position):
		return "whose control points disagree", caution.Stop
	case !v.Checked:
		return "which is unchecked", caution.Note
	}
	return "which is checked", caution.None
}

// Lender names the sheet that the letters of a position come from and how good that
// is, such as "isle.tif, which is unchecked", with the grade of the caution the
// position needs: none where the sheet is checked and lies where it lay. Both are
// zero for a position whose letters were typed.
func (r *Reader) Lender(pos plan.Position) (words string, g caution.Grade) {
	if pos.Origin != plan.Typed || pos.LettersOf == "" {
		return "", caution.None
	}
	s := r.sheetByID(pos.LettersOf)
	switch {
	case s == nil:
		return "a sheet that is no longer in the plan", caution.Stop
	case s.lends == caution.Stop:
		return s.name + ", " + s.lendsWords, caution.Stop
	case r.main == nil:
		return s.name + ", whose grid is not known", caution.Stop
	}
	if g, _, err := r.Convert(pos, r.main.sys); err != nil || !plan.LentFrom(s.ground, g) {
		return fmt.Sprintf("%s, which lies %.0f km from there now", s.name, apart(g, s.ground)/1000), caution.Stop
	}
	return s.name + ", " + s.lendsWords, s.lends
}

func apart(a, b geodesy.Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }

// lettersCautions speak of positions that may be whole lettered squares out, because
// a sheet that is not checked lent their letters.
func (r *Reader) lettersCautions(subject string, ends ...place) []caution.Caution {
	var out []caution.Caution
	for i, p := range ends {
		words, g := r.Lender(p.pos)
		if g == caution.None || i > 0 && ends[0].pos.LettersOf == p.pos.LettersOf && len(out) > 0 {
			continue
		}
		code := caution.LettersLent
		if g == caution.Stop {
			code = caution.LettersAstray
		}
		out = append(out, caution.Of(code, words).About(subject))
	}
	return out
}
