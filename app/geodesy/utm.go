package geodesy

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

const (
	epsgUTMNorth = 32600 // + zone
	epsgUTMSouth = 32700
)

// UTM returns the grid of a UTM zone from 1 to 60, north or south, and of UPS
// for zone 0. Other zones give nil.
func UTM(zone int, north bool) *System {
	switch {
	case zone == 0 && north:
		return mustLookup(epsgUPSNorth)
	case zone == 0:
		return mustLookup(epsgUPSSouth)
	case zone < 1 || zone > 60:
		return nil
	case north:
		return mustLookup(epsgUTMNorth + zone)
	default:
		return mustLookup(epsgUTMSouth + zone)
	}
}

// UTMZoneFor returns the zone of a WGS 84 position, with the exceptions
// for south-west Norway and for Svalbard (NGA.SIG.0012, section 7): 1 to 60,
// or 0 for UPS from 84° N and below 80° S. The equator counts as north, the
// western border of a zone belongs to it, and 180° is in zone 1.
func UTMZoneFor(ll LatLon) (zone int, north bool) {
	lat, lon := ll.Lat.Deg(), earth.WrapLon(float64(ll.Lon))*180/math.Pi
	north = lat >= 0
	if lat >= 84 || lat < -80 {
		return 0, north
	}
	zone = int(math.Floor((lon+180)/6+1e-12))%60 + 1
	switch {
	case lat >= 56 && lat < 64 && zone == 31 && lon >= 3:
		zone = 32
	case lat >= 72 && lon >= 0 && lon < 42:
		zone = 31 + 2*int(math.Floor((lon+3)/12+1e-12))
	}
	return zone, north
}

// utmLike returns a zone of UTM on any datum, with the letters of MGRS; code,
// datum, country and area are the caller's to fill in.
func utmLike(zone int, north bool, ell Ellipsoid, datumName string) *System {
	central := float64(6*zone - 183)
	hemisphere, letter := "south", "s"
	if north {
		hemisphere, letter = "north", "n"
	}
	return &System{
		name:      fmt.Sprintf("%s UTM zone %d %s", datumName, zone, hemisphere),
		words:     []string{fmt.Sprintf("utm zone %d%s %s", zone, letter, strings.ToLower(datumName)), "mgrs"},
		ellipsoid: ell, proj: proj.NewTransverseMercator(ell, proj.UTMParams(zone, north)),
		zone: zone, north: north, refs: mgrsLetters{},
		areaWords: fmt.Sprintf("from %s to %s", meridian(central-3), meridian(central+3)),
	}
}

func newUTM(zone int, north bool) *System {
	west, east := float64(6*zone-186), float64(6*zone-180)
	s := utmLike(zone, north, WGS84(), "WGS 84")
	s.own, s.country, s.datum = epsgLatLon, "World", datum.Like{}
	if north {
		s.epsg, s.name = epsgUTMNorth+zone, fmt.Sprintf("UTM zone %d north", zone)
		s.areaWords += ", from the equator to 84° N"
		s.area = append(earth.AreaOf([4]float64{0, west, 84, east}), utmExceptions(zone)...)
		return s
	}
	s.epsg, s.name = epsgUTMSouth+zone, fmt.Sprintf("UTM zone %d south", zone)
	s.areaWords += ", from 80° S to the equator"
	s.area = earth.AreaOf([4]float64{-80, west, 0, east})
	return s
}

// utmExceptions returns the areas of five zones beyond their six degrees.
func utmExceptions(zone int) earth.Area {
	switch zone {
	case 32:
		return earth.AreaOf([4]float64{56, 3, 64, 12})
	case 31:
		return earth.AreaOf([4]float64{72, 0, 84, 9})
	case 33:
		return earth.AreaOf([4]float64{72, 9, 84, 21})
	case 35:
		return earth.AreaOf([4]float64{72, 21, 84, 33})
	case 37:
		return earth.AreaOf([4]float64{72, 33, 84, 42})
	}
	return nil
}

func meridian(lonDeg float64) string {
	switch {
	case lonDeg == 0 || math.Abs(lonDeg) == 180:
		return fmt.Sprintf("%.0f°", math.Abs(lonDeg))
	case lonDeg < 0:
		return fmt.Sprintf("%.0f° W", -lonDeg)
	default:
		return fmt.Sprintf("%.0f° E", lonDeg)
	}
}

func newUPSSystem(north bool) *System {
	s := &System{
		epsg: epsgUPSNorth, own: epsgLatLon, name: "UPS north", country: "Arctic", north: true,
		words: []string{"universal polar stereographic", "mgrs", "world", "epsg:32661"}, ellipsoid: WGS84(),
		proj: proj.NewPolarStereographic(WGS84(), proj.UPSParams(north)), datum: datum.Like{},
		area: earth.AreaOf([4]float64{60, -180, 90, 180}), areaWords: "the Arctic north of 60° N; references from 84° N",
		refs: upsLetters{},
	}
	if !north {
		s.epsg, s.name, s.country, s.north = epsgUPSSouth, "UPS south", "Antarctica", false
		s.words[3] = "epsg:32761"
		s.area, s.areaWords = earth.AreaOf([4]float64{-90, -180, -60, 180}), "the Antarctic south of 60° S; references from 80° S"
	}
	return s
}
