package geodesy

import (
	"math"
	"strconv"
	"strings"
)

const (
	// plausibleMarginDeg is how far outside its area of use a typed position is
	// still read if labels or the sheet's ground show that it is meant.
	plausibleMarginDeg = 3
	// typedMarginDeg is the same for numbers that stand alone. Maps print a
	// neighbour's grid some 40 km over the edge (common practice, no source).
	typedMarginDeg = 1
	// nearM is how near to the sheet's ground a reading counts as meant.
	nearM = squareM
	// sheetM is how far from the middle of the sheet its margin may be.
	sheetM = squareM / 2
	// smallDigits is how many digits before the point a coordinate may have
	// and still look like kilometres off a margin, or like a reference.
	smallDigits = 4
)

// within reports whether coordinates lie in the area of use or not further
// outside than a margin in degrees.
func (s *System) within(g Grid, marginDeg float64) bool {
	ll, _, err := s.Unproject(g)
	return err == nil && s.area.Grown(marginDeg).Contains(ll)
}

// plausible reports whether coordinates lie in or around the area of use.
func (s *System) plausible(g Grid) bool { return s.within(g, plausibleMarginDeg) }

// near reports whether the ground of the sheet is known and not further away.
func (ctx RefContext) near(g Grid, m float64) bool {
	return ctx.Near != nil && ctx.Near.IsFinite() && distance(g, *ctx.Near) <= m
}

// onGrid reports whether two numbers can be coordinates on the grid, if it is
// known.
func (ctx RefContext) onGrid(e, n string) bool {
	if ctx.System == nil {
		return true
	}
	g, ok := plainPair{e: e, n: n}.grid(ctx.System)
	return ok && ctx.System.plausible(g)
}

// read reads easting and northing, and refuses what could be meant otherwise.
func (p plainPair) read(ctx RefContext) (Ref, *RefError) {
	s := ctx.System
	e, errE := plainNumber(p.e)
	n, errN := plainNumber(p.n)
	switch {
	case s != nil && s.degrees():
		return Ref{}, refusal("on a grid of degrees two numbers without marks could be swapped; " +
			"latitude and longitude need °, N/S and E/W, or latlon: in front").offering(p.asLatLon(s)...)
	case errE != nil || errN != nil:
		return Ref{}, refusal("easting and northing must be plain numbers, with up to 9 digits before the point")
	case s == nil:
		return Ref{}, p.withoutGrid()
	}
	g := s.FromUnits(e, n)
	if err := p.refused(g, ctx); err != nil {
		return Ref{}, err
	}
	return Ref{Grid: g, System: s, LettersGiven: true}, nil
}

// refused returns why the pair is not read at g, or nil.
func (p plainPair) refused(g Grid, ctx RefContext) *RefError {
	s, near := ctx.System, ctx.near(g, nearM)
	small := wholeDigits(p.e) <= smallDigits && wholeDigits(p.n) <= smallDigits
	margin := float64(typedMarginDeg)
	if p.labelled || near {
		margin = plausibleMarginDeg
	}
	switch {
	case small && p.labelled && s.within(g, 0) && (near || ctx.Near == nil), small && near && !s.lettered():
	case small:
		return p.tooSmall(g, ctx)
	case !s.within(g, margin):
		return p.outside(g, s)
	case !p.parted && p.padded():
		return refusal("the numbers have %d and %d digits, and one begins with 0; check where the space belongs",
			wholeDigits(p.e), wholeDigits(p.n)).offering(p.offer()...)
	}
	if p.parted {
		return nil
	}
	others := ctx.plainlyNear(p.otherSplits(), near)
	if len(others) == 0 || s.epsg == 0 && len(p.e) == len(p.n) { // nobody knows the area of a defined grid
		return nil
	}
	err := refusal("the space could also belong elsewhere; say which is the easting").offering(p.offer()...)
	for _, q := range others[:min(len(others), 2)] {
		err.offering(q.offer()...)
	}
	return err
}

// withoutGrid refuses numbers where no grid is chosen.
func (p plainPair) withoutGrid() *RefError {
	small := p.asLatLon(nil)
	switch {
	case p.short():
		return refusal("the letters are missing, such as NN in NN 123 456; latitude and longitude need °, N/S and E/W, or latlon: in front").offering(small...)
	case len(small) > 0:
		return refusal("it is not clear what these two small numbers are: latitude and longitude need °, N/S and E/W, or latlon: in front").offering(small...)
	}
	return refusal("easting and northing alone do not name the grid; choose the grid first")
}

// tooSmall refuses numbers that are too small to be metres, and offers what
// else they can be.
func (p plainPair) tooSmall(g Grid, ctx RefContext) *RefError {
	s := ctx.System
	err := refusal("%s and %s are too small for easting and northing in %s; type all digits", p.e, p.n, s.Unit().Plural())
	if len(p.asLatLon(s)) > 0 {
		err = refusal("%s and %s are too small for easting and northing in %s; latitude and longitude need °, N/S and E/W, or latlon: in front", p.e, p.n, s.Unit().Plural())
	}
	err.offering(p.asKilometres(s)...).offering(p.asThousands(ctx)...).offering(p.asLatLon(s)...)
	if !p.labelled && !s.lettered() && s.within(g, 0) && ctx.Near == nil {
		err.offering(p.offer()...)
	}
	return err
}

// outside refuses numbers off the grid's area, and offers what else they can
// be.
func (p plainPair) outside(g Grid, s *System) *RefError {
	err := refusal("easting %s, northing %s is outside the area of %s (%s); check the digits", p.e, p.n, s.withArticle(), s.areaWords)
	err.offering(p.asKilometres(s)...)
	e, n := s.InUnits(g)
	switch {
	case s.within(s.FromUnits(n, e), typedMarginDeg):
		err.offering(plainPair{e: p.n, n: p.e}.offer()...)
	case !p.labelled && s.plausible(g):
		err.offering(p.offer()...)
	}
	return err
}

// asKilometres offers the pair in metres where it can be kilometres, as
// margins print them.
func (p plainPair) asKilometres(s *System) []string {
	e, errE := plainNumber(p.e)
	n, errN := plainNumber(p.n)
	g := Grid{E: e * 1000, N: n * 1000}
	if errE != nil || errN != nil || e < 0 || n < 0 || s.Unit().Name != "metre" || !s.within(g, typedMarginDeg) {
		return nil
	}
	return plainPair{e: metresText(g.E), n: metresText(g.N)}.offer()
}

// asThousands offers the pair in feet where it can be thousands of them, as the edges of maps
// print them, near the ground of the sheet.
func (p plainPair) asThousands(ctx RefContext) []string {
	e, errE := plainNumber(p.e)
	n, errN := plainNumber(p.n)
	if errE != nil || errN != nil || ctx.System.Unit().Symbol() != "ft" || !ctx.near(ctx.System.FromUnits(e*1000, n*1000), nearM) {
		return nil
	}
	return plainPair{e: metresText(e * 1000), n: metresText(n * 1000)}.offer()
}

func metresText(m float64) string { return strconv.FormatFloat(math.Round(m), 'f', 0, 64) }

// asLatLon offers the pair as latitude and longitude where it can be that, on
// the grid if one is chosen.
func (p plainPair) asLatLon(s *System) []string {
	lat, errLat := strconv.ParseFloat(p.e, 64)
	lon, errLon := strconv.ParseFloat(p.n, 64)
	if errLat != nil || errLon != nil || math.Abs(lat) > 90 || math.Abs(lon) > 180 {
		return nil
	}
	if s != nil {
		g, _, _, err := s.FromWGS84(DegLatLon(lat, lon))
		if err != nil || !s.plausible(g) {
			return nil
		}
	}
	return []string{"latlon: " + p.e + ", " + p.n}
}

// degrees reports whether the grid's coordinates are latitude and longitude.
func (s *System) degrees() bool { return s.unit.Name == "degree" }

func (s *System) newZealand() bool { p, ok := s.refs.(plainOnly); return ok && p.newZealand }

// lettered reports whether the grid's references have letters.
func (s *System) lettered() bool { _, plain := s.refs.(plainOnly); return !plain }

func refuseNewZealand(s *System) *RefError {
	return refusal("New Zealand short references repeat every 100 km and need the number of the printed sheet; "+
		"type easting and northing of %s in full, 7 digits each, as printed in the margin", s.withArticle())
}

// looksNewZealand reports whether a text is a New Zealand sheet number, two
// letters and two digits, with or without a position on it.
func looksNewZealand(body string) bool {
	tight := strings.NewReplacer(" ", "", ",", "").Replace(body)
	return len(tight) >= 4 && isLetter(rune(tight[0])) && isLetter(rune(tight[1])) &&
		allDigits(tight[2:]) && (len(tight) == 4 || len(tight) >= 10)
}
