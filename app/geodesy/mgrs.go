package geodesy

import (
	"fmt"
	"math"
	"strings"
)

// Letters of the Military Grid Reference System (NGA.SIG.0012, section 11; the
// lettering is the one for WGS 84). Bands of 8° run from C at 80° S, X having
// 12°; columns repeat every three zones, rows every 2000 km and are set off by
// 500 km in even zones. The zone is written with two digits; one is read too.
const (
	mgrsBands = "CDEFGHJKLMNPQRSTUVWX"
	mgrsRows  = "ABCDEFGHJKLMNPQRSTUV"
	mgrsCols  = "ABCDEFGHJKLMNPQRSTUVWXYZ"
)

// mgrsLetters are the references of UTM zones.
type mgrsLetters struct{}

func (mgrsLetters) square(s *System, g Grid) (string, Grid, error) {
	col, row := floorSquare(g)
	if col < 1 || col > 8 {
		return "", Grid{}, outsideLetters(s, g)
	}
	ll, _, err := s.Unproject(g)
	if err != nil {
		return "", Grid{}, fmt.Errorf("%w: %w", outsideLetters(s, g), err)
	}
	latDeg := ll.Lat.Deg()
	if latDeg < -80-1e-9 || latDeg > 84+1e-9 {
		return "", Grid{}, outsideLetters(s, g)
	}
	band := mgrsBand(latDeg)
	if mgrsBands[band] == 'X' && noBandX(s.zone) {
		return "", Grid{}, outsideLetters(s, g)
	}
	return fmt.Sprintf("%02d%c %c%c", s.zone, mgrsBands[band],
		mgrsCols[(s.zone-1)%3*8+col-1], mgrsRows[mod(row+rowOffset(s.zone), 20)]), cornerOf(col, row), nil
}

// noBandX reports whether a zone ends at 72° N, its ground belonging to the
// wider zones around Svalbard.
func noBandX(zone int) bool { return zone == 32 || zone == 34 || zone == 36 }

// mgrsBand returns the index of the band of a latitude in −80…84. Borders
// belong to the band north of them; a tolerance covers the rounding of the way there
// and back through the projection.
func mgrsBand(latDeg float64) int {
	return min(max(int(math.Floor((latDeg+80)/8+1e-12)), 0), len(mgrsBands)-1)
}

func rowOffset(zone int) int { return 5 * ((zone + 1) % 2) }

func mod(a, b int) int { return ((a % b) + b) % b }

// mgrsColumn returns the easting of a column letter in a zone, metres.
func mgrsColumn(zone int, letter byte) (float64, bool) {
	i := strings.IndexByte(mgrsCols, letter) - (zone-1)%3*8
	if i < 0 || i > 7 {
		return 0, false
	}
	return float64(i+1) * squareM, true
}

// mgrsRowInCycle returns the northing of a row letter within its 2000 km.
func mgrsRowInCycle(zone int, letter byte) (float64, bool) {
	i := strings.IndexByte(mgrsRows, letter)
	if i < 0 {
		return 0, false
	}
	return float64(mod(i-rowOffset(zone), 20)) * squareM, true
}

// Letters of UPS. Columns leave out D, E, I, M, N, O, V and W.
const (
	upsColsWest = "JKLPQRSTUXYZ" // ends at 2000 km
	upsColsEast = "ABCFGHJKLPQR" // begins at 2000 km
	upsRows     = "ABCDEFGHJKLMNPQRSTUVWXYZ"
)

// upsRange returns where the lettered square of a pole begins and ends, in
// units of 100 km, on both axes.
func upsRange(north bool) (first, last int) {
	if north {
		return 13, 27
	}
	return 8, 32
}

// upsLetters are the references around the poles.
type upsLetters struct{}

func (upsLetters) square(s *System, g Grid) (string, Grid, error) {
	col, row := floorSquare(g)
	first, last := upsRange(s.north)
	ll, _, err := s.Unproject(g)
	if err != nil || col < first || col >= last || row < first || row >= last || !upsServes(ll) {
		return "", Grid{}, outsideLetters(s, g)
	}
	west := col < 20
	letter := upsColsEast[max(col-20, 0)]
	if west {
		letter = upsColsWest[col-8]
	}
	return fmt.Sprintf("%c %c%c", upsBand(s.north, west), letter, upsRows[row-first]), cornerOf(col, row), nil
}

// upsServes reports whether a position has a UPS reference; the squares at the edge reach a
// little over the border, and so may a truncated reference.
func upsServes(ll LatLon) bool { return ll.Lat.Deg() >= 84-1e-9 || ll.Lat.Deg() < -80+1e-9 }

func upsBand(north, west bool) byte {
	switch {
	case north && west:
		return 'Y'
	case north:
		return 'Z'
	case west:
		return 'A'
	default:
		return 'B'
	}
}

// upsSquare returns the corner of a square by band, column and row letter.
func upsSquare(band, colLetter, rowLetter byte) (g Grid, north, ok bool) {
	north = band == 'Y' || band == 'Z'
	first, last := upsRange(north)
	row := first + strings.IndexByte(upsRows, rowLetter)
	col := 20 + strings.IndexByte(upsColsEast, colLetter)
	missing := col < 20
	if band == 'A' || band == 'Y' {
		i := strings.IndexByte(upsColsWest, colLetter)
		col, missing = 8+i, i < 0
	}
	if missing || row < first || row >= last || col < first || col >= last {
		return Grid{}, north, false
	}
	return cornerOf(col, row), north, true
}
