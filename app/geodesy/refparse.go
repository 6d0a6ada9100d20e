package geodesy

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// maxRefText is the longest text that is looked at, in bytes.
const maxRefText = 120

// ParseRef reads a reference in any notation:
//
//   - national letters: "NN 123 456", "nn123456", "N 12 34" (one letter on the
//     Irish Grid), with 1 to 5 digits on each axis;
//   - MGRS: "30U XB 12345 67890", and "ZAB 123 456" near the poles; on a UTM
//     sheet whose ground is known the zone and band may be left out;
//   - UTM as receivers write it, "30U 480000 6091000";
//   - easting and northing in metres, or in the printed unit of a grid of
//     feet, with or without ft behind: "651409 313177", "651409.9, 313177.27",
//     "E 651409 N 313177";
//   - WGS 84 latitude and longitude, which need °, hemisphere letters or
//     "latlon:" in front: "57.5N 4.25W", "57°30'00\"N 4°15'00\"W",
//     "latlon: 57.5, -4.25".
//
// Case does not matter, nor do spaces and a comma between the parts. Text that
// could mean two positions is refused, and RefError offers both: commas inside
// numbers, a mark that does not fit its number, a space that could belong
// elsewhere, kilometres off a margin, coordinates outside the grid's area.
// Labels settle it: "E 12345 N 712345".
//
// On a lettered grid two unmarked numbers of the same one to four digits are a
// reference without its letters. It is refused, unless
// ctx.Near gives the sheet's ground: then the nearest letters are supplied and
// LettersGiven is false. Five digits each are read this way only if easting and
// northing would lie more than 100 km from ctx.Near.
//
// The error is a *RefError.
func ParseRef(text string, ctx RefContext) (Ref, error) {
	body, err := ctx.inUnit(normalRef(text))
	var r Ref
	if err == nil {
		r, err = parseRef(body, ctx)
	}
	if err != nil {
		err.Text = text
		if len(text) > maxRefText {
			err.Text = strings.ToValidUTF8(text[:maxRefText], "") + "…"
		}
		return Ref{}, err
	}
	return r, nil
}

func parseRef(body string, ctx RefContext) (Ref, *RefError) {
	switch {
	case body == "":
		return Ref{}, refusal("there is no reference; type %s", wantedRef(ctx.System))
	case len(body) > maxRefText:
		return Ref{}, refusal("the text is too long for a reference; type the reference alone")
	}
	if rest, ok := strings.CutPrefix(body, latLonPrefix); ok {
		return latLonRef(rest, ctx)
	}
	if looksLikeLatLon(body) {
		return latLonRef(body, ctx)
	}
	if rest, ok := plainLabels(body); ok {
		return plainRefOf(rest, true, ctx)
	}
	if ctx.System != nil && !ctx.System.lettered() && alone.MatchString(body) {
		return Ref{}, ctx.System.onlyOne(body)
	}
	if z, ok := readZoned(body); ok {
		return zonedRef(z, ctx)
	}
	if ctx.System != nil && ctx.System.newZealand() && looksNewZealand(body) {
		return Ref{}, refuseNewZealand(ctx.System)
	}
	parts, err := splitRef(body, ctx.System)
	if err != nil {
		return Ref{}, err
	}
	return letteredRef(body, parts, ctx)
}

// letteredRef reads digits with or without letters. Letters of a square far outside
// the grid's area are a slip, unless the sheet lies there.
func letteredRef(body string, parts refParts, ctx RefContext) (Ref, *RefError) {
	if parts.letters == "" {
		return plainRefOf(body, false, ctx)
	}
	r, err := byLetters(parts, ctx)
	if err != nil {
		return Ref{}, err
	}
	if g, _ := r.Centre(); !r.System.within(g, typedMarginDeg) && !ctx.near(g, nearM) {
		return Ref{}, refusal("square %s is outside the area of %s (%s); check the letters",
			parts.zone+parts.letters, r.System.withArticle(), r.System.areaWords)
	}
	return r, nil
}

// byLetters chooses the notation by the number of letters.
func byLetters(parts refParts, ctx RefContext) (Ref, *RefError) {
	switch {
	case parts.zone != "":
		return mgrsRef(parts, ctx)
	case len(parts.letters) == 3:
		return upsRef(parts, ctx)
	case len(parts.letters) == 2 && ctx.System != nil && ctx.System.zone != 0:
		return bareMGRSRef(parts, ctx)
	case len(parts.letters) == 2:
		return britishRef(parts, ctx)
	}
	return irishRef(parts, ctx)
}

func refusal(format string, args ...any) *RefError {
	return &RefError{Reason: fmt.Sprintf(format, args...)}
}

// wantedRef says what to type on a grid, or on any if it is nil.
func wantedRef(s *System) string {
	if s != nil && !s.lettered() {
		return wantedPair(s)
	}
	return "a reference such as " + exampleRef(s)
}

// wantedPair says which two numbers to type on a grid.
func wantedPair(s *System) string {
	switch {
	case s == nil:
		return "easting and northing in metres"
	case s.degrees():
		return "latitude and longitude such as 57.5°N 4.25°W"
	}
	return "easting and northing in " + s.Unit().Plural()
}

// exampleRef gives a reference as the grid's letters write it.
func exampleRef(s *System) string {
	if s == nil {
		return "NN 123 456"
	}
	at := Grid{}
	switch s.refs.(type) {
	case irishLetters:
		return "N 123 456"
	case mgrsLetters:
		at = Grid{E: 512300, N: 5645600}
	case upsLetters:
		at = Grid{E: 2112300, N: 2245600}
	default:
		return "NN 123 456"
	}
	text, _ := s.FormatRef(at, 6)
	return text
}

// withArticle is the grid's name inside a sentence.
func (s *System) withArticle() string {
	if strings.Contains(strings.ToLower(s.name), " grid") {
		return "the " + s.name
	}
	return s.name
}

// alone is one figure with its letter, as it stands beside a single grid line.
var alone = regexp.MustCompile(`^(?:[EN] ?[0-9][0-9.,]*|[0-9][0-9.,]* ?[EN])$`)

// onlyOne refuses an easting or a northing alone.
func (s *System) onlyOne(body string) *RefError {
	if s.degrees() {
		return refusal("there is only one number; type %s", wantedPair(s))
	}
	is, lacks := "northing", "easting"
	if strings.Contains(body, "E") {
		is, lacks = lacks, is
	}
	return refusal("this is the %s alone; type the %s too, both with all their digits in %s", is, lacks, s.Unit().Plural())
}

// normalRef folds case, the kinds of space, the typographic signs, raised digits and
// the words of margins, and trims.
func normalRef(text string) string {
	if len(text) > 4*maxRefText {
		text = text[:4*maxRefText]
	}
	folded := strings.Map(func(r rune) rune {
		switch r {
		case '\t', '\n', '\r', '\u00a0', '\u2002', '\u2003', '\u2007', '\u2009', '\u200a', '\u202f':
			return ' '
		case '′', '’', '‘', 'ʹ':
			return '\''
		case '″', '”', '“', 'ʺ':
			return '"'
		case 'º', '˚':
			return '°'
		case '−', '–':
			return '-'
		}
		if r >= 'a' && r <= 'z' {
			return r - 'a' + 'A'
		}
		if i := strings.IndexRune(raised, r); i >= 0 { // before whole kilometres, in margins
			return rune('0' + len([]rune(raised[:i])))
		}
		return r
	}, text)
	return plainWording(strings.TrimSpace(folded))
}

// raised are the small digits that margins print in front of the whole kilometres.
const raised = "⁰¹²³⁴⁵⁶⁷⁸⁹"

// refParts are the pieces of a lettered reference.
type refParts struct {
	zone    string // digits of a UTM zone, "" if none
	letters string // one to three
	east    string // digits; both empty where there are no letters
	north   string
}

// splitRef takes a reference apart: an optional zone, letters, digits. A text
// without letters gives empty parts.
func splitRef(body string, s *System) (refParts, *RefError) {
	first := strings.IndexFunc(body, isLetter)
	if first < 0 {
		return refParts{}, nil
	}
	last := strings.LastIndexFunc(body, isLetter)
	p := refParts{
		zone:    strings.TrimSpace(body[:first]),
		letters: strings.ReplaceAll(body[first:last+1], " ", ""),
	}
	if strings.IndexFunc(p.letters, func(r rune) bool { return !isLetter(r) }) >= 0 {
		return p, refusal("letters and digits alternate in %q; type the letters first, then the digits", p.letters)
	}
	if len(p.letters) > 3 {
		return p, refusal("%.12s is not the beginning of a reference; type %s", p.letters, wantedRef(s))
	}
	if p.zone != "" && (len(p.zone) > 2 || !allDigits(p.zone)) {
		return p, refusal("%q is in front of the letters; only a UTM zone from 1 to 60 can go there", p.zone)
	}
	if p.zone != "" && len(p.letters) != 3 {
		return p, refusal("after UTM zone %s, type three letters as in 30U XB 123 456, or the band and all digits of easting and northing as in 30U 480000 6091000", p.zone)
	}
	if err := p.tightComma(body[last+1:]); err != nil {
		return p, err
	}
	err := p.split(strings.Fields(strings.ReplaceAll(body[last+1:], ",", " ")))
	return p, err
}

// tightComma refuses a comma between two digits, which may separate easting and
// northing, thousands or decimals.
func (p refParts) tightComma(figures string) *RefError {
	words := strings.FieldsFunc(strings.ReplaceAll(figures, ", ", " "), func(r rune) bool { return r == ' ' })
	tight := func(w string) bool { return strings.Contains(strings.Trim(w, ","), ",") }
	if !slices.ContainsFunc(words, tight) {
		return nil
	}
	err := refusal("the comma could separate easting and northing, thousands or decimals; type a space between easting and northing")
	gap := " " // one comma alone parts the axes, several part thousands
	if len(words) > 1 {
		gap = ""
	}
	meant := strings.ReplaceAll(strings.Join(words, " "), ",", gap)
	if q := p; q.split(strings.Fields(meant)) == nil {
		err.offering(strings.TrimSpace(p.zone + p.letters + " " + q.east + " " + q.north))
	}
	return err
}

// split splits the digits into easting and northing.
func (p *refParts) split(groups []string) *RefError {
	for _, g := range groups {
		if !allDigits(g) {
			return refusal("only digits can stand after the letters, not %q", g)
		}
	}
	switch {
	case len(groups) == 0:
		return refusal("there are no digits after %s; add 1 to 5 for the easting and the same number for the northing", p.letters)
	case len(groups) == 1 && len(groups[0])%2 != 0:
		return refusal("an odd number of digits (%d) cannot be split between easting and northing; type an even number",
			len(groups[0]))
	case len(groups) == 1:
		half := len(groups[0]) / 2
		p.east, p.north = groups[0][:half], groups[0][half:]
	case len(groups) > 2:
		return refusal("there are %d groups of digits; type one for the easting and one for the northing", len(groups))
	case len(groups[0]) != len(groups[1]):
		return refusal("the easting has %d digits and the northing %d; type the same number of digits for both",
			len(groups[0]), len(groups[1]))
	default:
		p.east, p.north = groups[0], groups[1]
	}
	if len(p.east) > 5 {
		return refusal("%d digits each for easting and northing are too many after letters; type 1 to 5 of each", len(p.east))
	}
	return nil
}

// offset returns the digits in metres from the corner of their 100 km square,
// and the side of the square they name.
func (p refParts) offset() (g Grid, sideM float64) {
	sideM = squareM
	for i := range len(p.east) {
		sideM /= 10
		g.E += float64(p.east[i]-'0') * sideM
		g.N += float64(p.north[i]-'0') * sideM
	}
	return g, sideM
}

// at returns the reference whose 100 km square begins at corner.
func (p refParts) at(s *System, corner Grid, kind RefKind, given bool) Ref {
	off, side := p.offset()
	return Ref{
		Grid:    Grid{E: corner.E + off.E, N: corner.N + off.N},
		SquareM: side, System: s, LettersGiven: given, Kind: kind,
	}
}

func isLetter(r rune) bool { return r >= 'A' && r <= 'Z' }

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}
