package geodesy

import (
	"math"
	"strconv"
	"strings"
)

// plainLabels takes the letters off "E 651409 N 313177" and "651409E 313177N".
// Small numbers with such letters are latitudes and longitudes, and are seen
// before this.
func plainLabels(body string) (string, bool) {
	e, n, last := strings.IndexByte(body, 'E'), strings.IndexByte(body, 'N'), len(body)-1
	before := e == 0 && n > 0 && n < last
	behind := e > 0 && n == last
	if !before && !behind {
		return "", false
	}
	rest := strings.Replace(strings.Replace(body, "E", " ", 1), "N", " ", 1)
	if strings.IndexFunc(rest, isLetter) >= 0 || len(strings.Fields(rest)) != 2 {
		return "", false
	}
	return strings.TrimSpace(rest), true
}

// plainRefOf reads figures without letters.
func plainRefOf(body string, ctx RefContext) (Ref, *RefError) {
	fields, err := plainFields(body)
	if err != nil {
		return Ref{}, err
	}
	if len(fields) == 1 {
		return singleNumber(fields[0], ctx)
	}
	short := allDigits(fields[0]) && allDigits(fields[1]) && len(fields[0]) == len(fields[1]) && len(fields[0]) <= 5
	if short && ctx.System != nil {
		if r, err, settled := shortRef(refParts{east: fields[0], north: fields[1]}, ctx); settled {
			return r, err
		}
	}
	e, errE := plainNumber(fields[0])
	n, errN := plainNumber(fields[1])
	if errE != nil || errN != nil {
		return Ref{}, refusal("easting and northing must be plain numbers in metres, up to 9 figures before the point")
	}
	return checkedPlain(Grid{E: e, N: n}, fields, ctx)
}

// plainFields splits figures into one or two numbers. A single comma or one
// beside a space parts two numbers; a comma within each of two numbers is a
// decimal comma.
func plainFields(body string) ([]string, *RefError) {
	fields := strings.Fields(body)
	if len(fields) == 2 && isDecimalComma(fields[0]) && isDecimalComma(fields[1]) {
		return []string{strings.Replace(fields[0], ",", ".", 1), strings.Replace(fields[1], ",", ".", 1)}, nil
	}
	fields = strings.FieldsFunc(body, func(r rune) bool { return r == ' ' || r == ',' })
	for _, f := range fields {
		if strings.Trim(f, "+-.0123456789") != "" {
			return nil, refusal("%q is not understood; type a reference such as NN 123 456, or easting and northing in metres", f)
		}
	}
	switch len(fields) {
	case 1, 2:
		return fields, nil
	case 0:
		return nil, refusal("there are no figures; type easting and northing in metres")
	}
	return nil, refusal("there are %d numbers; type two, easting and northing in metres", len(fields))
}

func isDecimalComma(f string) bool {
	whole, frac, ok := strings.Cut(f, ",")
	return ok && allDigits(strings.TrimLeft(whole, "+-")) && allDigits(frac)
}

func plainNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.Abs(v) >= 1e9 {
		return 0, strconv.ErrRange
	}
	return v, nil
}

// singleNumber reads one row of figures: a reference without letters and
// without a space, if it is one.
func singleNumber(f string, ctx RefContext) (Ref, *RefError) {
	if n := len(f); allDigits(f) && n%2 == 0 && n <= 10 && ctx.System != nil {
		p := refParts{east: f[:n/2], north: f[n/2:]}
		if ctx.System.lettered() && ctx.Near != nil {
			return nearestRef(p, ctx)
		}
		if r, err, settled := shortRef(p, ctx); settled {
			return r, err
		}
	}
	err := refusal("there is only one number; type easting and northing with a space between them")
	if n := len(f); allDigits(f) && n >= 12 && n <= 14 {
		err.Offer = f[:n/2] + " " + f[n/2:]
	}
	return Ref{}, err
}

// shortRef deals with figures of equal number, 1 to 5 on each axis. It says
// false where they are to be read as easting and northing after all.
func shortRef(p refParts, ctx RefContext) (Ref, *RefError, bool) {
	s := ctx.System
	switch {
	case s.newZealand():
		return Ref{}, refuseNewZealand(s), true
	case !s.lettered():
		return Ref{}, nil, false
	case len(p.east) == 5 && !plainIsFar(p, ctx.Near):
		return Ref{}, nil, false
	case ctx.Near == nil:
		return Ref{}, refusal("the letters are missing; type them in front, such as %s", exampleRef(s)), true
	}
	r, err := nearestRef(p, ctx)
	return r, err, true
}

func plainIsFar(p refParts, near *Grid) bool {
	if near == nil {
		return false
	}
	off, _ := p.offset()
	return distance(off, *near) > squareM
}

// nearestRef supplies the 100 km square that brings the reference nearest to
// the sheet's ground.
func nearestRef(p refParts, ctx RefContext) (Ref, *RefError) {
	s, near := ctx.System, *ctx.Near
	if !near.IsFinite() {
		return Ref{}, refusal("the letters are missing; type them in front, such as %s", exampleRef(s))
	}
	off, side := p.offset()
	corner := Grid{
		E: nearestSquare(near.E - off.E - side/2),
		N: nearestSquare(near.N - off.N - side/2),
	}
	kind := RefLetters
	if s.zone != 0 || s.epsg == epsgUPSNorth || s.epsg == epsgUPSSouth {
		kind = RefMGRS
	}
	r := p.at(s, corner, kind, false)
	if _, _, err := s.refs.square(s, r.Grid); err != nil {
		return Ref{}, refusal("the letters are missing, and the ground of the sheet is outside the lettered squares of the %s", s.name)
	}
	return r, nil
}

func nearestSquare(m float64) float64 { return math.Round(m/squareM) * squareM }

// nearestCycle returns n moved by whole 2000 km towards near.
func nearestCycle(n, near float64) float64 {
	const cycle = 20 * squareM
	return n + math.Round((near-n)/cycle)*cycle
}

func distance(a, b Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }

// checkedPlain refuses coordinates that cannot be meant on the grid.
func checkedPlain(g Grid, fields []string, ctx RefContext) (Ref, *RefError) {
	s := ctx.System
	if s != nil && s.degrees() {
		err := refusal("two numbers without a mark on a grid of degrees could be either way round; latitude and longitude need °, N/S and E/W, or latlon: in front")
		if math.Abs(g.E) <= 90 && math.Abs(g.N) <= 180 {
			err.Offer = "latlon: " + fields[0] + ", " + fields[1]
		}
		return Ref{}, err
	}
	small := math.Abs(g.E) <= 90 && math.Abs(g.N) <= 180
	if s == nil {
		err := refusal("easting and northing alone do not tell the grid; choose the grid first")
		if small {
			err = refusal("two small numbers without a mark; latitude and longitude need °, N/S and E/W, or latlon: in front")
			err.Offer = "latlon: " + fields[0] + ", " + fields[1]
		}
		return Ref{}, err
	}
	g = s.FromUnits(g.E, g.N)
	if s.plausible(g) && !(small && strings.Contains(fields[0], ".")) {
		return Ref{Grid: g, System: s, LettersGiven: true}, nil
	}
	err := refusal("easting %s, northing %s is far outside the %s (%s)", fields[0], fields[1], s.name, s.areaWords)
	switch {
	case small:
		err = refusal("two small numbers are easting and northing; latitude and longitude need °, N/S and E/W, or latlon: in front")
		err.Offer = "latlon: " + fields[0] + ", " + fields[1]
	case s.plausible(Grid{E: g.N, N: g.E}):
		err.Offer = fields[1] + " " + fields[0] + ", with the easting first"
	}
	return Ref{}, err
}

// degrees reports whether the grid's figures are latitude and longitude.
func (s *System) degrees() bool { return s.unit.Name == "degree" }

// plausibleMarginDeg is how far outside its area of use a typed place is still
// taken on a grid.
const plausibleMarginDeg = 3

// plausible reports whether coordinates lie in or around the area of use.
func (s *System) plausible(g Grid) bool {
	ll, _, err := s.Unproject(g)
	return err == nil && s.area.grown(plausibleMarginDeg).contains(ll)
}

func (s *System) newZealand() bool { p, ok := s.refs.(plainOnly); return ok && p.newZealand }

// lettered reports whether the grid's references have letters.
func (s *System) lettered() bool { _, plain := s.refs.(plainOnly); return !plain }

func refuseNewZealand(s *System) *RefError {
	return refusal("New Zealand short references repeat every 100 km and rest on the number of the printed sheet; "+
		"type easting and northing of the %s in full, 7 figures each, from the figures along the margin", s.name)
}

// looksNewZealand reports whether a text is a New Zealand sheet number, two
// letters and two figures, with or without the figures of a place on it.
func looksNewZealand(body string) bool {
	tight := strings.NewReplacer(" ", "", ",", "").Replace(body)
	return len(tight) >= 4 && isLetter(rune(tight[0])) && isLetter(rune(tight[1])) &&
		allDigits(tight[2:]) && (len(tight) == 4 || len(tight) >= 10)
}
