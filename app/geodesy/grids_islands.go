package geodesy

import (
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// islandGrids returns the grids of Great Britain, Ireland, New Zealand and
// Iceland. Projection parameters and areas of use here and in the other lists are
// those of the EPSG dataset.
func islandGrids() []*System {
	return []*System{britishGrid(), irishTM(), irishGrid(), newZealandTM(), icelandLambert()}
}

func britishGrid() *System {
	return &System{
		epsg: epsgBritain, own: 4277, name: "British National Grid", country: "Great Britain",
		words:     []string{"united kingdom", "england", "scotland", "wales", "isle of man", "osgb36", "uk"},
		ellipsoid: earth.Airy1830(),
		proj:      proj.NewTransverseMercator(earth.Airy1830(), datum.BritishTM()),
		datum:     datum.NewOSTN(),
		area:      earth.AreaOf([4]float64{49.75, -9, 61.01, 2.01}),
		areaWords: "Great Britain and the Isle of Man, with the sea around them",
		refs:      britishLetters{},
	}
}

func irishGrid() *System {
	return &System{
		epsg: epsgIrish, own: 4300, name: "Irish Grid", country: "Ireland",
		words:     []string{"northern ireland", "tm75", "ulster"},
		ellipsoid: earth.AiryModified(),
		proj:      proj.NewTransverseMercator(earth.AiryModified(), proj.TMParams{Lat0: 53.5, Lon0: -8, K0: 1.000035, FalseE: 200000, FalseN: 250000}),
		datum:     datum.IrelandHelmert(),
		area:      earth.AreaOf([4]float64{51.39, -10.56, 55.43, -5.34}),
		areaWords: "the whole island of Ireland",
		refs:      irishLetters{},
	}
}

func irishTM() *System {
	return &System{
		epsg: epsgITM, own: 4173, name: "Irish Transverse Mercator", country: "Ireland",
		words:     []string{"northern ireland", "itm", "irenet95", "ulster"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewTransverseMercator(earth.GRS80(), proj.TMParams{Lat0: 53.5, Lon0: -8, K0: 0.99982, FalseE: 600000, FalseN: 750000}),
		datum:     datum.Like{Name: "IRENET95", SigmaM: datum.LikeSigmaM},
		area:      earth.AreaOf([4]float64{51.39, -10.56, 55.43, -5.34}),
		areaWords: "the whole island of Ireland",
		refs:      plainOnly{},
	}
}

func newZealandTM() *System {
	return &System{
		epsg: epsgNZTM, own: 4167, name: "New Zealand Transverse Mercator", country: "New Zealand",
		words:     []string{"nztm", "nzgd2000", "aotearoa"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewTransverseMercator(earth.GRS80(), proj.TMParams{Lat0: 0, Lon0: 173, K0: 0.9996, FalseE: 1600000, FalseN: 10000000}),
		datum:     datum.Like{Name: "NZGD2000", SigmaM: datum.LikeSigmaM},
		area:      earth.AreaOf([4]float64{-47.33, 166.37, -34.1, 178.63}),
		areaWords: "New Zealand: North, South and Stewart Islands",
		refs:      plainOnly{newZealand: true},
	}
}

func icelandLambert() *System {
	return &System{
		epsg: 3057, own: 4659, name: "Iceland Lambert 1993", country: "Iceland",
		words:     []string{"isn93", "island", "lambert conformal conic"},
		ellipsoid: earth.GRS80(),
		proj:      proj.NewLambertConic(earth.GRS80(), proj.ConicParams{Lat0: 65, Lon0: -19, Lat1: 64.25, Lat2: 65.75, K0: 1, FalseE: 500000, FalseN: 500000}),
		datum:     datum.Like{Name: "ISN93", SigmaM: datum.LikeSigmaM},
		area:      earth.AreaOf([4]float64{59.96, -30.87, 69.59, -5.55}),
		areaWords: "Iceland and the sea around it",
		refs:      plainOnly{},
	}
}
