package geodesy

import (
	"fmt"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// europeanGrids returns the grids of single countries of the continent, then
// those of the whole of it.
func europeanGrids() []*System {
	list := []*System{frenchLambert(), belgianLambert08(), belgianLambert72(), swissLV95(), swissLV03(), swedishTM(), finnishTM()}
	for zone := 2; zone <= 5; zone++ {
		list = append(list, germanZone(zone))
	}
	return append(list, europeConic(), europeEqualArea())
}

func frenchLambert() *System {
	return &System{
		epsg: 2154, own: 4171, name: "Lambert-93", country: "France",
		words:     []string{"rgf93", "corsica", "corse", "lambert conformal conic"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewLambertConic(earth.GRS80(), proj.ConicParams{Lat0: 46.5, Lon0: 3, Lat1: 49, Lat2: 44, K0: 1, FalseE: 700000, FalseN: 6600000}),
		datum:     datum.Like{Name: "RGF93", SigmaM: datum.LikeSigmaM},
		area:      earth.AreaOf([4]float64{41.15, -9.86, 51.56, 10.38}),
		areaWords: "France with Corsica, and the sea around it",
		refs:      plainOnly{},
	}
}

func belgianLambert08() *System {
	return &System{
		epsg: 3812, own: 4258, name: "Belgian Lambert 2008", country: "Belgium",
		words:     []string{"belgie", "belgique", "etrs89", "lambert conformal conic"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewLambertConic(earth.GRS80(), proj.ConicParams{Lat0: 50.797815, Lon0: 4.359215833333333, Lat1: 49.833333333333333, Lat2: 51.166666666666667, K0: 1, FalseE: 649328, FalseN: 665262}),
		datum:     datum.ETRS89(),
		area:      earth.AreaOf([4]float64{49.5, 2.5, 51.51, 6.4}),
		areaWords: "Belgium",
		refs:      plainOnly{},
	}
}

func belgianLambert72() *System {
	return &System{
		epsg: 31370, own: 4313, name: "Belgian Lambert 72", country: "Belgium",
		words:     []string{"belgie", "belgique", "bd72", "lambert conformal conic"},
		ellipsoid: earth.International1924(),
		proj:      proj.NewLambertConic(earth.International1924(), proj.ConicParams{Lat0: 90, Lon0: 4.367486666666666, Lat1: 51.16666723333333, Lat2: 49.8333339, K0: 1, FalseE: 150000.013, FalseN: 5400088.438}),
		datum:     datum.BelgianHelmert(),
		area:      earth.AreaOf([4]float64{49.5, 2.5, 51.51, 6.4}),
		areaWords: "Belgium",
		refs:      plainOnly{},
	}
}

// swissCentre is the old observatory of Bern, 46°57'08.66" N 7°26'22.50" E.
func swissCentre(falseE, falseN float64) proj.TMParams {
	return proj.TMParams{Lat0: 46.952405555555556, Lon0: 7.439583333333333, K0: 1, FalseE: falseE, FalseN: falseN}
}

func swissLV95() *System {
	return &System{
		epsg: 2056, own: 4150, name: "Swiss grid LV95", country: "Switzerland",
		words:     []string{"liechtenstein", "ch1903+", "schweiz", "suisse", "svizzera", "oblique mercator"},
		ellipsoid: earth.Bessel1841(),
		proj:      proj.NewSwissMercator(earth.Bessel1841(), swissCentre(2600000, 1200000)),
		datum:     datum.SwissShift(datum.LikeSigmaM),
		area:      earth.AreaOf([4]float64{45.82, 5.96, 47.81, 10.49}),
		areaWords: "Switzerland and Liechtenstein",
		refs:      plainOnly{},
	}
}

func swissLV03() *System {
	return &System{
		epsg: 21781, own: 4149, name: "Swiss grid LV03", country: "Switzerland",
		words:     []string{"liechtenstein", "ch1903", "schweiz", "suisse", "svizzera", "oblique mercator"},
		ellipsoid: earth.Bessel1841(),
		proj:      proj.NewSwissMercator(earth.Bessel1841(), swissCentre(600000, 200000)),
		datum:     datum.SwissShift(0.75),
		area:      earth.AreaOf([4]float64{45.82, 5.96, 47.81, 10.49}),
		areaWords: "Switzerland and Liechtenstein",
		refs:      plainOnly{},
	}
}

func swedishTM() *System {
	return &System{
		epsg: 3006, own: 4619, name: "SWEREF 99 TM", country: "Sweden",
		words:     []string{"sverige", "sweref99"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewTransverseMercator(earth.GRS80(), proj.UTMParams(33, true)),
		datum:     datum.Like{Name: "SWEREF 99", SigmaM: datum.LikeSigmaM},
		area:      earth.AreaOf([4]float64{54.96, 10.03, 69.07, 24.17}),
		areaWords: "Sweden and the sea around it",
		refs:      plainOnly{},
	}
}

func finnishTM() *System {
	return &System{
		epsg: 3067, own: 4258, name: "ETRS-TM35FIN", country: "Finland",
		words:     []string{"suomi", "euref-fin", "etrs89", "tm35"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewTransverseMercator(earth.GRS80(), proj.UTMParams(35, true)),
		datum:     datum.ETRS89(),
		area:      earth.AreaOf([4]float64{58.84, 19.08, 70.09, 31.59}),
		areaWords: "Finland and the sea around it",
		refs:      plainOnly{},
	}
}

// germanZone returns a zone of three degrees of the Gauss-Krüger grid, 2 to 5.
func germanZone(zone int) *System {
	places := [...][4]float64{
		{49.11, 5.86, 53.81, 7.5},
		{47.27, 7.5, 55.09, 10.51},
		{47.39, 10.5, 54.59, 13.51},
		{48.51, 13.5, 48.98, 13.84},
	}
	return &System{
		epsg: 31464 + zone, own: 4314, name: fmt.Sprintf("Gauss-Krüger zone %d", zone), country: "Germany",
		words:     []string{"gauss-kruger", "gauss-krueger", "dhdn", "deutschland"},
		ellipsoid: earth.Bessel1841(),
		proj: proj.NewTransverseMercator(earth.Bessel1841(), proj.TMParams{
			Lon0: float64(3 * zone), K0: 1, FalseE: float64(zone)*1e6 + 500000,
		}),
		datum:     datum.GermanHelmert(),
		area:      earth.AreaOf(places[zone-2]),
		areaWords: fmt.Sprintf("western Germany around %s", meridian(float64(3*zone))),
		refs:      plainOnly{},
	}
}

const (
	europeWords = "Europe from the Azores to the Caucasus"
	equalBends  = "this grid preserves areas, not angles: away from its middle a bearing measured on the sheet is wrong by up to several degrees. The program corrects for this, but do not measure on the sheet yourself"
)

func europeConic() *System {
	return &System{
		epsg: 3034, own: 4258, name: "LCC Europe", country: "Europe",
		words:     []string{"etrs89", "lambert conformal conic"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewLambertConic(earth.GRS80(), proj.ConicParams{Lat0: 52, Lon0: 10, Lat1: 35, Lat2: 65, K0: 1, FalseE: 4000000, FalseN: 2800000}),
		datum:     datum.ETRS89(),
		area:      earth.AreaOf([4]float64{24.6, -35.58, 84.73, 44.83}),
		areaWords: europeWords, rank: rankWide,
		refs: plainOnly{},
	}
}

func europeEqualArea() *System {
	return &System{
		epsg: 3035, own: 4258, name: "LAEA Europe", country: "Europe",
		words:     []string{"etrs89", "lambert azimuthal equal area"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewLambertAzimuthal(earth.GRS80(), proj.AzimuthalParams{Lat0: 52, Lon0: 10, FalseE: 4321000, FalseN: 3210000}),
		datum:     datum.ETRS89(),
		area:      earth.AreaOf([4]float64{24.6, -35.58, 84.73, 44.83}),
		areaWords: europeWords, rank: rankWide, bends: equalBends,
		refs: plainOnly{},
	}
}

// etrsZones returns the UTM zones of Europe on ETRS89, 28 to 38.
func etrsZones() []*System {
	places := [...][4]float64{
		{34.93, -16.1, 72.44, -11.99},
		{34.91, -12, 74.13, -6},
		{35.26, -6, 80.49, 0.01},
		{37, 0, 82.45, 6.01},
		{38.76, 6, 84.33, 12.01},
		{46.4, 12, 84.42, 18.01},
		{58.84, 17.99, 84.54, 24.01},
		{59.64, 24, 84.73, 30.01},
		{61.73, 30, 84.7, 36.01},
		{72.99, 36, 79.07, 38.01},
		{37, 42, 41.65, 48},
	}
	words := [...]string{
		"spain canary islands", "portugal spain ireland", "spain united kingdom", "belgium netherlands spain andorra france",
		"germany austria denmark norway italy luxembourg", "germany austria poland denmark norway svalbard czechia",
		"finland norway poland slovakia", "finland norway", "finland norway", "norway svalbard", "caucasus",
	}
	var list []*System
	for i, b := range places {
		s := utmLike(28+i, true, earth.GRS80(), "ETRS89")
		s.epsg, s.own, s.country, s.datum = 25828+i, 4258, "Europe", datum.ETRS89()
		s.words = append(s.words, words[i])
		s.area, s.areaWords = earth.AreaOf(b), "Europe "+s.areaWords
		if 28+i == 32 { // western Norway, as in UTM
			s.area = append(s.area, earth.Box{South: 56, West: 3, North: 64, East: 6})
		}
		s.rank = rankZone
		list = append(list, s)
	}
	return list
}

// norwayZones returns the narrow zones of Norway, NTM 5 to 30.
func norwayZones() []*System {
	places := [...][4]float64{
		{58.32, 4.68, 62.49, 6},
		{57.93, 6, 63.02, 7},
		{57.93, 7, 63.52, 8},
		{58.03, 8, 63.87, 9},
		{58.52, 9, 64.16, 10},
		{58.9, 10, 65.04, 11},
		{58.88, 11, 65.76, 12},
		{59.88, 12, 68.15, 13},
		{64.01, 13, 68.37, 14},
		{64.03, 14, 69.05, 15},
		{66.14, 15, 69.35, 16},
		{66.88, 16, 69.45, 17},
		{67.94, 17, 69.68, 18},
		{68.04, 18, 70.27, 19},
		{68.33, 19, 70.34, 20},
		{68.37, 20, 70.29, 21},
		{69.03, 21, 70.71, 22},
		{68.69, 22, 70.81, 23},
		{68.62, 23, 71.08, 24},
		{68.58, 24, 71.16, 25},
		{68.59, 25, 71.21, 26},
		{69.71, 26, 71.17, 27},
		{69.9, 27, 71.17, 28},
		{69.03, 28, 71.13, 29},
		{69.02, 29, 70.93, 30},
		{69.46, 30, 70.77, 31.22},
	}
	var list []*System
	for i, b := range places {
		zone := 5 + i
		list = append(list, &System{
			epsg: 5105 + i, own: 4258, name: fmt.Sprintf("NTM zone %d", zone), country: "Norway",
			words:     []string{"norge", "norsk", "etrs89"},
			ellipsoid: earth.GRS80(),
			proj:      proj.NewTransverseMercator(earth.GRS80(), proj.TMParams{Lat0: 58, Lon0: float64(zone) + 0.5, K0: 1, FalseE: 100000, FalseN: 1000000}),
			datum:     datum.ETRS89(), area: earth.AreaOf(b),
			areaWords: fmt.Sprintf("Norway from %s to %s", meridian(b[1]), meridian(b[3])),
			refs:      plainOnly{}, rank: rankSpare,
		})
	}
	return list
}
