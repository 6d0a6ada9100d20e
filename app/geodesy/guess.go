package geodesy

// SystemsAt returns the grids that serve a WGS 84 place, the likeliest for
// walking first: a country's own where there is one, and always the UTM zone
// or UPS. The place must pass Check. The areas are taken as if they were on
// WGS 84, which is right to 200 m.
func SystemsAt(ll LatLon) []*System {
	var found []*System
	for _, epsg := range [...]int{epsgBritain, epsgITM, epsgIrish, epsgNZTM} {
		s := mustLookup(epsg)
		if !s.Contains(ll) {
			continue
		}
		if irish := epsg == epsgITM || epsg == epsgIrish; epsg == epsgNZTM || irish == inIreland(ll) {
			found = append(found, s)
		}
	}
	zone, north := UTMZoneFor(ll)
	return append(found, UTM(zone, north))
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

// inIreland reports whether a place lies west of the line through the North
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
