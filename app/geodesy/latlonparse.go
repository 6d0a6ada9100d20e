package geodesy

import (
	"math"
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
	for _, f := range strings.FieldsFunc(body, func(r rune) bool { return strings.ContainsRune("NSEW,'\" ", r) }) {
		if v, err := strconv.ParseFloat(f, 64); err == nil && (v > 180 || v < -180) {
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

// latLonRef reads a WGS 84 place and puts it on the sheet's grid, or on the
// first grid that serves the place where the sheet has none.
func latLonRef(body string, ctx RefContext) (Ref, *RefError) {
	ll, step, err := readLatLon(body)
	if err != nil {
		return Ref{}, err
	}
	s := ctx.System
	if s == nil {
		s = SystemsAt(ll)[0]
	}
	g, _, _, fail := s.FromWGS84(ll)
	if fail != nil || !s.plausible(g) {
		return Ref{}, refusal("%s is far outside the %s (%s)", FormatLatLon(ll), s.name, s.areaWords)
	}
	return Ref{Grid: g, System: s, LettersGiven: true, Kind: RefLatLon, StepDeg: step}, nil
}

// readLatLon reads two coordinates: latitude first unless hemisphere letters
// say otherwise. stepDeg is one of the last figure, of the coarser of them.
func readLatLon(body string) (at LatLon, stepDeg float64, fail *RefError) {
	first, second, err := splitLatLon(body)
	if err != nil {
		return LatLon{}, 0, err
	}
	a, err := readAngle(first)
	if err != nil {
		return LatLon{}, 0, err
	}
	b, err := readAngle(second)
	if err != nil {
		return LatLon{}, 0, err
	}
	if a.isLongitude() || b.isLatitude() {
		a, b = b, a
	}
	if a.isLongitude() || b.isLatitude() {
		return LatLon{}, 0, refusal("type one latitude with N or S and one longitude with E or W")
	}
	if a.deg > 90 || a.deg < -90 {
		return LatLon{}, 0, refusal("latitude %g° is outside −90° to 90°", a.deg)
	}
	if b.deg > 180 || b.deg < -180 {
		return LatLon{}, 0, refusal("longitude %g° is outside −180° to 180°", b.deg)
	}
	return DegLatLon(a.deg, b.deg), max(a.step, b.step), nil
}

// splitLatLon parts the text into its two coordinates: at hemisphere letters,
// at a comma, at the second degree sign, or in the middle of the numbers.
func splitLatLon(body string) (string, string, *RefError) {
	body = strings.TrimSpace(body)
	halves := refusal("latitude and longitude are not understood; type them such as 57.5N 4.25W or 57°30'00\"N 4°15'00\"W")
	if first, last := strings.IndexAny(body, "NSEW"), strings.LastIndexAny(body, "NSEW"); first >= 0 {
		switch {
		case first == last:
			return "", "", refusal("only one hemisphere letter; type N or S for the latitude and E or W for the longitude")
		case first == 0:
			return body[:last], body[last:], nil
		default:
			return body[:first+1], body[first+1:], nil
		}
	}
	if a, b, ok := strings.Cut(body, ","); ok {
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
	return strings.Join(fields[:half], " "), strings.Join(fields[half:], " "), nil
}

// typedAngle is one coordinate in degrees with its hemisphere letter, or 0, and
// what one of its last figure stands for, in degrees.
type typedAngle struct {
	deg    float64
	letter byte
	step   float64
}

func (a typedAngle) isLongitude() bool { return a.letter == 'E' || a.letter == 'W' }
func (a typedAngle) isLatitude() bool  { return a.letter == 'N' || a.letter == 'S' }

// readAngle reads degrees, degrees and minutes, or degrees, minutes and
// seconds, with a sign or a hemisphere letter.
func readAngle(text string) (typedAngle, *RefError) {
	body, letter := takeLetter(strings.Trim(text, " ,"))
	negative := strings.HasPrefix(body, "-")
	if (negative || strings.HasPrefix(body, "+")) && letter != 0 {
		return typedAngle{}, refusal("%q has a sign and a hemisphere letter; type one of them", strings.TrimSpace(text))
	}
	body = strings.TrimLeft(body, "+-")
	deg, step, ok := sexagesimal(body)
	if !ok {
		return typedAngle{}, refusal("%q is not an angle; type it such as 57.5, 57°30.5' or 57°30'12.5\"", strings.TrimSpace(text))
	}
	if negative || letter == 'S' || letter == 'W' {
		deg = -deg
	}
	return typedAngle{deg: deg + 0, letter: letter, step: step}, nil
}

// takeLetter takes the hemisphere letter off either end.
func takeLetter(body string) (string, byte) {
	if body == "" {
		return "", 0
	}
	if strings.ContainsRune("NSEW", rune(body[0])) {
		return strings.TrimSpace(body[1:]), body[0]
	}
	if last := len(body) - 1; strings.ContainsRune("NSEW", rune(body[last])) {
		return strings.TrimSpace(body[:last]), body[last]
	}
	return body, 0
}

// sexagesimal reads up to three numbers parted by the signs of degree, minute
// and second, in that order, or by spaces. Only the last may have a fraction;
// minutes and seconds are below 60. step is one of the last figure.
func sexagesimal(body string) (deg, step float64, ok bool) {
	body = strings.ReplaceAll(body, "''", "\"")
	signs := ""
	for _, r := range body {
		if strings.ContainsRune("°'\"", r) {
			signs += string(r)
		}
	}
	if !strings.Contains("°'\"", signs) && signs != "°\"" || signs == "'" || signs == "\"" || signs == "'\"" {
		return 0, 0, false
	}
	fields := strings.FieldsFunc(body, func(r rune) bool { return strings.ContainsRune("°'\" ", r) })
	if len(fields) == 0 || len(fields) > 3 || len([]rune(signs)) > len(fields) {
		return 0, 0, false
	}
	unit := 1.0
	for i, f := range fields {
		v, err := strconv.ParseFloat(f, 64)
		whole := allDigits(f)
		if err != nil || strings.Trim(f, ".0123456789") != "" || i > 0 && v >= 60 || i < len(fields)-1 && !whole {
			return 0, 0, false
		}
		deg += v * unit
		_, decimals, _ := strings.Cut(f, ".")
		step = unit / math.Pow10(len(decimals))
		unit /= 60
	}
	return deg, step, true
}
