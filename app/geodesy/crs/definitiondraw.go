package crs

import (
	"fmt"
	"math"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// Projection returns the projection of a definition that passed Check.
func (def *Definition) Projection() proj.Projection {
	ell := def.Ellipsoid
	tm := proj.TMParams{Lat0: def.Lat0, Lon0: def.Lon0, K0: def.K0, FalseE: def.FalseE, FalseN: def.FalseN}
	switch def.Family {
	case FamilyTM:
		return proj.NewTransverseMercator(ell, tm)
	case FamilyConic:
		return proj.NewLambertConic(ell, proj.ConicParams{Lat0: def.Lat0, Lon0: def.Lon0, Lat1: def.Lat1, Lat2: def.Lat2, K0: def.K0, FalseE: def.FalseE, FalseN: def.FalseN})
	case FamilyEqual:
		return proj.NewLambertAzimuthal(ell, proj.AzimuthalParams{Lat0: def.Lat0, Lon0: def.Lon0, FalseE: def.FalseE, FalseN: def.FalseN})
	case FamilySwiss:
		return proj.NewSwissMercator(ell, tm)
	case FamilyMercator:
		return proj.NewMercator(ell, proj.MercatorParams{Lon0: def.Lon0, LatTS: def.LatTS, K0: def.K0, FalseE: def.FalseE, FalseN: def.FalseN})
	case FamilyWeb:
		return proj.NewWebMercator(ell, def.Lon0, def.FalseE, def.FalseN)
	case FamilyPolar:
		return proj.NewPolarStereographic(ell, proj.PolarParams{North: def.Lat0 > 0, Lon0: def.Lon0, K0: def.K0 * proj.PolarScale(ell, def.LatTS), FalseE: def.FalseE, FalseN: def.FalseN})
	}
	return proj.NewEquirectangular(ell, def.Lon0)
}

// DisplayName is the title, or else describes the definition for people.
func (def *Definition) DisplayName() string {
	if def.Title != "" {
		return def.Title
	}
	if def.Family == FamilyLatLon {
		return "Latitude and longitude on " + def.Ellipsoid.Name
	}
	return fmt.Sprintf("%s at %s, %s", def.Family.words(), parallel(def.Lat0), meridianExact(def.Lon0))
}

func parallel(lat float64) string {
	if lat < 0 {
		return fmt.Sprintf("%.6g° S", -lat)
	}
	return fmt.Sprintf("%.6g° N", lat)
}

func meridianExact(lon float64) string {
	if lon < 0 {
		return fmt.Sprintf("%.6g° W", -lon)
	}
	return fmt.Sprintf("%.6g° E", lon)
}

// Area is where the projection is usable for walking: our own bounds, because a
// definition has none.
func (def *Definition) Area() (earth.Area, string) {
	band := func(south, north, half float64) earth.Area {
		if half >= 180 {
			return earth.AreaOf([4]float64{south, -180, north, 180})
		}
		return earth.AreaOf([4]float64{south, earth.WrapDeg(def.Lon0 - half), north, earth.WrapDeg(def.Lon0 + half)})
	}
	switch def.Family {
	case FamilyTM:
		return band(-89, 89, 9), "within 9° of longitude of " + meridianExact(def.Lon0) + ", where its scale is usable"
	case FamilyConic:
		lo, hi := math.Min(def.Lat1, def.Lat2)-10, math.Max(def.Lat1, def.Lat2)+10
		return band(math.Max(lo, -89), math.Min(hi, 89), 75), fmt.Sprintf("from %s to %s, where its scale is usable", parallel(math.Max(lo, -89)), parallel(math.Min(hi, 89)))
	case FamilyEqual:
		return band(math.Max(def.Lat0-30, -90), math.Min(def.Lat0+30, 90), 60), "within about 30° of its centre"
	case FamilySwiss:
		return band(math.Max(def.Lat0-5, -89), math.Min(def.Lat0+5, 89), 12), "along the great circle through its centre, where its scale is usable"
	case FamilyPolar:
		if def.Lat0 > 0 {
			return band(50, 90, 180), "the Arctic north of 50° N"
		}
		return band(-90, -50, 180), "the Antarctic south of 50° S"
	case FamilyMercator, FamilyWeb:
		return band(-85.06, 85.06, 180), "the world between 85° S and 85° N"
	}
	return band(-90, 90, 180), "the world"
}
