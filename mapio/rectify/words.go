package rectify

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/assets/release"
)

// Words are the sentences that go with the picture wherever it goes, its stops and
// whether it is checked before all others.
func (s Sheet) Words(f Frame) []string { return s.words(f, s.support()) }

func (s Sheet) words(f Frame, v support) []string {
	out := []string{s.stateWords(), s.fitWords(v)}
	if w := v.words(); w != "" {
		out = append(out, w)
	}
	for _, c := range caution.OfGrade(s.speaksAgainst(), caution.Note) {
		if !slices.Contains(s.Verdict.Cautions, c) {
			out = append(out, sentence(c.Text()))
		}
	}
	for _, t := range s.Cautions {
		if t = sentence(t); !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return append(out, fmt.Sprintf(
		"Rectified by %s from %s: grid north up, %s, %s m per pixel. It is no better than the sheet it was made from. It is a planning aid: check every bearing by eye against the map.",
		release.Program, clean(s.Name), clean(s.System.String()), text(f.MetresPerPixel)))
}

// stateWords say whether the sheet is checked, the stops before all else.
func (s Sheet) stateWords() string {
	stops := caution.OfGrade(s.speaksAgainst(), caution.Stop)
	var out []string
	if lead := caution.Lead(stops, caution.All); lead != "" {
		out = append(out, sentence(lead))
	}
	for _, c := range stops {
		out = append(out, sentence(c.Text()))
	}
	if v := s.Verdict; v.Checked {
		out = append(out, sentence(fmt.Sprintf("checked to ± %s m by %s", metres(v.WithinM), v.By)))
	}
	for _, c := range caution.OfGrade(s.Verdict.Cautions, caution.Note) {
		out = append(out, sentence(c.Text()))
	}
	return strings.Join(out, " ")
}

// speaksAgainst are the cautions of the check, the calibration, the picture's own file
// and the grid, each once, the gravest first.
func (s Sheet) speaksAgainst() []caution.Caution {
	list := s.Verdict.CautionsWith(s.Calibration)
	if file := caution.Parse(s.FileCautions); len(file) > 0 {
		code := caution.ImportedNote
		if caution.Stops(file, caution.All) {
			code = caution.ImportedStop
		}
		list = append(list, caution.Of(code, strings.Join(caution.Shorts(file), ", ")).About(s.Name))
	}
	if t := s.System.Bends(); t != "" {
		list = append(list, caution.Of(caution.BentGrid, t))
	}
	if shift, ok := s.System.TypicalShift(); ok && shift.Unknown {
		list = append(list, caution.Of(caution.ShiftUnknown, shift.Name))
	}
	return caution.GravestFirst(list)
}

// fileCautions are the stops that go with the picture, for whoever opens it. What its
// grid is, whoever opens it finds again.
func (s Sheet) fileCautions() string {
	list := slices.Concat(s.Verdict.CautionsWith(s.Calibration), caution.Parse(s.FileCautions))
	return caution.Format(caution.OfGrade(list, caution.Stop))
}

// fitWords says from which fit the picture is made, and how exact that is.
func (s Sheet) fitWords(v support) string {
	c := s.Calibration
	if c.Given() {
		if s.Verdict.Checked {
			return "Positioned by the picture's own file."
		}
		return "Positioned by the picture's own file; its accuracy has not been checked."
	}
	text := fmt.Sprintf("Calibrated from %d control points, typical residual %s m (%.1f px)", len(c.Points()), metres(c.RMSM()), c.RMSPx())
	if c.DOF() <= 0 {
		text = fmt.Sprintf("Calibrated from %d control points, too few to reveal a mistake", len(c.Points()))
	}
	if m := v.worstM; m > 0 {
		text += fmt.Sprintf("; good to ± %s m (95 %%) between the points, if they are right", metres(m))
	}
	return text + "."
}

// support is what the fit says over the whole picture.
type support struct {
	worstM       float64 // the greatest half width of a 95 % interval where the control points reach
	struck, left bool    // whether anything is struck through, or left out
}

// support asks the fit at points all over the picture: of a smooth fit through hundreds
// of control points that takes a tenth of a second.
func (s Sheet) support() (out support) {
	each(s.Width, s.Height, func(p calib.PicturePt) {
		if !drawable(s.Calibration, p) {
			out.left = true
			return
		}
		if ok, _ := s.Calibration.Trusted(p); !ok {
			out.struck = true
			return
		}
		out.worstM = math.Max(out.worstM, s.Calibration.HalfWidth95M(p))
	})
	return out
}

// words speak of what is struck through or left out, "" where nothing is.
func (v support) words() string {
	var out []string
	if v.struck {
		out = append(out, "Do not trust what is struck through: it is outside the control points.")
	}
	if v.left {
		out = append(out, fmt.Sprintf("Ground that the calibration would stretch or squeeze more than %d times is left out.", maxStretch))
	}
	return strings.Join(out, " ")
}

// metres writes a length with two figures or more.
func metres(m float64) string {
	if m < 9.95 {
		return strconv.FormatFloat(m, 'f', 1, 64)
	}
	return strconv.FormatFloat(m, 'f', 0, 64)
}

// mostLetters bounds a sentence.
const mostLetters = 600

// clean takes out what would break a line, and what is too long.
func clean(text string) string {
	r := []rune(text)
	if len(r) > mostLetters {
		r = append(r[:mostLetters], '…')
	}
	for i, c := range r {
		switch {
		case unicode.IsSpace(c):
			r[i] = ' '
		case unicode.IsControl(c) || unicode.Is(unicode.Cf, c):
			r[i] = '□'
		}
	}
	return string(r)
}

// sentence gives a text a capital and a full stop.
func sentence(text string) string {
	r := []rune(strings.TrimSpace(clean(text)))
	if len(r) == 0 {
		return ""
	}
	r[0] = unicode.ToUpper(r[0])
	if last := r[len(r)-1]; last != '.' && last != '!' && last != '?' {
		r = append(r, '.')
	}
	return string(r)
}
