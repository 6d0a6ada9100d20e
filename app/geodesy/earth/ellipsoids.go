package earth

// knownEllipsoid is an ellipsoid with its EPSG code and its name in PROJ ("proj
// -le" lists them), or 0 and "".
type knownEllipsoid struct {
	code int
	proj string
	Ellipsoid
}

func knownEllipsoids() []knownEllipsoid {
	byRadii := func(a, b float64, name string) Ellipsoid { return Ellipsoid{a, a / (a - b), name} }
	return []knownEllipsoid{
		{7030, "WGS84", WGS84()},
		{7019, "GRS80", GRS80()},
		{7001, "airy", Airy1830()},
		{7002, "mod_airy", AiryModified()},
		{7004, "bessel", Bessel1841()},
		{7022, "intl", International1924()},
		{7008, "clrk66", Clarke1866()},
		{0, "bess_nam", Ellipsoid{6377483.865, 299.1528128, "Bessel Namibia"}},
		{7012, "", Ellipsoid{6378249.145, 293.465, "Clarke 1880 (RGS)"}},
		{0, "clrk80", Ellipsoid{6378249.145, 293.4663, "Clarke 1880 mod."}},
		{7011, "clrk80ign", Ellipsoid{6378249.2, 293.4660212936269, "Clarke 1880 (IGN)"}},
		{7003, "aust_SA", Ellipsoid{6378160, 298.25, "Australian National"}},
		{7036, "GRS67", Ellipsoid{6378160, 298.2471674270, "GRS 1967"}},
		{7024, "krass", Ellipsoid{6378245, 298.3, "Krassovsky 1940"}},
		{0, "helmert", Ellipsoid{6378200, 298.3, "Helmert 1906"}},
		{0, "hough", Ellipsoid{6378270, 297, "Hough"}},
		{0, "evrst30", Ellipsoid{6377276.345, 300.8017, "Everest 1830"}},
		{0, "evrst48", Ellipsoid{6377304.063, 300.8017, "Everest 1948"}},
		{0, "evrst56", Ellipsoid{6377301.243, 300.8017, "Everest 1956"}},
		{0, "evrst69", Ellipsoid{6377295.664, 300.8017, "Everest 1969"}},
		{0, "evrstSS", Ellipsoid{6377298.556, 300.8017, "Everest (Sabah and Sarawak)"}},
		{0, "PZ90", Ellipsoid{6378136, 298.25784, "PZ-90"}},
		{7043, "WGS72", Ellipsoid{6378135, 298.26, "WGS 72"}},
		{0, "WGS66", Ellipsoid{6378145, 298.25, "WGS 66"}},
		{0, "danish", Ellipsoid{6377019.2563, 300, "Andrae 1876"}},
		{0, "new_intl", byRadii(6378157.5, 6356772.2, "New International 1967")},
		{0, "SEasia", byRadii(6378155, 6356773.3205, "Southeast Asia")},
		{0, "walbeck", byRadii(6376896, 6355834.8467, "Walbeck")},
	}
}

// EllipsoidByProj returns the ellipsoid of a name in PROJ strings.
func EllipsoidByProj(name string) (Ellipsoid, bool) {
	for _, e := range knownEllipsoids() {
		if name != "" && e.proj == name {
			return e.Ellipsoid, true
		}
	}
	return Ellipsoid{}, false
}

// EllipsoidByCode returns the ellipsoid of an EPSG code; ok is false for an unknown
// code.
func EllipsoidByCode(code int) (e Ellipsoid, ok bool) {
	for _, known := range knownEllipsoids() {
		if code != 0 && known.code == code {
			return known.Ellipsoid, true
		}
	}
	return Ellipsoid{}, false
}
