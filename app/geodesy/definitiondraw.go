package geodesy

import (
	"fmt"
	"math"
)

// projection returns the formulas of a definition that passed check.
func (def *Definition) projection() projection {
	ell := def.Ellipsoid
	tm := tmParams{def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN}
	switch def.Family {
	case FamilyTM:
		return newTransverseMercator(ell, tm)
	case FamilyConic:
		return newLambertConic(ell, conicParams{def.Lat0, def.Lon0, def.Lat1, def.Lat2, def.K0, def.FalseE, def.FalseN})
	case FamilyEqual:
		return newLambertAzimuthal(ell, azimuthalParams{def.Lat0, def.Lon0, def.FalseE, def.FalseN})
	case FamilySwiss:
		return newSwissMercator(ell, tm)
	case FamilyMercator:
		return newMercator(ell, mercatorParams{def.Lon0, def.LatTS, def.K0, def.FalseE, def.FalseN})
	case FamilyWeb:
		return newWebMercator(ell, def.Lon0, def.FalseE, def.FalseN)
	case FamilyPolar:
		return newPolarStereographic(ell, polarParams{def.Lat0 > 0, def.Lon0, def.K0 * polarScale(ell, def.LatTS), def.FalseE, def.FalseN})
	}
	return newEquirectangular(ell, def.Lon0)
}

func (def *Definition) name() string {
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

// area is where the projection is usable for walking: our own bounds, because a
// definition has none.
func (def *Definition) area() (area, string) {
	band := func(south, north, half float64) area {
		if half >= 180 {
			return area{{south, -180, north, 180}}
		}
		return area{{south, wrapDeg(def.Lon0 - half), north, wrapDeg(def.Lon0 + half)}}
	}
	switch def.Family {
	case FamilyTM:
		return band(-89, 89, 9), "within 9° of longitude of " + meridianExact(def.Lon0) + ", as far as its scale serves"
	case FamilyConic:
		lo, hi := math.Min(def.Lat1, def.Lat2)-10, math.Max(def.Lat1, def.Lat2)+10
		return band(math.Max(lo, -89), math.Min(hi, 89), 75), fmt.Sprintf("from %s to %s, as far as its scale serves", parallel(math.Max(lo, -89)), parallel(math.Min(hi, 89)))
	case FamilyEqual:
		return band(math.Max(def.Lat0-30, -90), math.Min(def.Lat0+30, 90), 60), "within some 30° of its centre"
	case FamilySwiss:
		return band(math.Max(def.Lat0-5, -89), math.Min(def.Lat0+5, 89), 12), "along the great circle through its centre, as far as its scale serves"
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
