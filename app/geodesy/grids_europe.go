package geodesy

import "fmt"

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
		ellipsoid: GRS80(),
		proj:      newLambertConic(GRS80(), conicParams{46.5, 3, 49, 44, 1, 700000, 6600000}),
		datum:     sameDatum{"RGF93", nullShiftSigmaM},
		area:      area{{41.15, -9.86, 51.56, 10.38}},
		areaWords: "France with Corsica, and the sea around it",
		refs:      plainOnly{},
	}
}

func belgianLambert08() *System {
	return &System{
		epsg: 3812, own: 4258, name: "Belgian Lambert 2008", country: "Belgium",
		words:     []string{"belgie", "belgique", "etrs89", "lambert conformal conic"},
		ellipsoid: GRS80(),
		proj:      newLambertConic(GRS80(), conicParams{50.797815, 4.359215833333333, 49.833333333333333, 51.166666666666667, 1, 649328, 665262}),
		datum:     etrs89(),
		area:      area{{49.5, 2.5, 51.51, 6.4}},
		areaWords: "Belgium",
		refs:      plainOnly{},
	}
}

func belgianLambert72() *System {
	return &System{
		epsg: 31370, own: 4313, name: "Belgian Lambert 72", country: "Belgium",
		words:     []string{"belgie", "belgique", "bd72", "lambert conformal conic"},
		ellipsoid: International1924(),
		proj:      newLambertConic(International1924(), conicParams{90, 4.367486666666666, 51.16666723333333, 49.8333339, 1, 150000.013, 5400088.438}),
		datum:     belgianHelmert(),
		area:      area{{49.5, 2.5, 51.51, 6.4}},
		areaWords: "Belgium",
		refs:      plainOnly{},
	}
}

// swissCentre is the old observatory of Bern, 46°57'08.66" N 7°26'22.50" E.
func swissCentre(falseE, falseN float64) tmParams {
	return tmParams{46.952405555555556, 7.439583333333333, 1, falseE, falseN}
}

func swissLV95() *System {
	return &System{
		epsg: 2056, own: 4150, name: "Swiss grid LV95", country: "Switzerland",
		words:     []string{"liechtenstein", "ch1903+", "schweiz", "suisse", "svizzera", "oblique mercator"},
		ellipsoid: Bessel1841(),
		proj:      newSwissMercator(Bessel1841(), swissCentre(2600000, 1200000)),
		datum:     swissShift(nullShiftSigmaM),
		area:      area{{45.82, 5.96, 47.81, 10.49}},
		areaWords: "Switzerland and Liechtenstein",
		refs:      plainOnly{},
	}
}

func swissLV03() *System {
	return &System{
		epsg: 21781, own: 4149, name: "Swiss grid LV03", country: "Switzerland",
		words:     []string{"liechtenstein", "ch1903", "schweiz", "suisse", "svizzera", "oblique mercator"},
		ellipsoid: Bessel1841(),
		proj:      newSwissMercator(Bessel1841(), swissCentre(600000, 200000)),
		datum:     swissShift(0.75),
		area:      area{{45.82, 5.96, 47.81, 10.49}},
		areaWords: "Switzerland and Liechtenstein",
		refs:      plainOnly{},
	}
}

func swedishTM() *System {
	return &System{
		epsg: 3006, own: 4619, name: "SWEREF 99 TM", country: "Sweden",
		words:     []string{"sverige", "sweref99"},
		ellipsoid: GRS80(),
		proj:      newTransverseMercator(GRS80(), utmParams(33, true)),
		datum:     sameDatum{"SWEREF 99", nullShiftSigmaM},
		area:      area{{54.96, 10.03, 69.07, 24.17}},
		areaWords: "Sweden and the sea around it",
		refs:      plainOnly{},
	}
}

func finnishTM() *System {
	return &System{
		epsg: 3067, own: 4258, name: "ETRS-TM35FIN", country: "Finland",
		words:     []string{"suomi", "euref-fin", "etrs89", "tm35"},
		ellipsoid: GRS80(),
		proj:      newTransverseMercator(GRS80(), utmParams(35, true)),
		datum:     etrs89(),
		area:      area{{58.84, 19.08, 70.09, 31.59}},
		areaWords: "Finland and the sea around it",
		refs:      plainOnly{},
	}
}

// germanZone returns a zone of three degrees of the Gauss-Krüger grid, 2 to 5.
func germanZone(zone int) *System {
	places := [...]box{
		{49.11, 5.86, 53.81, 7.5},
		{47.27, 7.5, 55.09, 10.51},
		{47.39, 10.5, 54.59, 13.51},
		{48.51, 13.5, 48.98, 13.84},
	}
	return &System{
		epsg: 31464 + zone, own: 4314, name: fmt.Sprintf("Gauss-Krüger zone %d", zone), country: "Germany",
		words:     []string{"gauss-kruger", "gauss-krueger", "dhdn", "deutschland"},
		ellipsoid: Bessel1841(),
		proj: newTransverseMercator(Bessel1841(), tmParams{
			lon0: float64(3 * zone), k0: 1, falseE: float64(zone)*1e6 + 500000,
		}),
		datum:     germanHelmert(),
		area:      area{places[zone-2]},
		areaWords: fmt.Sprintf("western Germany around %s", meridian(float64(3*zone))),
		refs:      plainOnly{},
	}
}

const (
	europeWords = "Europe from the Azores to the Caucasus"
	equalBends  = "this grid keeps areas, not angles: off its middle a bearing measured on the sheet is wrong by up to several degrees"
)

func europeConic() *System {
	return &System{
		epsg: 3034, own: 4258, name: "LCC Europe", country: "Europe",
		words:     []string{"etrs89", "lambert conformal conic"},
		ellipsoid: GRS80(),
		proj:      newLambertConic(GRS80(), conicParams{52, 10, 35, 65, 1, 4000000, 2800000}),
		datum:     etrs89(),
		area:      area{{24.6, -35.58, 84.73, 44.83}},
		areaWords: europeWords, rank: rankWide,
		refs: plainOnly{},
	}
}

func europeEqualArea() *System {
	return &System{
		epsg: 3035, own: 4258, name: "LAEA Europe", country: "Europe",
		words:     []string{"etrs89", "lambert azimuthal equal area"},
		ellipsoid: GRS80(),
		proj:      newLambertAzimuthal(GRS80(), azimuthalParams{52, 10, 4321000, 3210000}),
		datum:     etrs89(),
		area:      area{{24.6, -35.58, 84.73, 44.83}},
		areaWords: europeWords, rank: rankWide, bends: equalBends,
		refs: plainOnly{},
	}
}

// etrsZones returns the UTM zones of Europe on ETRS89, 28 to 38.
func etrsZones() []*System {
	places := [...]box{
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
		s := utmLike(28+i, true, GRS80(), "ETRS89")
		s.epsg, s.own, s.country, s.datum = 25828+i, 4258, "Europe", etrs89()
		s.words = append(s.words, words[i])
		s.area, s.areaWords = area{b}, "Europe "+s.areaWords
		if 28+i == 32 { // western Norway, as in UTM
			s.area = append(s.area, box{56, 3, 64, 6})
		}
		s.rank = rankZone
		list = append(list, s)
	}
	return list
}

// norwayZones returns the narrow zones of Norway, NTM 5 to 30.
func norwayZones() []*System {
	places := [...]box{
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
			ellipsoid: GRS80(),
			proj:      newTransverseMercator(GRS80(), tmParams{58, float64(zone) + 0.5, 1, 100000, 1000000}),
			datum:     etrs89(), area: area{b},
			areaWords: fmt.Sprintf("Norway from %s to %s", meridian(b.west), meridian(b.east)),
			refs:      plainOnly{}, rank: rankSpare,
		})
	}
	return list
}
