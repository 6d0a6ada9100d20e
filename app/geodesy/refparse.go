package geodesy

import "fmt"

// ParseRef reads a reference.
func ParseRef(text string, ctx RefContext) (Ref, error) {
	var g Grid
	if _, err := fmt.Sscanf(text, "%g %g", &g.E, &g.N); err != nil || ctx.System == nil || !g.IsFinite() {
		return Ref{}, &RefError{Text: text, Reason: "type easting and northing in metres"}
	}
	return Ref{Grid: g, System: ctx.System, LettersGiven: true}, nil
}

// GuessSystem returns the grid a reference seems to be on.
func GuessSystem(text string) (*System, bool) {
	r, err := ParseRef(text, RefContext{})
	return r.System, err == nil
}
