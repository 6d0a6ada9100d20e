package geodesy

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// looksLikeLatLon reports whether a text marks itself as latitude and
// longitude: by a degree sign, or by one letter of N and S and one of E and W
// with numbers of a size that fits.
func looksLikeLatLon(body string) bool {
	if strings.Contains(body, "°") {
		return true
	}
	if strings.Trim(body, "NSEW0123456789.,'\"+- ") != "" {
		return false
	}
	first, second := strings.IndexAny(body, "NSEW"), strings.LastIndexAny(body, "NSEW")
	if first < 0 || first == second || !oneOfEach(body) {
		return false
	}
	between := strings.Trim(body[first+1:second], " ,")
	if between == "" || (first == 0) == (second == len(body)-1) {
		return false
	}
	for _, f := range strings.FieldsFunc(body, func(r rune) bool { return strings.ContainsRune("NSEW'\" ", r) }) {
		if v, err := strconv.ParseFloat(strings.Trim(f, ","), 64); err == nil && (v > 180 || v < -180) {
			return false
		}
	}
	return true
}

func oneOfEach(body string) bool {
	lat := strings.Count(body, "N") + strings.Count(body, "S")
	lon := strings.Count(body, "E") + strings.Count(body, "W")
	return lat == 1 && lon == 1
}

// latLonRef reads a WGS 84 position and puts it on the sheet's grid, or on the
// first grid for the position if the sheet has none.
func latLonRef(body string, ctx RefContext) (Ref, *RefError) {
	at, err := readLatLon(body)
	if err != nil {
		return Ref{}, err
	}
	ll := at.LatLon
	s := ctx.System
	if s == nil {
		s = SystemsAt(ll)[0]
	}
	g, _, _, fail := s.FromWGS84(ll)
	if fail != nil || !s.plausible(g) {
		return Ref{}, refusal("%s is far outside the area of %s (%s): check the digits and N/S, E/W, or choose another grid", FormatLatLon(ll), s.withArticle(), s.areaWords)
	}
	return Ref{Grid: g, System: s, LettersGiven: true, Kind: RefLatLon, StepDeg: at.stepDeg, OnLines: at.onLines}, nil
}

// typedLatLon is a latitude and longitude as it was typed.
type typedLatLon struct {
	LatLon
	stepDeg float64 // one of the last figure, of the coarser of the two
	onLines bool    // both are whole half-minutes and were typed in minutes
}

// readLatLon reads two coordinates: latitude first unless hemisphere letters
// say otherwise.
func readLatLon(body string) (at typedLatLon, fail *RefError) {
	first, second, err := splitLatLon(body)
	if err != nil {
		return at, err
	}
	a, errA := readAngle(first)
	b, errB := readAngle(second)
	switch {
	case errA != nil || errB != nil:
		return at, otherAngles(a, b, errA, errB)
	case (a.bare() || b.bare() || a.letter == 0) && len(a.fields) != len(b.fields):
		return at, otherAngles(a, b, refusal("%q and %q are not written in the same way; mark degrees, minutes and seconds with ° ' \" in both", a.text, b.text), nil)
	}
	if a.isLongitude() || b.isLatitude() {
		a, b = b, a
	}
	if a.isLongitude() || b.isLatitude() {
		return at, refusal("type one latitude with N or S and one longitude with E or W")
	}
	if a.deg > 90 || a.deg < -90 {
		return at, refusal("latitude %g° is outside −90° to 90°", a.deg)
	}
	if b.deg > 180 || b.deg < -180 {
		return at, refusal("longitude %g° is outside −180° to 180°", b.deg)
	}
	return typedLatLon{DegLatLon(a.deg, b.deg), max(a.step, b.step), a.onLine() && b.onLine()}, nil
}

// otherAngles returns the first error, with the possible readings if the numbers of both
// can be told apart.
func otherAngles(a, b typedAngle, errs ...*RefError) *RefError {
	err := errs[0]
	if err == nil {
		err = errs[1]
	}
	if a.step == 0 || b.step == 0 || len(err.Offers) > 0 {
		return err
	}
	offer := func(first, second string) {
		if onGlobe(first) && onGlobe(second) && !slices.Contains(err.Offers, first+" "+second) {
			err.offering(first + " " + second)
		}
	}
	offer(a.inOrder(), b.inOrder())
	offer(a.byMarks(), b.byMarks())
	return err
}

// onGlobe reports whether an angle can be read and lies within ±90° if it is a
// latitude, ±180° if not.
func onGlobe(text string) bool {
	a, err := readAngle(text)
	most := 180.0
	if a.isLatitude() {
		most = 90
	}
	return err == nil && math.Abs(a.deg) <= most
}

// splitLatLon splits the text into its two coordinates: at hemisphere letters,
// at a comma, at the second degree sign, or in the middle of the numbers.
func splitLatLon(body string) (string, string, *RefError) {
	body = strings.TrimSpace(body)
	halves := refusal("latitude and longitude are not understood; type them as 57.5N 4.25W or 57°30'00\"N 4°15'00\"W")
	if first, last := strings.IndexAny(body, "NSEW"), strings.LastIndexAny(body, "NSEW"); first >= 0 {
		switch {
		case first == last:
			return "", "", refusal("there is only one hemisphere letter; type N or S for the latitude and E or W for the longitude")
		case first == 0:
			return body[:last], body[last:], nil
		default:
			return body[:first+1], body[first+1:], nil
		}
	}
	if a, b, ok := strings.Cut(body, ","); ok {
		if strings.Contains(b, ",") {
			return "", "", refusal("there is more than one comma; type one between latitude and longitude, and a point for decimals")
		}
		return a, b, nil
	}
	if parts := strings.Split(body, "°"); len(parts) == 3 {
		if cut := strings.LastIndexAny(parts[1], " '\""); cut >= 0 {
			at := len(parts[0]) + len("°") + cut + 1
			return body[:at], body[at:], nil
		}
	}
	fields := strings.Fields(body)
	if len(fields) == 0 || len(fields)%2 != 0 || strings.Contains(body, "°") && len(fields) != 2 {
		return "", "", halves
	}
	half := len(fields) / 2
	a, b := strings.Join(fields[:half], " "), strings.Join(fields[half:], " ")
	if strings.Trim(body, "0123456789. ") == "" && decimals(fields[half-1]) != decimals(fields[2*half-1]) {
		return "", "", refusal("the space could also belong elsewhere; type a comma between latitude and longitude").offering("latlon: " + a + ", " + b)
	}
	return a, b, nil
}
