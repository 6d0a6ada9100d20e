package checksheet

import (
	"fmt"
	"math"
	"math/rand/v2"

	"legwright/app/geodesy"
)

// Ground is a grid and where on it sheets may lie.
type Ground struct {
	Code           geodesy.Code
	West, East     float64 // metres
	South, North   float64
	LargestM       float64 // the widest sheet
	wrong          []geodesy.Code
	letters        func(g Coord) (letters string, corner Coord)
	zoneInLatitude bool // easting and northing say nothing of the zone
}

// grounds are a zone of UTM, a grid of one country with letters, and one of a
// continent for small scales.
func grounds() []Ground {
	utm30 := func(g Coord) (string, Coord) { return utmLetters(30, g) }
	return []Ground{
		{"EPSG:32630", 320e3, 680e3, 4.3e6, 6.6e6, 400e3, []geodesy.Code{"EPSG:32629", "EPSG:32631", "EPSG:32730"}, utm30, true},
		{"EPSG:27700", 150e3, 600e3, 80e3, 950e3, 100e3, []geodesy.Code{"EPSG:32630"}, britishLetters, false},
		{"EPSG:3034", 3.3e6, 4.7e6, 2e6, 3.4e6, 2.2e6, []geodesy.Code{"EPSG:3035"}, nil, false},
	}
}

// groundFor draws a grid that holds sheets of that width.
func groundFor(wideM float64, dice *rand.Rand) Ground {
	list := grounds()
	for {
		if g := list[dice.IntN(len(list))]; wideM <= g.LargestM && (g.LargestM < 1e6 || wideM > 150e3) {
			return g
		}
	}
}

// ZoneCodes reports whether another zone of the same projection takes the same
// eastings and northings.
func (g Ground) ZoneCodes() bool { return g.zoneInLatitude }

// LatLon returns the WGS 84 latitude and longitude in degrees.
func (g Ground) LatLon(at Coord) (lat, lon float64, err error) {
	sys, err := geodesy.Lookup(g.Code)
	if err != nil {
		return 0, 0, err
	}
	ll, _, err := sys.ToWGS84(geodesy.Grid(at))
	return ll.Lat.Deg(), ll.Lon.Deg(), err
}

// britishLetters are the two letters of a 100 km square of the British National
// Grid (Ordnance Survey, A guide to coordinate systems in Great Britain): squares
// of 500 km and in each 25 of 100 km, lettered from the north-west without I.
func britishLetters(g Coord) (string, Coord) {
	const alphabet = "ABCDEFGHJKLMNOPQRSTUVWXYZ"
	e, n := int(math.Floor(g.E/1e5)), int(math.Floor(g.N/1e5))
	big := (3-n/5)*5 + e/5 + 2 // the origin's square is S, the third of the fourth row
	small := (4-n%5)*5 + e%5
	return string([]byte{alphabet[big], alphabet[small]}), Coord{float64(e) * 1e5, float64(n) * 1e5}
}

// utmLetters are zone, band and square of the Military Grid Reference System
// (NGA.SIG.0012, section 11), for northern zones outside Norway and Svalbard.
func utmLetters(zone int, g Coord) (string, Coord) {
	ground := Ground{Code: geodesy.EPSG(32600 + zone)}
	lat, _, err := ground.LatLon(g)
	if err != nil {
		return "", Coord{}
	}
	band := "CDEFGHJKLMNPQRSTUVWX"[int(lat+80)/8]
	e, n := int(math.Floor(g.E/1e5)), int(math.Floor(g.N/1e5))
	col := []string{"ABCDEFGH", "JKLMNPQR", "STUVWXYZ"}[(zone-1)%3][e-1]
	row := "ABCDEFGHJKLMNPQRSTUV"[(n+5*((zone+1)%2))%20]
	return fmt.Sprintf("%d%c %c%c", zone, band, col, row), Coord{float64(e) * 1e5, float64(n) * 1e5}
}
