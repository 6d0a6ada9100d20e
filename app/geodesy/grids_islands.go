package geodesy

// islandGrids returns the grids of Great Britain, Ireland, New Zealand and
// Iceland. Projection figures and areas of use here and in the other lists are
// those of the EPSG dataset.
func islandGrids() []*System {
	return []*System{britishGrid(), irishTM(), irishGrid(), newZealandTM(), icelandLambert()}
}

func britishGrid() *System {
	return &System{
		epsg: epsgBritain, own: 4277, name: "British National Grid", country: "Great Britain",
		words:     []string{"united kingdom", "england", "scotland", "wales", "isle of man", "osgb36", "uk"},
		ellipsoid: Airy1830(),
		proj:      newTransverseMercator(Airy1830(), britishTM()),
		datum:     newOSTN(),
		area:      area{{49.75, -9, 61.01, 2.01}},
		areaWords: "Great Britain and the Isle of Man, with the sea around them",
		refs:      britishLetters{},
	}
}

func irishGrid() *System {
	return &System{
		epsg: epsgIrish, own: 4300, name: "Irish Grid", country: "Ireland",
		words:     []string{"northern ireland", "tm75", "ulster"},
		ellipsoid: AiryModified(),
		proj:      newTransverseMercator(AiryModified(), tmParams{53.5, -8, 1.000035, 200000, 250000}),
		datum:     irelandHelmert(),
		area:      area{{51.39, -10.56, 55.43, -5.34}},
		areaWords: "Ireland, all of the island",
		refs:      irishLetters{},
	}
}

func irishTM() *System {
	return &System{
		epsg: epsgITM, own: 4173, name: "Irish Transverse Mercator", country: "Ireland",
		words:     []string{"northern ireland", "itm", "irenet95", "ulster"},
		ellipsoid: GRS80(),
		proj:      newTransverseMercator(GRS80(), tmParams{53.5, -8, 0.99982, 600000, 750000}),
		datum:     sameDatum{"IRENET95", nullShiftSigmaM},
		area:      area{{51.39, -10.56, 55.43, -5.34}},
		areaWords: "Ireland, all of the island",
		refs:      plainOnly{},
	}
}

func newZealandTM() *System {
	return &System{
		epsg: epsgNZTM, own: 4167, name: "New Zealand Transverse Mercator", country: "New Zealand",
		words:     []string{"nztm", "nzgd2000", "aotearoa"},
		ellipsoid: GRS80(),
		proj:      newTransverseMercator(GRS80(), tmParams{0, 173, 0.9996, 1600000, 10000000}),
		datum:     sameDatum{"NZGD2000", nullShiftSigmaM},
		area:      area{{-47.33, 166.37, -34.1, 178.63}},
		areaWords: "New Zealand: North, South and Stewart Island",
		refs:      plainOnly{newZealand: true},
	}
}

func icelandLambert() *System {
	return &System{
		epsg: 3057, own: 4659, name: "Iceland Lambert 1993", country: "Iceland",
		words:     []string{"isn93", "island", "lambert conformal conic"},
		ellipsoid: GRS80(),
		proj:      newLambertConic(GRS80(), conicParams{65, -19, 64.25, 65.75, 1, 500000, 500000}),
		datum:     sameDatum{"ISN93", nullShiftSigmaM},
		area:      area{{59.96, -30.87, 69.59, -5.55}},
		areaWords: "Iceland and the sea around it",
		refs:      plainOnly{},
	}
}
