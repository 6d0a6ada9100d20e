package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// BadText is the error of every parser here: the text given, and what would
// have been understood.
type BadText struct {
	Text string // what was typed
	Want string // what is understood, in words
}

func (e *BadText) Error() string {
	return fmt.Sprintf("%q is not understood: %s", e.Text, e.Want)
}

// ParseBearing reads a typed bearing in the units of the circle c: "57",
// "057", "057.5°", "1010 mil", "63 gon". A unit that is named wins over c.
// The value must lie in [0, one turn]; a full turn is north. The error is a
// *BadText.
func ParseBearing(text string, c Circle) (Angle, error) {
	perTurn := c.PerTurn()
	want := fmt.Sprintf("type a bearing from 0 to %g", perTurn)
	body := strings.ToLower(strings.TrimSpace(text))
	for _, unit := range []struct {
		mark    string
		perTurn float64
	}{{"°", 360}, {"deg", 360}, {"mils", 6400}, {"mil", 6400}, {"gon", 400}} {
		if rest, ok := strings.CutSuffix(body, unit.mark); ok {
			body, perTurn = strings.TrimSpace(rest), unit.perTurn
			break
		}
	}
	v, err := parseNumber(body)
	if err != nil || v < 0 || v > perTurn {
		return 0, &BadText{Text: text, Want: want}
	}
	return Angle(v / perTurn * fullTurn).Turn(), nil
}

// ParseMetres reads a typed length: "850", "850 m", "1.2 km", "1,2 km". The
// value must lie in [0, 1 000 km]. The error is a *BadText.
func ParseMetres(text string) (float64, error) {
	body := strings.ToLower(strings.TrimSpace(text))
	factor := 1.0
	if rest, ok := strings.CutSuffix(body, "km"); ok {
		body, factor = rest, 1000
	} else if rest, ok := strings.CutSuffix(body, "m"); ok {
		body = rest
	}
	v, err := parseNumber(strings.TrimSpace(body))
	if err != nil || v < 0 || v*factor > 1e6 {
		return 0, &BadText{Text: text, Want: "type a length such as 850 m or 1.2 km, up to 1000 km"}
	}
	return v * factor, nil
}

// parseNumber reads a plain decimal number with a point or a comma. Signs are
// allowed; exponents, NaN and infinities are not.
func parseNumber(text string) (float64, error) {
	text = strings.ReplaceAll(text, "\u2009", "")
	text = strings.ReplaceAll(text, "−", "-")
	text = strings.Replace(text, ",", ".", 1)
	if strings.Trim(text, "+-.0123456789") != "" {
		return 0, strconv.ErrSyntax
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, strconv.ErrSyntax
	}
	return v, nil
}
