package datum

import (
	"sync"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// Known is a datum whose shift to WGS 84 is known here.
type Known struct {
	Geographic int    // EPSG code of its latitude and longitude
	Proj       string // its name after +datum= in PROJ strings, "" where it has none
	LatLon     string // name of its latitude and longitude in well-known text, as GDAL writes it
	Name       string // its own name there
	Names      string // other names, folded, with spaces between
	Ellipsoid  earth.Ellipsoid
	Datum      Datum
}

// All returns the datums of the catalogue, then others; the slice is shared.
// Names are those of the EPSG dataset and of .prj files.
var All = sync.OnceValue(func() []Known {
	likeGRS := func(code int, latLon, name, names, label string, sigmaM float64) Known {
		return Known{code, "", latLon, name, names, earth.GRS80(), Like{label, sigmaM}}
	}
	return append([]Known{
		{4326, "WGS84", "WGS 84", "WGS_1984", "worldgeodeticsystem1984 worldgeodeticsystem1984ensemble wgsworldgeodeticsystem1984", earth.WGS84(), Like{}},
		{4269, "NAD83", "NAD83", "North_American_Datum_1983", "northamerican1983", earth.GRS80(), Like{"NAD83", 2}},
		{4267, "NAD27", "NAD27", "North_American_Datum_1927", "northamerican1927", earth.Clarke1866(), NAD27()},
		{4277, "OSGB36", "OSGB36", "Ordnance_Survey_of_Great_Britain_1936", "osgb1936", earth.Airy1830(), newThroughBritain()},
		{4314, "potsdam", "DHDN", "Deutsches_Hauptdreiecksnetz", "", earth.Bessel1841(), GermanHelmert()},
		{4149, "", "CH1903", "CH1903", "", earth.Bessel1841(), SwissShift(0.75)},
		{4150, "", "CH1903+", "CH1903+", "ch1903plus", earth.Bessel1841(), SwissShift(LikeSigmaM)},
		{4313, "", "BD72", "Reseau_National_Belge_1972", "belge1972", earth.International1924(), BelgianHelmert()},
		{4300, "", "TM75", "Geodetic_Datum_of_1965", "", earth.AiryModified(), IrelandHelmert()},
		likeGRS(4258, "ETRS89", "European_Terrestrial_Reference_System_1989", "etrs1989 europeanterrestrialreferencesystem1989ensemble euref89 eureffin eureffinland", "ETRS89", LikeSigmaM),
		likeGRS(4173, "IRENET95", "IRENET95", "", "IRENET95", LikeSigmaM),
		likeGRS(4167, "NZGD2000", "New_Zealand_Geodetic_Datum_2000", "", "NZGD2000", LikeSigmaM),
		likeGRS(4659, "ISN93", "Islands_Net_1993", "isn1993 islandsnetwork1993", "ISN93", LikeSigmaM),
		likeGRS(4171, "RGF93 v1", "Reseau_Geodesique_Francais_1993_v1", "rgf93 rgf1993 reseaugeodesiquefrancais1993", "RGF93", LikeSigmaM),
		likeGRS(4619, "SWEREF99", "SWEREF99", "", "SWEREF 99", LikeSigmaM),
		likeGRS(6668, "JGD2011", "Japanese_Geodetic_Datum_2011", "", "JGD2011", LikeSigmaM),
		likeGRS(7844, "GDA2020", "Geocentric_Datum_of_Australia_2020", "", "GDA2020", 1.5),
	}, Further()...)
})

// Further are those of no grid of the catalogue. The shifts are those
// that PROJ's +datum names stand for, which are those of the EPSG dataset: NZGD49 1564 (4 m), TM65 1641 (1 m,
// in the older parameters), MGI 1618 (1.5 m for Austria), and means of DMA
// TR8350.2 for Carthage and Greece. σ is half the stated accuracy, and at
// least our own estimate of it.
func Further() []Known {
	bessel, clarke80 := earth.Bessel1841(), earth.Ellipsoid{A: 6378249.2, InvF: 293.4660212936269, Name: "Clarke 1880 (IGN)"}
	return []Known{
		{4283, "", "GDA94", "Geocentric_Datum_of_Australia_1994", "", earth.GRS80(), Like{"GDA94", 1.5}},
		{4674, "", "SIRGAS 2000", "Sistema_de_Referencia_Geocentrico_para_las_AmericaS_2000", "", earth.GRS80(), Like{"SIRGAS 2000", 1}},
		{4612, "", "JGD2000", "Japanese_Geodetic_Datum_2000", "", earth.GRS80(), Like{"JGD2000", 1.5}},
		{4272, "nzgd49", "NZGD49", "New_Zealand_Geodetic_Datum_1949", "newzealand1949", earth.International1924(), Seven("seven-parameter shift (NZGD49)", 2, 59.47, -5.04, 187.44, 0.47, -0.1, 1.024, -4.5993)},
		{4299, "ire65", "TM65", "TM65", "", earth.AiryModified(), Seven("seven-parameter shift (TM65)", 1, 482.530, -130.596, 564.557, -1.042, -0.214, -0.631, 8.15)},
		{4312, "hermannskogel", "MGI", "Militar-Geographische_Institut", "militargeographischeinstitute hermannskogel", bessel, Seven("seven-parameter shift (MGI)", 1, 577.326, 90.129, 463.919, 5.137, 1.474, 5.297, 2.4232)},
		{4223, "carthage", "Carthage", "Carthage", "", clarke80, Translation("three-parameter shift (Carthage)", 8, -263, 6, 431)},
		{4121, "GGRS87", "GGRS87", "Greek_Geodetic_Reference_System_1987", "", earth.GRS80(), Translation("three-parameter shift (GGRS87)", 1, -199.87, 74.79, 246.62)},
	}
}

// Seven returns a shift by the parameters of TOWGS84: metres, seconds of arc in
// the position vector convention, and parts per million.
func Seven(name string, sigmaM, tx, ty, tz, rx, ry, rz, ppm float64) *Helmert {
	return &Helmert{
		name: name, sigmaM: sigmaM, tx: tx, ty: ty, tz: tz,
		rx: rx * Arcsecond, ry: ry * Arcsecond, rz: rz * Arcsecond, scale: 1 + ppm*1e-6,
	}
}

// throughBritain is the shift of OSGB36 for other grids on that datum. It goes through
// the National Grid, because OSTN15 is given in its coordinates.
type throughBritain struct {
	national proj.Plane
	shift    *ostn
}

func newThroughBritain() throughBritain {
	airy := earth.Airy1830()
	return throughBritain{proj.Plane{Ellipsoid: airy, Proj: proj.NewTransverseMercator(airy, BritishTM())}, NewOSTN()}
}

func (b throughBritain) FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	on, _, shift, err := b.shift.FromWGS84(b.national, ll)
	if err != nil {
		return earth.Grid{}, proj.Factors{}, Shift{}, err
	}
	own, _, err := b.national.Unproject(on)
	if err != nil {
		return earth.Grid{}, proj.Factors{}, Shift{}, err
	}
	g, f, err := p.Project(own)
	return g, f, shift, err
}

func (b throughBritain) ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	own, _, err := p.Unproject(g)
	if err != nil {
		return earth.LatLon{}, Shift{}, err
	}
	on, _, err := b.national.Project(own)
	if err != nil {
		return earth.LatLon{}, Shift{}, err
	}
	return b.shift.ToWGS84(b.national, on)
}

// unknownShiftM is σ per axis of taking a datum for WGS 84 of which nothing is
// known: published shifts of national datums move positions by 50 m to 900 m (DMA
// TR8350.2, appendix B; not checked against it).
const unknownShiftM = 300

// Unknown is a datum of which nothing is known: latitude and longitude stay as they are.
type Unknown struct{ Why string }

func (d Unknown) shift() Shift {
	return Shift{Name: "datum shift unknown (" + d.Why + ")", SigmaM: unknownShiftM, Identity: true, Unknown: true}
}

// FromWGS84 implements Datum.
func (d Unknown) FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	g, f, err := p.Project(ll)
	return g, f, d.shift(), err
}

// ToWGS84 implements Datum.
func (d Unknown) ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	ll, _, err := p.Unproject(g)
	return ll, d.shift(), err
}
