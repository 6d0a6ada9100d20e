package geodesy

import (
	"slices"
	"sort"
)

// SystemsAt returns the grids whose area holds a WGS 84 position, the likeliest for
// walking first: the countries' own, the smaller area before the
// larger, then the UTM zones of the continent, always the UTM zone or UPS, then
// narrower zones and older datums, and last the grids of a continent. Areas are
// boxes on WGS 84, good to 200 m, so that near a border the neighbour's grid may be
// among them, or come first. The position must pass Check.
func SystemsAt(ll LatLon) []*System {
	zone, north := UTMZoneFor(ll)
	utm := UTM(zone, north)
	var found [rankWide + 1][]*System
	for _, s := range catalogue().list {
		if s.own != epsgLatLon && s.Contains(ll) && s.walkedAt(ll) {
			found[s.rank] = append(found[s.rank], s)
		}
	}
	own := found[rankOwn]
	sort.SliceStable(own, func(i, j int) bool { return own[i].area.Size() < own[j].area.Size() })
	zones := found[rankZone]
	sort.SliceStable(zones, func(i, j int) bool { return zones[i].zone == zone && zones[j].zone != zone })
	return slices.Concat(own, zones, []*System{utm}, found[rankSpare], found[rankWide])
}

// rank is the order of guesses: countries' own grids, zones of a continent on
// a datum treated as WGS 84, then UTM, then what is rare, and last the grids of a
// continent.
type rank int

const (
	rankOwn rank = iota
	rankZone
	rankSpare
	rankWide
)

// At returns what SystemsAt returns for latitude and longitude in degrees, and
// an error if they are not a position on the earth.
func At(latDeg, lonDeg float64) ([]*System, error) {
	ll := DegLatLon(latDeg, lonDeg)
	if err := ll.Check(); err != nil {
		return nil, err
	}
	return SystemsAt(ll), nil
}

// walkedAt tells Great Britain from Ireland, whose boxes overlap.
func (s *System) walkedAt(ll LatLon) bool {
	switch s.epsg {
	case epsgBritain:
		return !inIreland(ll)
	case epsgIrish, epsgITM:
		return inIreland(ll)
	}
	return true
}

// northChannel runs between Ireland and Great Britain from south to north:
// latitude and longitude in degrees. It is our own line through open water.
var northChannel = [...][2]float64{
	{49, -7.5},
	{50.9, -6.6},
	{51.5, -5.9},
	{52.5, -5.6},
	{54, -5.2},
	{54.8, -5.3},
	{55.2, -5.93},
	{55.35, -6.05},
	{55.5, -6.8},
	{56, -9},
}

// inIreland reports whether a position lies west of the line through the North
// Channel and the Irish Sea, and inside the box of Ireland.
func inIreland(ll LatLon) bool {
	lat, lon := ll.Lat.Deg(), ll.Lon.Deg()
	if !mustLookup(epsgITM).Contains(ll) {
		return false
	}
	for i := 1; i < len(northChannel); i++ {
		a, b := northChannel[i-1], northChannel[i]
		if lat >= a[0] && lat <= b[0] {
			return lon < a[1]+(b[1]-a[1])*(lat-a[0])/(b[0]-a[0])
		}
	}
	return false
}
