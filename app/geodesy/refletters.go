package geodesy

import (
	"strconv"
	"strings"
)

func britishRef(p refParts, ctx RefContext) (Ref, *RefError) {
	if strings.Contains(p.letters, "I") {
		return Ref{}, refusal("the letter I is never used in grid letters; perhaps it is a J, an L or a 1")
	}
	corner, ok := britishSquare(p.letters)
	s := mustLookup(epsgBritain)
	if !ok && ctx.System != nil && ctx.System != s {
		return Ref{}, refusal("the letters %s are neither on %s nor on %s; type %s", p.letters, ctx.System.withArticle(), s.withArticle(), wantedRef(ctx.System))
	}
	if !ok {
		return Ref{}, refusal("the letters %s are not on %s; check them", p.letters, s.withArticle())
	}
	if err := otherGrid(p.letters, s, ctx.System); err != nil {
		return Ref{}, err
	}
	return p.at(s, corner, RefLetters, true), nil
}

func irishRef(p refParts, ctx RefContext) (Ref, *RefError) {
	corner, ok := irishSquare(p.letters[0])
	if !ok {
		return Ref{}, refusal("the letter I is never used in grid letters; perhaps it is a J, an L or a 1")
	}
	s := mustLookup(epsgIrish)
	if err := otherGrid(p.letters, s, ctx.System); err != nil {
		return Ref{}, err
	}
	return p.at(s, corner, RefLetters, true), nil
}

// otherGrid refuses letters of a grid that is not the sheet's, and names both.
func otherGrid(letters string, of, sheet *System) *RefError {
	if sheet == nil || sheet == of {
		return nil
	}
	return refusal("%s belongs to %s, but the sheet is on %s; type %s",
		letters, of.withArticle(), sheet.withArticle(), wantedRef(sheet))
}

// mgrsRef reads a reference that begins with a UTM zone.
func mgrsRef(p refParts, ctx RefContext) (Ref, *RefError) {
	zone, _ := strconv.Atoi(p.zone)
	if zone < 1 || zone > 60 {
		return Ref{}, refusal("UTM zone %d does not exist; zones run from 1 to 60", zone)
	}
	band := strings.IndexByte(mgrsBands, p.letters[0])
	if band < 0 {
		return Ref{}, refusal("%c is not a UTM band; bands run from C to X, without I and O", p.letters[0])
	}
	if p.letters[0] == 'X' && noBandX(zone) {
		return Ref{}, refusal("zone %dX does not exist: around Svalbard the zones are 31X, 33X, 35X and 37X", zone)
	}
	s := UTM(zone, p.letters[0] >= 'N')
	corner, err := mgrsCorner(s, band, p)
	if err != nil {
		return Ref{}, err
	}
	if over, ok := acrossEquator(p.at(s, corner, RefMGRS, true), ctx.System); ok {
		return over, nil
	}
	if err := otherGrid(p.zone+p.letters, s, ctx.System); err != nil {
		return Ref{}, err
	}
	return p.at(s, corner, RefMGRS, true), nil
}

// acrossEquator puts a reference on a sheet of the same zone on another datum,
// whose squares have the same letters, or in the other hemisphere: a sheet may
// reach over the equator, and the two grids differ by 10 000 km of northing
// there.
func acrossEquator(r Ref, sheet *System) (Ref, bool) {
	if sheet == nil || sheet == r.System || sheet.zone != r.System.zone {
		return r, false
	}
	switch {
	case sheet.north && !r.System.north:
		r.Grid.N -= 1e7
	case !sheet.north && r.System.north:
		r.Grid.N += 1e7
	}
	r.System = sheet
	return r, sheet.plausible(r.Grid)
}

// mgrsCorner finds the corner of the 100 km square: the row repeats every
// 2000 km, and the one that touches the band is meant.
func mgrsCorner(s *System, band int, p refParts) (Grid, *RefError) {
	e, okE := mgrsColumn(s.zone, p.letters[1])
	n, okN := mgrsRowInCycle(s.zone, p.letters[2])
	if !okE || !okN {
		return Grid{}, refusal("zone %d has no square %s; check the letters", s.zone, p.letters[1:])
	}
	south := float64(8*band - 80)
	north := south + 8
	if p.letters[0] == 'X' {
		north = 84
	}
	off, side := p.offset()
	for ; n < 1e7; n += 20 * squareM {
		low, _, err1 := s.Unproject(Grid{E: e + off.E, N: n + off.N})
		high, _, err2 := s.Unproject(Grid{E: e + off.E + side, N: n + off.N + side})
		if err1 == nil && err2 == nil && touches(low.Lat.Deg(), high.Lat.Deg(), south, north) {
			return Grid{E: e, N: n}, nil
		}
	}
	return Grid{}, refusal("there is no square %s in %d%c: check the letters", p.letters[1:], s.zone, p.letters[0])
}

// touches reports whether a square between two latitudes reaches into a band.
// A tenth of a degree is allowed for: programs differ in where along a square
// they take the latitude.
func touches(low, high, south, north float64) bool {
	const slack = 0.1
	return max(low, high) >= south-slack && min(low, high) <= north+slack
}

// bareMGRSRef reads two letters on a UTM sheet: the 100 km square without zone
// and band, taken nearest to the sheet's ground.
func bareMGRSRef(p refParts, ctx RefContext) (Ref, *RefError) {
	s := ctx.System
	if ctx.Near == nil {
		return Ref{}, refusal("zone and band are missing before %s; type the whole reference, such as %s", p.letters, exampleRef(s))
	}
	e, okE := mgrsColumn(s.zone, p.letters[0])
	n, okN := mgrsRowInCycle(s.zone, p.letters[1])
	if okE && okN {
		corner := Grid{E: e, N: nearestCycle(n, ctx.Near.N)}
		r := p.at(s, corner, RefMGRS, true)
		if far := distance(r.Grid, *ctx.Near); far <= 4*squareM {
			return r, nil
		}
	}
	if _, ok := britishSquare(p.letters); ok {
		return Ref{}, otherGrid(p.letters, mustLookup(epsgBritain), s)
	}
	return Ref{}, refusal("square %s is not near this sheet in UTM zone %d; check the letters", p.letters, s.zone)
}

func upsRef(p refParts, ctx RefContext) (Ref, *RefError) {
	if !strings.ContainsRune("ABYZ", rune(p.letters[0])) {
		return Ref{}, refusal("three letters need a UTM zone from 1 to 60 in front of them, such as 30%s 123 456", p.letters)
	}
	corner, north, ok := upsSquare(p.letters[0], p.letters[1], p.letters[2])
	if !ok {
		return Ref{}, refusal("no square around either pole has the letters %s; check them", p.letters)
	}
	s := UTM(0, north)
	if err := otherGrid(p.letters, s, ctx.System); err != nil {
		return Ref{}, err
	}
	return p.at(s, corner, RefMGRS, true), nil
}
