package geodesy

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"legwright/app/geodesy/crs"
)

func TestDefineFindsTheCatalogue(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		epsg       int
	}{
		{"code", "EPSG:27700", 27700},
		{"code in small letters", " epsg:2154\n", 2154},
		{"urn", "urn:ogc:def:crs:EPSG::3006", 3006},
		{"address", "https://www.opengis.net/def/crs/EPSG/0/2193", 2193},
		{"init", "+init=epsg:27700 +no_defs", 27700},
		{"init without plus", "init=epsg:27700", 27700},
		{"UTM", "+proj=utm +zone=30 +datum=WGS84 +units=m +no_defs", 32630},
		{"UTM, the ellipsoid said twice", "+proj=utm +zone=30 +ellps=WGS84 +datum=WGS84 +units=m +no_defs", 32630},
		{"UTM south", "+proj=utm +zone=55 +south +datum=WGS84", 32755},
		{"UTM spelt out", "+proj=tmerc +lat_0=0 +lon_0=-3 +k=0.9996 +x_0=500000 +y_0=0 +datum=WGS84", 32630},
		{"no plus signs", "proj=utm zone=30 datum=WGS84 type=crs", 32630},
		{"Great Britain by its datum", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +datum=OSGB36 +units=m", 27700},
		{"Great Britain by seven figures", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489", 27700},
		{"Great Britain by a file", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +nadgrids=OSTN15_NTv2_OSGBtoETRS.gsb", 27700},
		{"France by sexagesimal angles", "+proj=lcc +lat_0=46d30' +lon_0=3dE +lat_1=49 +lat_2=44d0'0\"N +x_0=700000 +y_0=6600000 +ellps=GRS80 +towgs84=0,0,0,0,0,0,0", 2154},
		{"Switzerland", "+proj=somerc +lat_0=46.9524055555556 +lon_0=7.43958333333333 +k_0=1 +x_0=2600000 +y_0=1200000 +ellps=bessel +towgs84=674.374,15.056,405.346", 2056},
		{"Switzerland as an oblique Mercator", "+proj=omerc +lat_0=46.9524055555556 +lonc=7.43958333333333 +alpha=90 +gamma=90 +k=1 +x_0=2600000 +y_0=1200000 +ellps=bessel +towgs84=674.374,15.056,405.346", 2056},
		{"Web Mercator on its ball", "+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null +wktext +no_defs", 3857},
		{"UPS", "+proj=ups +south +ellps=WGS84 +datum=WGS84", 5042},
		{"latitude and longitude", "+proj=longlat +datum=WGS84", 4326},
		{"zone of Europe, not the narrower Swedish twin", "+proj=utm +zone=33 +ellps=GRS80 +units=m", 25833},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := Define(c.text)
			if err != nil {
				t.Fatal(err)
			}
			if want := mustLookup(c.epsg); got != want {
				t.Errorf("got %v (%s), want %v", got, got.Code(), want)
			}
		})
	}
}

func TestDefineRefuses(t *testing.T) {
	t.Parallel()
	const tm = "+proj=tmerc +lat_0=53 +lon_0=-4 +k=1 +x_0=0 +y_0=0 +ellps=GRS80"
	for _, c := range []struct{ name, text, want string }{
		{"nothing", " \n", "the definition is empty"},
		{"prose", "the grid of my map", "neither a PROJ string"},
		{"long", strings.Repeat("A", crs.MaxDefinition+1), "at most"},
		{"another family", "+proj=aea +lat_1=20 +lat_2=60 +ellps=GRS80", "+proj=aea is not supported; supported: Transverse Mercator"},
		{"the Swiss grid not turned back", "+proj=omerc +lat_0=46.9524055555556 +lonc=7.43958333333333 +alpha=90 +gamma=90 +no_rot +ellps=bessel", "azimuth 90°"},
		{"two units", tm + " +units=m +to_meter=0.3048", "give only one of them"},
		{"an oblique Mercator of Borneo", wktWith("Oblique_Mercator", `PARAMETER["azimuth",53.31582],PARAMETER["rectified_grid_angle",53.13010]`), "azimuth 90°"},
		{"an oblique Mercator without azimuth", wktWith("Oblique_Mercator", `PARAMETER["latitude_of_center",46]`), "azimuth 90°"},
		{"the Swiss projection at another azimuth", wktWith("Swiss_Oblique_Cylindrical", `PARAMETER["azimuth",53]`), "azimuth 90°"},
		{"a turned Transverse Mercator", wktWith("Transverse_Mercator", `PARAMETER["xy_plane_rotation",30]`), "a rotation of the grid of 30"},
		{"an equal-area with a scale", wktWith("Lambert_Azimuthal_Equal_Area", `PARAMETER["scale_factor",0.9]`), "a scale factor of 0.9"},
		{"a cone with two parallels for one", wktWith("Lambert_Conformal_Conic_1SP", `PARAMETER["latitude_of_origin",46],PARAMETER["standard_parallel_1",44]`), "two latitudes"},
		{"a meridian in an unknown unit", wktMeridian("Nowhere", 3.25), "give it a unit"},
		{"no projection", "+ellps=GRS80 +type=proj=x", "has no +proj"},
		{"a pipeline", "+proj=pipeline +step +proj=utm +zone=3 +ellps=GRS80", "chain of steps"},
		{"turned axes", tm + " +axis=wsu", "+axis=wsu"},
		{"a key that is not read", tm + " +lat_b=3", "+lat_b"},
		{"the same key twice", tm + " +lat_0=54", "+lat_0 twice"},
		{"no ellipsoid", "+proj=tmerc +lat_0=53", "has no ellipsoid"},
		{"two shapes of the earth", tm + " +datum=OSGB36", "both +datum and +ellps"},
		{"an unknown ellipsoid", "+proj=tmerc +ellps=potato", "+ellps=potato is not known"},
		{"a ball", "+proj=tmerc +a=6370997 +b=6370997", "uses a sphere"},
		{"another planet", "+proj=tmerc +a=3396190 +rf=169.8944", "equatorial radius"},
		{"zone 61", "+proj=utm +zone=61 +ellps=GRS80", "1 to 60"},
		{"no zone", "+proj=utm +ellps=GRS80", "1 to 60"},
		{"not a number", "+proj=tmerc +lat_0=53 +k=one +ellps=GRS80", "+k=one is not a number"},
		{"NaN", "+proj=tmerc +lat_0=53 +k=NaN +ellps=GRS80", "+k=NaN"},
		{"not an angle", "+proj=tmerc +lat_0=53d70' +ellps=GRS80", "not an angle"},
		{"latitude 95", "+proj=tmerc +lat_0=95 +ellps=GRS80", "latitude of origin is 95°"},
		{"scale 0", "+proj=tmerc +k=0 +ellps=GRS80", "scale factor"},
		{"parallels astride the equator", "+proj=lcc +lat_1=20 +lat_2=-20 +ellps=GRS80", "same side of the equator"},
		{"stereographic in between", "+proj=stere +lat_0=52 +lon_0=5 +ellps=GRS80", "only with the centre at a pole"},
		{"a real oblique Mercator", "+proj=omerc +lat_0=4 +lonc=115 +alpha=53.3 +gamma=53.1 +ellps=evrstSS", "the only oblique Mercator supported is the Swiss one"},
		{"five figures of shift", tm + " +towgs84=1,2,3,4,5", "must have 3 or 7"},
		{"a shift in other units", tm + " +towgs84=1,2,300000", "no datum is shifted that far"},
		{"a code with figures beside it", "+init=epsg:27700 +lon_0=3", "give the code alone"},
		{"a code of another register", "+init=esri:102100", "only +init=epsg:"},
		{"well-known text cut off", `PROJCS["x",GEOGCS["y",DATUM["z"`, "closing bracket is missing"},
		{"a quotation cut off", `PROJCS["x`, "quotation mark"},
		{"a local grid", `LOCAL_CS["site",UNIT["metre",1]]`, "without a position on the earth"},
		{"from the middle of the earth", `GEOCCS["x",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]]]`, "geocentric coordinates"},
		{"something else", `VERT_CS["x"]`, "begins with VERT_CS"},
		{"nested", strings.Repeat("A[", 40), "nested deeper"},
		{"no base", `PROJCS["x",PROJECTION["Transverse_Mercator"]]`, "has no base"},
		{"another family in WKT", wktOver(`PROJECTION["Albers_Conic_Equal_Area"]`), `"Albers_Conic_Equal_Area" is not supported; supported`},
		{"a parameter that is not read", wktOver(`PROJECTION["Transverse_Mercator"],PARAMETER["twist",3]`), `"twist"`},
		{"growing west", wktOver(`PROJECTION["Transverse_Mercator"],AXIS["X",WEST]`), "runs west"},
		{"a stale code", wktOver(`PROJECTION["Transverse_Mercator"],PARAMETER["central_meridian",9],AUTHORITY["EPSG","25831"]`), "says it is EPSG:25831"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, err := Define(c.text)
			var bad *BadDefinition
			if !errors.As(err, &bad) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, %v, want a refusal with %q", s, err, c.want)
			}
		})
	}
	var unknown *UnknownSystem
	if _, err := Define("EPSG:4277"); !errors.As(err, &unknown) || unknown.EPSG != 4277 {
		t.Errorf("a code outside the catalogue: got %v", err)
	}
}

// wktOver returns well-known text over ETRS89 with a tail.
func wktOver(tail string) string {
	return `PROJCS["x",GEOGCS["ETRS89",DATUM["European_Terrestrial_Reference_System_1989",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` + tail + `,UNIT["metre",1]]`
}

// A definition's code gives the same grid again, in all but the name of an
// ellipsoid that only PROJ has a name for.
func TestDefinitionCodeStands(t *testing.T) {
	t.Parallel()
	for _, text := range inventedGrids() {
		s, err := Define(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		again, err := Define(string(s.Code()))
		if err == nil {
			named := *again
			named.ellipsoid.Name = s.ellipsoid.Name
			again = &named
		}
		if err != nil || !reflect.DeepEqual(again, s) {
			t.Errorf("%s: code %s: got %v, %v, want %v", text, s.Code(), again, err, s)
		}
		if s.EPSG() != 0 || !s.Code().Defined() {
			t.Errorf("%s: got code %s", text, s.Code())
		}
	}
}

// wktWith is a grid in well-known text 1 with a projection and its figures.
func wktWith(method, parameters string) string {
	return `PROJCS["x",GEOGCS["x",DATUM["x",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
		`PROJECTION["` + method + `"],` + parameters + `,UNIT["metre",1]]`
}

// wktMeridian is a cone of France in grads, from a meridian without a unit.
func wktMeridian(name string, lon float64) string {
	return fmt.Sprintf(`PROJCS["x",GEOGCS["x",DATUM["x",SPHEROID["Clarke 1880 (IGN)",6378249.2,293.466021293627]],PRIMEM["%s",%v],UNIT["grad",0.015707963267949]],`+
		`PROJECTION["Lambert_Conformal_Conic_1SP"],PARAMETER["latitude_of_origin",52],PARAMETER["central_meridian",0],PARAMETER["scale_factor",0.99987742],`+
		`PARAMETER["false_easting",600000],PARAMETER["false_northing",2200000],UNIT["metre",1]]`, name, lon)
}

// TestMeridians compares the middle of grids that count from another meridian
// with cs2cs of PROJ 9.1.1, projected from latitude and longitude of
// Greenwich on the grid's own datum.
func TestMeridians(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		lat, lon   float64
		e, n       float64
		withinM    float64
	}{
		{"Paris in grads, by the standard", wktMeridian("Paris", 2.5969213), 47, 3, 650403.590, 2222443.506, 0.002},
		{"Paris in degrees all the same", wktMeridian("Paris", 2.33722917), 47, 3, 650403.590, 2222443.506, 0.002},
		{"a zone of UTM from Paris", "+proj=utm +zone=31 +ellps=GRS80 +pm=paris", 47, 3, 322314.185, 5207815.330, 0.002},
	} {
		s, err := Define(c.text)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		g, _, err := s.Project(DegLatLon(c.lat, c.lon))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if math.Hypot(g.E-c.e, g.N-c.n) > c.withinM {
			t.Errorf("%s: got %.3f %.3f, want %.3f %.3f", c.name, g.E, g.N, c.e, c.n)
		}
	}
}

// A datum that has a name and is not known stays so when its code is read
// again: it is not taken for one without a name, which on this ellipsoid would
// be WGS 84's, and the grid of the catalogue with the same figures.
func TestUnknownDatumStaysUnknown(t *testing.T) {
	t.Parallel()
	const text = `PROJCS["x",GEOGCS["y",DATUM["Hill_Survey_1951",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
		`PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",9],PARAMETER["scale_factor",0.9996],` +
		`PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]]`
	first, err := Define(text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Define(string(first.Code()))
	if err != nil || again.Code() != first.Code() || !again.Code().Defined() {
		t.Fatalf("code %q is read again as %v, %v", first.Code(), again, err)
	}
	if !strings.Contains(string(first.Code()), "Hill_Survey_1951") {
		t.Errorf("code %q has lost the name of the datum", first.Code())
	}
	utm, err := Lookup(EPSG(32632))
	if err != nil {
		t.Fatal(err)
	}
	if first.Code().Alike(utm.Code()) {
		t.Error("it passes for UTM on WGS 84")
	}
}
