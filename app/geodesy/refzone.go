package geodesy

import (
	"fmt"
	"strconv"
	"strings"
)

// zonedPair are easting and northing behind a UTM zone and its letter, as receivers
// write them: "30U 480000 6091000".
type zonedPair struct {
	zone   int
	letter byte
	plainPair
}

// fewestZoned is how many digits before the point an easting and a northing behind a
// zone have: fewer are a reference whose letters are missing.
const fewestZoned = 5

// readZoned takes a text apart; ok is false unless it holds a zone, a letter and two numbers.
func readZoned(body string) (z zonedPair, ok bool) {
	first := strings.IndexFunc(body, isLetter)
	if first < 1 || first+1 >= len(body) {
		return z, false
	}
	digits, rest := strings.TrimSpace(body[:first]), strings.TrimLeft(body[first+1:], " ,")
	if len(digits) > 2 || !allDigits(digits) {
		return z, false
	}
	z.zone, _ = strconv.Atoi(digits)
	z.letter = body[first]
	bare, labelled := plainLabels(rest)
	if !labelled {
		bare = rest
	}
	fields, comma, err := plainFields(bare, RefContext{})
	if err != nil || len(fields) != 2 {
		return z, false
	}
	z.plainPair = plainPair{e: fields[0], n: fields[1], labelled: labelled, parted: labelled || comma}
	return z, wholeDigits(z.e) >= fewestZoned && wholeDigits(z.n) >= fewestZoned
}

// zonedRef reads easting and northing in the zone that is written before them. The letter
// is a band of latitude, as in MGRS; many programs write N or S for the hemisphere
// instead (common practice, no source). Where both could be meant the text is refused.
func zonedRef(z zonedPair, ctx RefContext) (Ref, *RefError) {
	name := fmt.Sprintf("%d%c", z.zone, z.letter)
	band := strings.IndexByte(mgrsBands, z.letter)
	if z.zone < 1 || z.zone > 60 || band < 0 {
		return Ref{}, refusal("%s is not a UTM zone: zones run from 1 to 60 and bands from C to X, without I and O", name)
	}
	if z.letter == 'X' && noBandX(z.zone) {
		return Ref{}, refusal("zone %s does not exist: around Svalbard the zones are 31X, 33X, 35X and 37X", name)
	}
	r, err := z.in(UTM(z.zone, z.letter >= 'N'), ctx)
	byBand := err == nil && r.inBand(band)
	if z.letter == 'S' {
		south, errSouth := z.in(UTM(z.zone, false), ctx)
		switch {
		case byBand && errSouth == nil && !sameHemisphere(ctx.System, south.System) && !sameHemisphere(ctx.System, r.System):
			return Ref{}, refusal("the S could be band S, north of the equator, or the southern hemisphere; type the letters of the square").
				offering(r.withLetters()...).offering(south.withLetters()...)
		case errSouth == nil && (!byBand || sameHemisphere(ctx.System, south.System)):
			r, err, byBand = south, nil, true
		}
	}
	switch {
	case err != nil:
		return Ref{}, err
	case !byBand && z.letter != 'N':
		return Ref{}, z.offBand(r)
	}
	if over, ok := acrossEquator(r, ctx.System); ok {
		return over, nil
	}
	if err := otherGrid(name, r.System, ctx.System); err != nil {
		return Ref{}, err
	}
	return r, nil
}

// in reads the numbers on the grid of a zone; the sheet's ground counts if it is on that
// zone.
func (z zonedPair) in(s *System, ctx RefContext) (Ref, *RefError) {
	within := RefContext{System: s}
	if ctx.System == s {
		within.Near = ctx.Near
	}
	return z.read(within)
}

// sameHemisphere reports whether a sheet is on the same zone and side of the equator.
func sameHemisphere(sheet, s *System) bool {
	return sheet != nil && sheet.zone == s.zone && sheet.north == s.north
}

// inBand reports whether a reference lies in a band of latitude, or so near to it that
// programs differ.
func (r Ref) inBand(band int) bool {
	ll, _, err := r.System.Unproject(r.Grid)
	south := float64(8*band - 80)
	north := south + 8
	if mgrsBands[band] == 'X' {
		north = 84
	}
	return err == nil && touches(ll.Lat.Deg(), ll.Lat.Deg(), south, north)
}

// withLetters is the reference with the letters of its square, to the metre.
func (r Ref) withLetters() []string {
	text, err := r.System.FormatRef(r.Grid, 10)
	if err != nil {
		return nil
	}
	return []string{text}
}

// offBand refuses a letter that does not fit the coordinates.
func (z zonedPair) offBand(r Ref) *RefError {
	err := refusal("the coordinates are not in band %c: check the letter and all digits", z.letter)
	if ll, _, errLL := r.System.Unproject(r.Grid); errLL == nil && ll.Lat.Deg() >= -80 && ll.Lat.Deg() <= 84 {
		letter := mgrsBands[mgrsBand(ll.Lat.Deg())]
		if letter != 'S' {
			err.offering(fmt.Sprintf("%d%c %s %s", z.zone, letter, z.e, z.n))
		}
	}
	return err
}
