package geodesy

import (
	"legwright/app/geodesy/crs"
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

const (
	epsgWebMercator = 3857
	epsgLatLon      = 4326
)

// utmZones returns the 120 zones of UTM on WGS 84.
func utmZones() []*System {
	var list []*System
	for _, north := range [...]bool{true, false} {
		for zone := 1; zone <= 60; zone++ {
			list = append(list, newUTM(zone, north))
		}
	}
	return list
}

// worldGrids returns the grids around the poles, and those of pictures of the
// whole world, which bend bearings.
func worldGrids() []*System {
	return []*System{newUPSSystem(true), newUPSSystem(false), webMercatorGrid(), latLonGrid()}
}

func webMercatorGrid() *System {
	return &System{
		epsg: epsgWebMercator, own: epsgLatLon, name: "Web Mercator", country: "World",
		words:     []string{"pseudo-mercator", "spherical mercator", "web tiles"},
		ellipsoid: WGS84(), datum: datum.Like{},
		proj:      proj.NewWebMercator(WGS84(), 0, 0, 0),
		area:      earth.AreaOf([4]float64{-85.06, -180, 85.06, 180}),
		areaWords: "the world between 85° S and 85° N", rank: rankWide,
		bends: "Web Mercator stretches distances more the farther you are from the equator, and bends angles by up to 0.2°. The program corrects for both, but do not measure on the sheet yourself",
		refs:  plainOnly{},
	}
}

// latLonGrid is the grid of a picture whose columns are degrees of longitude
// and whose rows are degrees of latitude. Its coordinates are metres along the
// equator, its printed figures degrees.
func latLonGrid() *System {
	return &System{
		epsg: epsgLatLon, own: epsgLatLon, name: "Latitude and longitude", country: "World",
		words:     []string{"equirectangular", "plate carree", "wgs 84", "lat lon", "degrees"},
		ellipsoid: WGS84(), datum: datum.Like{},
		proj: proj.NewEquirectangular(WGS84(), 0),
		unit: crs.DegreeUnit(WGS84()), area: earth.AreaOf([4]float64{-90, -180, 90, 180}),
		areaWords: "the world", rank: rankWide,
		bends: "on a picture ruled in degrees a kilometre east is drawn longer than one north, so no angle on it is true. The program corrects bearings and distances for this, but do not measure them on the sheet yourself",
		refs:  plainOnly{},
	}
}
