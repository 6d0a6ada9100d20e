package geodesy

// knownDatum is a datum whose shift to WGS 84 is known here.
type knownDatum struct {
	geographic int    // EPSG code of its latitude and longitude
	proj       string // its name after +datum= in PROJ strings, "" where it has none
	names      string // other names, folded, with spaces between
	ellipsoid  Ellipsoid
	datum      datum
}

// knownDatums returns the datums of the catalogue, then others. Names are
// those of the EPSG dataset and of .prj files.
func knownDatums() []knownDatum {
	likeGRS := func(code int, names, label string, sigmaM float64) knownDatum {
		return knownDatum{code, "", names, GRS80(), sameDatum{label, sigmaM}}
	}
	return append([]knownDatum{
		{epsgLatLon, "WGS84", "wgs84 wgs1984 worldgeodeticsystem1984 worldgeodeticsystem1984ensemble wgsworldgeodeticsystem1984", WGS84(), sameDatum{}},
		{4269, "NAD83", "nad83 northamericandatum1983 northamerican1983", GRS80(), sameDatum{"NAD83", 2}},
		{4267, "NAD27", "nad27 northamericandatum1927 northamerican1927", Clarke1866(), nad27Shifts()},
		{4277, "OSGB36", "osgb36 osgb1936 ordnancesurveyofgreatbritain1936", Airy1830(), throughBritain{}},
		{4314, "potsdam", "dhdn deutscheshauptdreiecksnetz", Bessel1841(), germanHelmert()},
		{4149, "", "ch1903", Bessel1841(), swissShift(0.75)},
		{4150, "", "ch1903+ ch1903plus", Bessel1841(), swissShift(nullShiftSigmaM)},
		{4313, "", "bd72 reseaunationalbelge1972 belge1972", International1924(), belgianHelmert()},
		{4300, "", "tm75 geodeticdatumof1965", AiryModified(), irelandHelmert()},
		likeGRS(4258, "etrs89 etrs1989 europeanterrestrialreferencesystem1989 europeanterrestrialreferencesystem1989ensemble euref89 eureffin eureffinland", "ETRS89", nullShiftSigmaM),
		likeGRS(4173, "irenet95", "IRENET95", nullShiftSigmaM),
		likeGRS(4167, "nzgd2000 newzealandgeodeticdatum2000", "NZGD2000", nullShiftSigmaM),
		likeGRS(4659, "isn93 isn1993 islandsnet1993 islandsnetwork1993", "ISN93", nullShiftSigmaM),
		likeGRS(4171, "rgf93 rgf1993 rgf93v1 reseaugeodesiquefrancais1993 reseaugeodesiquefrancais1993v1", "RGF93", nullShiftSigmaM),
		likeGRS(4619, "sweref99", "SWEREF 99", nullShiftSigmaM),
		likeGRS(6668, "jgd2011 japanesegeodeticdatum2011", "JGD2011", nullShiftSigmaM),
		likeGRS(7844, "gda2020 geocentricdatumofaustralia2020", "GDA2020", 1.5),
	}, furtherDatums()...)
}

// furtherDatums are those of no grid of the catalogue. The shifts are those
// that PROJ's +datum names stand for, which are those of the EPSG dataset: NZGD49 1564 (4 m), TM65 1641 (1 m,
// in the older figures), MGI 1618 (1.5 m for Austria), and means of DMA
// TR8350.2 for Carthage and Greece. σ is half the stated accuracy, and at
// least our own estimate of it.
func furtherDatums() []knownDatum {
	bessel, clarke80 := Bessel1841(), Ellipsoid{6378249.2, 293.4660212936269, "Clarke 1880 (IGN)"}
	return []knownDatum{
		{4283, "", "gda94 geocentricdatumofaustralia1994", GRS80(), sameDatum{"GDA94", 1.5}},
		{4674, "", "sirgas2000 sistemadereferenciageocentricoparalasamericas2000 sistemadereferenciageocentricoparalasamericas2000", GRS80(), sameDatum{"SIRGAS 2000", 1}},
		{4612, "", "jgd2000 japanesegeodeticdatum2000", GRS80(), sameDatum{"JGD2000", 1.5}},
		{4272, "nzgd49", "nzgd49 newzealandgeodeticdatum1949 newzealand1949", International1924(), seven("seven-parameter shift (NZGD49)", 2, 59.47, -5.04, 187.44, 0.47, -0.1, 1.024, -4.5993)},
		{4299, "ire65", "tm65", AiryModified(), seven("seven-parameter shift (TM65)", 1, 482.530, -130.596, 564.557, -1.042, -0.214, -0.631, 8.15)},
		{4312, "hermannskogel", "mgi militargeographischeinstitut militargeographischeinstitute hermannskogel", bessel, seven("seven-parameter shift (MGI)", 1, 577.326, 90.129, 463.919, 5.137, 1.474, 5.297, 2.4232)},
		{4223, "carthage", "carthage", clarke80, translation("three-parameter shift (Carthage)", 8, -263, 6, 431)},
		{4121, "GGRS87", "ggrs87 greekgeodeticreferencesystem1987", GRS80(), translation("three-parameter shift (GGRS87)", 1, -199.87, 74.79, 246.62)},
	}
}

// seven returns a shift by the figures of TOWGS84: metres, seconds of arc in
// the position vector convention, and parts per million.
func seven(name string, sigmaM, tx, ty, tz, rx, ry, rz, ppm float64) *helmert {
	return &helmert{
		name: name, sigmaM: sigmaM, tx: tx, ty: ty, tz: tz,
		rx: rx * arcsecond, ry: ry * arcsecond, rz: rz * arcsecond, scale: 1 + ppm*1e-6,
	}
}

// throughBritain is the shift of OSGB36 for other grids of that datum: by way
// of the National Grid, whose shifts are given on its plane.
type throughBritain struct{}

func (throughBritain) fromWGS84(s *System, ll LatLon) (Grid, Factors, Shift, error) {
	national := mustLookup(epsgBritain)
	on, _, shift, err := national.FromWGS84(ll)
	if err != nil {
		return Grid{}, Factors{}, Shift{}, err
	}
	own, _, err := national.Unproject(on)
	if err != nil {
		return Grid{}, Factors{}, Shift{}, err
	}
	g, f, err := s.Project(own)
	return g, f, shift, err
}

func (throughBritain) toWGS84(s *System, g Grid) (LatLon, Shift, error) {
	own, _, err := s.Unproject(g)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	national := mustLookup(epsgBritain)
	on, _, err := national.Project(own)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	return national.ToWGS84(on)
}

// unknownShiftM is σ per axis of taking a datum for WGS 84 of which nothing is
// known: published shifts of national datums move places by 50 m to 900 m (DMA
// TR8350.2, appendix B, from memory).
const unknownShiftM = 300

// unknownDatum takes latitude and longitude as they are and says so.
type unknownDatum struct{ why string }

func (d unknownDatum) shift() Shift {
	return Shift{Name: "datum shift unknown (" + d.why + ")", SigmaM: unknownShiftM, Identity: true, Unknown: true}
}

func (d unknownDatum) fromWGS84(s *System, ll LatLon) (Grid, Factors, Shift, error) {
	g, f, err := s.Project(ll)
	return g, f, d.shift(), err
}

func (d unknownDatum) toWGS84(s *System, g Grid) (LatLon, Shift, error) {
	ll, _, err := s.Unproject(g)
	return ll, d.shift(), err
}
