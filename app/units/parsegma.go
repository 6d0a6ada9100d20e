package units

import (
	"fmt"
	"strings"
)

// ParseGMA reads a typed grid-magnetic angle: "12 east", "17° west", "12E", "1,5 w". East
// is positive. Its unit is that of the circle c, unless one is named; a figure without its
// side is refused unless it is zero, and so is one that is larger than most to either
// side. The error is a sentence.
func ParseGMA(text string, c Circle, most Angle) (GMA, error) {
	body, sign := cutSide(strings.ToLower(strings.TrimSpace(text)))
	a, err := ParseBearing(body, c)
	switch {
	case err != nil:
		return 0, &BadText{Text: text, Want: "type an angle and its side, such as 12 east or 17 west"}
	case a > most:
		return 0, fmt.Errorf("%q is too large: type an angle between %s and %s", text, c.GMAFigure(-GMA(most)), c.GMAFigure(GMA(most)))
	case sign == 0 && a != 0:
		return 0, &BadText{Text: text, Want: "say the side too: " + body + " east or " + body + " west"}
	}
	return GMA(a) * sign, nil
}

// cutSide takes the word for a side off the end of a text in lower case. The sign is 0
// where there is none.
func cutSide(text string) (string, GMA) {
	for _, side := range []struct {
		word string
		sign GMA
	}{{"east", 1}, {"west", -1}, {"e", 1}, {"w", -1}} {
		if rest, ok := strings.CutSuffix(text, side.word); ok {
			return strings.TrimSpace(rest), side.sign
		}
	}
	return text, 0
}
