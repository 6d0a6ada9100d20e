package geojson

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"
)

// The shapes of RFC 7946, section 3.1 and appendix A, with places of our own.
const several = `{"type":"FeatureCollection","features":[
 {"type":"Feature","properties":{"name":"Wall"},"geometry":{"type":"LineString","coordinates":[[-7.9,56.2],[-7.8,56.3,120]]}},
 {"type":"Feature","properties":{"name":"Tarn","depth":3},"geometry":{"type":"Polygon","coordinates":[
   [[-7.9,56.2],[-7.8,56.2],[-7.8,56.3],[-7.9,56.2]],
   [[-7.88,56.21],[-7.87,56.21],[-7.87,56.22],[-7.88,56.21]]]}},
 {"type":"Feature","properties":null,"geometry":null},
 {"type":"Feature","properties":{"name":7},"geometry":{"type":"GeometryCollection","geometries":[
   {"type":"Point","coordinates":[-7.9,56.2]},
   {"type":"MultiLineString","coordinates":[[[-7.9,56.2],[-7.8,56.3]],[[-7.7,56.2],[-7.6,56.3]]]}]}}]}`

func TestShapesOfTheStandard(t *testing.T) {
	t.Parallel()
	got, err := Read(strings.NewReader("\ufeff" + several))
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		kind  Kind
		name  string
		n     int
		holes int
	}{{Line, "Wall", 2, 0}, {Area, "Tarn", 3, 1}, {Point, "", 1, 0}, {Line, "", 2, 0}, {Line, "", 2, 0}}
	if len(got) != len(want) {
		t.Fatalf("%d shapes, want %d: %+v", len(got), len(want), got)
	}
	for i, w := range want {
		if g := got[i]; g.Kind != w.kind || g.Name != w.name || len(g.Points) != w.n || g.Holes != w.holes {
			t.Errorf("shape %d: %+v, want %+v", i, g, w)
		}
	}
	if p := got[0].Points[1]; math.Abs(p.Lat.Deg()-56.3) > 1e-12 || math.Abs(p.Lon.Deg()+7.8) > 1e-12 {
		t.Errorf("longitude comes first: %v", p)
	}
}

// A missing or impossible number never becomes a position.
func TestBadPositions(t *testing.T) {
	t.Parallel()
	for _, p := range []string{"[5]", "[]", "[null,56]", "[5,null]", `["5","56"]`, "[181,0]", "[0,91]", "null", "{}", "[1e400,0]", "[271000,745000]"} {
		_, err := Read(strings.NewReader(`{"type":"LineString","coordinates":[[1,2],` + p + `]}`))
		var bad *BadPosition
		if !errors.As(err, &bad) || bad.N != 2 {
			t.Errorf("%s: %v, want a bad position 2", p, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	line := `"coordinates":[[1,2],[3,4]]}`
	for what, c := range map[string]struct {
		text string
		want error
	}{
		"other JSON":       {`{"a":1}`, ErrNotGeoJSON},
		"no JSON":          {`<gpx/>`, ErrNotGeoJSON},
		"nothing":          {``, ErrNotGeoJSON},
		"an unknown shape": {`{"type":"Circle",` + line, ErrNotGeoJSON},
		"an empty area":    {`{"type":"Polygon","coordinates":[]}`, ErrNotGeoJSON},
		"a grid":           {`{"type":"LineString","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::27700"}},` + line, ErrOtherGrid},
		"deep collections": {strings.Repeat(`{"type":"GeometryCollection","geometries":[`, 12) + strings.Repeat("]}", 12), ErrNotGeoJSON},
		"too many points":  {`{"type":"LineString","coordinates":[` + strings.Repeat("[1,2],", MaxPoints) + `[1,2]]}`, ErrTooLarge},
		"a file cut off":   {`{"type":"LineString","coordinates":[[1,2],[3`, ErrNotGeoJSON},
	} {
		if _, err := Read(strings.NewReader(c.text)); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", what, err, c.want)
		}
	}
}

// A file that names its coordinate system is read where that is CRS84 (GeoJSON 2008, section 3, has
// it as a name), and refused otherwise: EPSG:4326 has latitude first by its definition, and what
// was written so would lie elsewhere.
func TestNamedCoordinateSystem(t *testing.T) {
	t.Parallel()
	named := func(name string) string { return `{"type":"name","properties":{"name":"` + name + `"}}` }
	for crs, want := range map[string]error{
		named("urn:ogc:def:crs:OGC:1.3:CRS84"):                         nil,
		named("urn:ogc:def:crs:OGC::CRS84"):                            nil,
		named("OGC:CRS84"):                                             nil,
		named("EPSG:4326"):                                             ErrOtherGrid,
		named("urn:ogc:def:crs:EPSG::4326"):                            ErrOtherGrid,
		named("urn:ogc:def:crs:EPSG::27700"):                           ErrOtherGrid,
		named("not CRS84"):                                             ErrOtherGrid,
		`{"type":"link","properties":{"href":"CRS84","type":"proj4"}}`: ErrOtherGrid,
		`{"type":"EPSG","properties":{"code":4326}}`:                   ErrOtherGrid,
		`null`:    ErrOtherGrid,
		`"CRS84"`: ErrOtherGrid,
	} {
		for _, text := range []string{
			`{"type":"LineString","crs":` + crs + `,"coordinates":[[1,2],[3,4]]}`,
			`{"type":"FeatureCollection","features":[{"type":"Feature","crs":` + crs + `,"geometry":{"type":"Point","coordinates":[1,2]}}]}`,
		} {
			if got, err := Read(strings.NewReader(text)); !errors.Is(err, want) || err == nil && len(got) != 1 {
				t.Errorf("%s: %v, %+v; want %v", text, err, got, want)
			}
		}
	}
}

// What another library writes comes back as it was.
func TestAgainstAnotherLibrary(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var line []float64
		for range rapid.IntRange(2, 8).Draw(t, "points") {
			line = append(line, rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat"))
		}
		text, err := geom.NewLineStringXY(line...).AsGeometry().MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		got, err := Read(strings.NewReader(string(text)))
		if err != nil || len(got) != 1 || 2*len(got[0].Points) != len(line) {
			t.Fatalf("%s: %+v, %v", text, got, err)
		}
		for i, p := range got[0].Points {
			if math.Abs(p.Lon.Deg()-line[2*i]) > 1e-9 || math.Abs(p.Lat.Deg()-line[2*i+1]) > 1e-9 {
				t.Fatalf("point %d is %v, want %v", i, p, line[2*i:2*i+2])
			}
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add(several)
	f.Add(`{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}`)
	f.Add(`{"type":"MultiPoint","coordinates":[[0,0],null]}`)
	f.Fuzz(func(t *testing.T, text string) {
		shapes, err := Read(strings.NewReader(text))
		if err != nil {
			return
		}
		n := 0
		for _, s := range shapes {
			n += len(s.Points)
			for _, p := range s.Points {
				if p.Check() != nil {
					t.Errorf("a position that cannot be: %v", p)
				}
			}
		}
		if n > MaxPoints {
			t.Errorf("%d points", n)
		}
	})
}
