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

// lettersGrade says how far grid letters can be trusted that were inferred from a
// sheet: in words, and as the grade of the caution they need.
func lettersGrade(c *calib.Calibration, v check.Verdict) (words string, g caution.Grade) {
	switch {
	case c == nil:
		return "which is no longer calibrated", caution.Stop
	case caution.Stops(v.Cautions, caution.Position):
		return "which has a stop", caution.Stop
	case caution.Stops(c.Cautions(), caution.Position):
		return "whose control points disagree", caution.Stop
	case !v.Checked:
		return "which is unchecked", caution.Note
	}
	return "which is checked", caution.None
}

// LettersSource names the sheet that the grid letters of a position were inferred from
// and says how far it can be trusted, such as "isle.tif, which is unchecked", with the
// grade of the caution that the position needs: none if the sheet is checked and still
// covers that ground. Both are zero for a position whose letters were typed.
func (r *Reader) LettersSource(pos plan.Position) (words string, g caution.Grade) {
	if pos.Origin != plan.Typed || pos.LettersFrom == "" {
		return "", caution.None
	}
	s := r.sheetByID(pos.LettersFrom)
	switch {
	case s == nil:
		return "a sheet that is no longer in the plan", caution.Stop
	case s.letters == caution.Stop:
		return s.name + ", " + s.lettersWords, caution.Stop
	case r.main == nil:
		return s.name + ", whose grid is not known", caution.Stop
	}
	if g, _, err := r.Convert(pos, r.main.sys); err != nil || !plan.InLettersReach(s.ground, g) {
		return fmt.Sprintf("%s, which is now %.0f km away", s.name, apart(g, s.ground)/1000), caution.Stop
	}
	return s.name + ", " + s.lettersWords, s.letters
}

func apart(a, b geodesy.Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }

// lettersCautions returns the cautions of positions that may be whole lettered squares
// out, because their letters were inferred from a sheet that is not checked.
func (r *Reader) lettersCautions(subject string, ends ...position) []caution.Caution {
	var out []caution.Caution
	for i, p := range ends {
		words, g := r.LettersSource(p.pos)
		if g == caution.None || i > 0 && ends[0].pos.LettersFrom == p.pos.LettersFrom && len(out) > 0 {
			continue
		}
		code := caution.LettersInferred
		if g == caution.Stop {
			code = caution.LettersAstray
		}
		out = append(out, caution.Of(code, words).About(subject))
	}
	return out
}
