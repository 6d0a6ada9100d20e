package geodesy

import (
	"strings"
	"testing"

	"legwright/app/geodesy/earth"
)

// A definition in numbers gives the same grid as the same numbers in a text.
func TestDefinitionLikeItsText(t *testing.T) {
	t.Parallel()
	tm := Definition{Family: FamilyTM, Lat0: 49, Lon0: -2, K0: 0.9996012717, FalseE: 400_000, FalseN: -100_000, Datum: NamedDatum{LatLonCode: 4277}}
	if s, err := SystemOf(tm); err != nil || s != mustLookup(epsgBritain) {
		t.Errorf("the National Grid: got %v, %v", s, err)
	}
	byName := tm
	byName.Datum, byName.Ellipsoid, byName.FalseE = NamedDatum{Name: "OSGB_1936"}, earth.Airy1830(), 410_000
	feet := Definition{
		Title: "Isle grid", Family: FamilyConic, Lat0: 53, Lon0: -4, Lat1: 52, Lat2: 54, K0: 1, FalseE: 304.8,
		Ellipsoid: Ellipsoid{A: 6378206.4, InvF: 294.978698213898}, Unit: Unit{Metres: 0.3048},
		Datum: NamedDatum{Name: "Isle 1907", ToWGS84: []float64{1, 2, 3}},
	}
	for text, def := range map[string]Definition{
		"+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=410000 +y_0=-100000 +datum=OSGB36":                                                                   byName,
		"+proj=lcc +lat_1=52 +lat_2=54 +lat_0=53 +lon_0=-4 +x_0=304.8 +ellps=clrk66 +towgs84=1,2,3 +units=ft +title=Isle_grid +datum_name=Isle_1907":               feet,
		"+proj=stere +lat_0=-90 +lat_ts=-71 +lon_0=5 +datum=WGS84":                                                                                                 {Family: FamilyPolar, Lat0: -90, LatTS: -71, Lon0: 5, K0: 1, Datum: NamedDatum{Code: 6326}},
		"+proj=longlat +ellps=bessel +datum_name=Isle_1907":                                                                                                        {Family: FamilyLatLon, K0: 1, Ellipsoid: earth.Bessel1841(), Datum: NamedDatum{Name: "Isle 1907"}},
		"+proj=merc +lon_0=100 +lat_ts=41 +ellps=krass":                                                                                                            {Family: FamilyMercator, Lon0: 100, LatTS: 41, K0: 1, Ellipsoid: Ellipsoid{A: 6378245, InvF: 298.3}},
		"+proj=somerc +lat_0=46.95 +lon_0=7.44 +k_0=0.9999 +x_0=2600000 +y_0=1200000 +ellps=bessel +towgs84=674.374,15.056,405.346 +datum_name=Isle_1907 +units=m": {Family: FamilySwiss, Lat0: 46.95, Lon0: 7.44, K0: 0.9999, FalseE: 2.6e6, FalseN: 1.2e6, Ellipsoid: earth.Bessel1841(), Datum: NamedDatum{Name: "Isle 1907", ToWGS84: []float64{674.374, 15.056, 405.346}}},
	} {
		want, err := Define(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := SystemOf(def)
		if err != nil || got.Code() != want.Code() || got.Name() != want.Name() || got.Unit() != want.Unit() {
			t.Errorf("%s:\ngot  %v, %v,\nwant %v", text, got, err, want.Code())
		}
	}
}

// An impossible definition is refused in a sentence.
func TestDefinitionRefused(t *testing.T) {
	t.Parallel()
	good := Definition{Family: FamilyTM, K0: 1, Ellipsoid: earth.Bessel1841()}
	for says, spoil := range map[string]func(d *Definition){
		"is not supported":            func(d *Definition) { d.Family = "aea" },
		"scale factor is 0":           func(d *Definition) { d.K0 = 0 },
		"gives no ellipsoid":          func(d *Definition) { d.Ellipsoid, d.Datum.Code = Ellipsoid{}, 6999 },
		"uses a sphere":               func(d *Definition) { d.Ellipsoid.InvF = 0 },
		"must have 3 or 7":            func(d *Definition) { d.Datum.ToWGS84 = make([]float64, 5) },
		"has its origin at latitude":  func(d *Definition) { d.Family, d.Lat0 = FamilyMercator, 10 },
		"both a scale factor":         func(d *Definition) { d.Family, d.LatTS, d.K0 = FamilyMercator, 10, 0.9 },
		"true scale at latitude 71°":  func(d *Definition) { d.Family, d.Lat0, d.LatTS, d.K0 = FamilyPolar, 90, 71, 0.9 },
		"centre at latitude 52°":      func(d *Definition) { d.Family, d.Lat0, d.LatTS = FamilyPolar, 52, 52 },
		"both must be on the same":    func(d *Definition) { d.Family, d.Lat1, d.Lat2 = FamilyConic, 40, -40 },
		"central meridian is 1000°":   func(d *Definition) { d.Lon0 = 1000 },
		"has no scale":                func(d *Definition) { d.Family, d.Lat0 = FamilySwiss, 89 },
		"must be between 0.001 and 2": func(d *Definition) { d.Unit.Metres = 1e6 },
	} {
		d := good
		spoil(&d)
		if s, err := SystemOf(d); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("got %v, %v, want a sentence with %q", s, err, says)
		}
	}
}
