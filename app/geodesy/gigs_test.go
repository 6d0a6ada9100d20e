package geodesy

import (
	"fmt"
	"math"
	"testing"

	"legwright/app/geodesy/earth"
)

// gigsGrids are the definitions of the grids in gigs_51xx_others.tsv, by their
// EPSG codes, with the figures of the EPSG dataset.
func gigsGrids() map[string]string {
	return map[string]string{
		"2192":  "+proj=lcc +lat_1=46.8 +lat_0=46.8 +lon_0=2d20'14.025\"E +k_0=0.99987742 +x_0=600000 +y_0=2200000 +ellps=intl",
		"2921":  "+proj=lcc +lat_0=40d20' +lon_0=-111d30' +lat_1=41d47' +lat_2=40d43' +x_0=500000.0001504 +y_0=999999.999996 +ellps=GRS80 +units=ft",
		"3568":  "+proj=lcc +lat_0=40d20' +lon_0=-111d30' +lat_1=41d47' +lat_2=40d43' +x_0=500000.00001016 +y_0=999999.99998984 +ellps=GRS80 +units=us-ft",
		"3001":  "+proj=merc +lon_0=110 +k=0.997 +x_0=3900000 +y_0=900000 +ellps=bessel +towgs84=-377,681,-50",
		"3388":  "+proj=merc +lat_ts=42 +lon_0=51 +x_0=0 +y_0=0 +ellps=krass",
		"23700": "+proj=somerc +lat_0=47d8'39.8174\" +lon_0=19d2'54.8584\" +k_0=0.99993 +x_0=650000 +y_0=200000 +ellps=GRS67",
		"28354": "+proj=utm +zone=54 +south +ellps=GRS80 +towgs84=0,0,0",
		"31370": "EPSG:31370",
		"32631": "EPSG:32631",
	}
}

// IOGP GIGS, the rows of Lambert, Mercator, oblique Mercator and UTM, within
// the tolerance it publishes, by way of definitions.
func TestGIGSOtherFamilies(t *testing.T) {
	t.Parallel()
	grids, checked := gigsGrids(), map[string]int{}
	for i, r := range vectors(t, "gigs_51xx_others.tsv", 314) {
		s, err := Define(grids[r["epsg"]])
		if err != nil {
			t.Fatalf("EPSG:%s: %v", r["epsg"], err)
		}
		tol, lat, lon := r.num(t, "tolerance_m"), r.num(t, "lat_deg"), r.num(t, "lon_deg")
		e, n := r.num(t, "easting"), r.num(t, "northing")
		what := fmt.Sprintf("row %d, %s EPSG:%s %s", i+1, r["test"], r["epsg"], r["direction"])
		g, _, errThere := s.Project(DegLatLon(lat, lon))
		back, _, errBack := s.Unproject(s.FromUnits(e, n))
		if errThere != nil || errBack != nil {
			t.Fatalf("%s: %v, %v", what, errThere, errBack)
		}
		checked[r["epsg"]]++
		if r["direction"] == "forward" {
			want := s.FromUnits(e, n)
			near(t, what+" easting", g.E, want.E, tol)
			near(t, what+" northing", g.N, want.N, tol)
			continue
		}
		near(t, what+" latitude m", rad(back.Lat.Deg()-lat)*6.4e6, 0, tol)
		near(t, what+" longitude m", earth.WrapLon(rad(back.Lon.Deg()-lon))*6.4e6*math.Cos(rad(lat)), 0, tol)
	}
	for code := range grids {
		if checked[code] < 5 {
			t.Errorf("EPSG:%s: only %d rows were checked", code, checked[code])
		}
	}
	t.Logf("checked %v", checked)
}
