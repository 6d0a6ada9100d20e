package tiff

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// info is the part of gdalinfo's answer that is compared.
type info struct {
	Size         [2]int     `json:"size"`
	GeoTransform [6]float64 `json:"geoTransform"`
	GCPs         struct {
		List []struct{ Pixel, Line, X, Y float64 } `json:"gcpList"`
	} `json:"gcps"`
	STAC struct {
		EPSG int `json:"proj:epsg"`
	} `json:"stac"`
	System struct {
		WKT string `json:"wkt"`
	} `json:"coordinateSystem"`
}

func gdalInfo(t testing.TB, path string) info {
	t.Helper()
	var out info
	if err := json.Unmarshal(gdal(t, "gdalinfo", "-json", path), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// checkCorners compares the four corners with GDAL's, within 1e-6 pixel.
func checkCorners(t *testing.T, path string) *Geo {
	t.Helper()
	want := gdalInfo(t, path)
	p := openFile(t, path).Pages()[0]
	g := p.Geo()
	if g == nil {
		t.Fatal("got no georeferencing")
	}
	a, ok := g.Affine()
	if !ok {
		t.Fatalf("got no transform (%v)", g.Notes)
	}
	m := want.GeoTransform
	pixel := math.Sqrt(math.Abs(m[1]*m[5] - m[2]*m[4]))
	for _, c := range [][2]float64{{0, 0}, {float64(p.Width), 0}, {0, float64(p.Height)}, {float64(p.Width), float64(p.Height)}} {
		x, y := a.At(c[0], c[1])
		wx, wy := m[0]+m[1]*c[0]+m[2]*c[1], m[3]+m[4]*c[0]+m[5]*c[1]
		if d := math.Hypot(x-wx, y-wy) / pixel; d > 1e-6 {
			t.Errorf("corner %v: got %.9f, %.9f, want %.9f, %.9f: %g pixels apart", c, x, y, wx, wy, d)
		}
	}
	if want.STAC.EPSG != 0 && want.STAC.EPSG != g.ProjectedCRS && want.STAC.EPSG != g.GeographicCRS {
		t.Errorf("got EPSG %d / %d, want %d", g.ProjectedCRS, g.GeographicCRS, want.STAC.EPSG)
	}
	return g
}

func reference(t testing.TB, name string) string {
	t.Helper()
	dir := os.Getenv("LEGWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("LEGWRIGHT_REFERENCE is not set: no reference files to read")
	}
	path := filepath.Join(dir, filepath.FromSlash(name))
	if _, err := os.Stat(path); err != nil {
		t.Skipf("%s is not among the reference files", name)
	}
	return path
}

// TestReferenceFiles: corners, codes and pixels of the reference rasters, as
// GDAL reads them.
func TestReferenceFiles(t *testing.T) {
	needGDAL(t)
	for _, c := range []struct {
		name, kind string
		epsg       int
		model      Model
	}{
		{"rasters/chicago_SP27GTIF.tif", "Byte", 26771, Projected},
		{"rasters/gdal_byte.tif", "Byte", 26711, Projected},
		{"rasters/rotated_geotransform.tif", "Byte", 0, 0},
		{"rasters/shade_colorado_3857.tif", "Byte", 3857, Projected},
		{"dem/luxembourg_elev_4326.tif", "Int16", 4326, Geographic},
		{"dem/presidential_utm19n_30m.tif", "Float32", 32619, Projected},
		{"dem/presidential_clearance_dm_from_316185_4904535.tif", "Int16", 32619, Projected},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			path := reference(t, c.name)
			g := checkCorners(t, path)
			if code := max(g.ProjectedCRS, g.GeographicCRS); c.model == Projected && g.ProjectedCRS != c.epsg || c.model == Geographic && code != c.epsg {
				t.Errorf("got codes %d, %d, want %d", g.ProjectedCRS, g.GeographicCRS, c.epsg)
			}
			if g.Model != c.model {
				t.Errorf("got model %d, want %d", g.Model, c.model)
			}
			p := openFile(t, path).Pages()[0]
			got, err := p.Samples(t.Context(), p.Bounds())
			if err != nil {
				t.Fatal(err)
			}
			none, has := p.NoData()
			for i, w := range export(t, path, p.Width, p.Height, 1, c.kind).values {
				if blank := has && w == none; blank != math.IsNaN(got[i]) || !blank && got[i] != w {
					t.Fatalf("sample %d: got %v, want %v", i, got[i], w)
				}
			}
		})
	}
}

// TestGDALPlaces: what gdal_translate writes about place.
func TestGDALPlaces(t *testing.T) {
	needGDAL(t)
	for _, c := range []struct {
		name, args string
		check      func(*Geo) bool
	}{
		{"area", "-a_srs EPSG:27700 -a_ullr 400000 310000 401500 309000", func(g *Geo) bool { return g.ProjectedCRS == 27700 && !g.PointRaster }},
		{"point", "-a_srs EPSG:32633 -a_ullr 400000 310000 401500 309000 -mo AREA_OR_POINT=Point", func(g *Geo) bool { return g.PointRaster }},
		{"geographic", "-a_srs EPSG:4326 -a_ullr 5 50 6 49", func(g *Geo) bool { return g.Model == Geographic && g.GeographicCRS == 4326 }},
		{"geographic, version 1.1", "-a_srs EPSG:4258 -a_ullr 5 50 6 49 -co GEOTIFF_VERSION=1.1", func(g *Geo) bool { return g.GeographicCRS == 4258 }},
		{"feet", "-a_srs EPSG:2263 -a_ullr 1000000 210000 1001500 209000", func(g *Geo) bool {
			unit, _ := g.Number(3076)
			return g.ProjectedCRS == 2263 && unit == 9003
		}},
		{
			"user-defined projection", "-a_srs +proj=tmerc+lat_0=12.5+lon_0=34.25+k=0.9998+x_0=2000+y_0=1000+ellps=airy+units=m -a_ullr 0 1500 1500 0",
			func(g *Geo) bool {
				method, _ := g.Number(3075)
				lat, _ := g.Number(3081)
				lon, _ := g.Number(3080)
				k, _ := g.Number(3092)
				return g.ProjectedCRS == UserDefined && method == 1 && lat == 12.5 && lon == 34.25 && k == 0.9998
			},
		},
		{"south up", "-a_srs EPSG:27700 -a_ullr 400000 309000 401500 310000", func(g *Geo) bool { return true }},
		{"BigTIFF big-endian", "-a_srs EPSG:27700 -a_ullr 400000 310000 401500 309000 -co BIGTIFF=YES -co ENDIANNESS=BIG", func(g *Geo) bool { return g.ProjectedCRS == 27700 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			args := strings.Fields(c.args)
			for i, a := range args {
				if strings.HasPrefix(a, "+proj") {
					args[i] = strings.ReplaceAll(a, "+", " +")
				}
			}
			path := made1{bands: 1, kind: "Byte", most: 255}.makeWith(t, 60, 40, args)
			g := checkCorners(t, path)
			if !c.check(g) {
				t.Errorf("got %+v", g)
			}
			if len(g.Notes) > 0 && c.name != "south up" {
				t.Errorf("got notes %q, want none", g.Notes)
			}
		})
	}
}

// TestGDALTiePoints: several tie points come as points, with the half pixel
// of PixelIsPoint, and give no transform.
func TestGDALTiePoints(t *testing.T) {
	needGDAL(t)
	for _, extra := range []string{"", " -mo AREA_OR_POINT=Point"} {
		path := made1{bands: 1, kind: "Byte", most: 255}.makeWith(t, 60, 40, strings.Fields("-a_srs EPSG:27700 -gcp 3 4 400010 309990"+
			" -gcp 50.5 4.25 400200 309995 -gcp 3 36 400015 309800 -gcp 51 37 400205 309805"+extra))
		want := gdalInfo(t, path).GCPs.List
		g := openFile(t, path).Pages()[0].Geo()
		if g == nil || len(g.Points) != 4 || len(want) != 4 {
			t.Fatalf("got %+v, want the 4 points %v", g, want)
		}
		for i, w := range want {
			if p := g.Points[i]; math.Abs(p.Column-w.Pixel) > 1e-6 || math.Abs(p.Row-w.Line) > 1e-6 || p.X != w.X || p.Y != w.Y {
				t.Errorf("point %d%s: got %+v, want %+v", i, extra, p, w)
			}
		}
		if a, ok := g.Affine(); ok {
			t.Errorf("got the transform %+v from tie points alone, want none", a)
		}
	}
}

// TestGeoByHand: matrices, half pixels and contradictions, against sums done
// by hand.
func TestGeoByHand(t *testing.T) {
	t.Parallel()
	geo := func(more ...tagged) *Geo {
		return openBytes(t, simple(binary.LittleEndian, false, 20, 12, 4, more...)).Pages()[0].Geo()
	}
	keys := func(v ...float64) tagged { return short(tagGeoKeys, v...) }
	scale := double(tagPixelScale, 10, 10, 0)
	tie := double(tagTiepoint, 0, 0, 0, 500000, 200000, 0)
	matrix := double(tagTransformation, 3, 4, 0, 1000, 4, -3, 0, 2000, 0, 0, 0, 0, 0, 0, 0, 1)
	point := keys(1, 1, 0, 1, 1025, 0, 1, 2)
	for _, c := range []struct {
		name  string
		g     *Geo
		want  Affine
		ok    bool
		notes int
	}{
		{"scale and tie point", geo(scale, tie), Affine{500000, 10, 0, 200000, 0, -10}, true, 0},
		{"tie point elsewhere", geo(scale, double(tagTiepoint, 4, 3, 0, 500000, 200000, 0)), Affine{499960, 10, 0, 200030, 0, -10}, true, 0},
		{"centre of the pixel", geo(scale, tie, point), Affine{499995, 10, 0, 200005, 0, -10}, true, 0},
		{"matrix", geo(matrix), Affine{1000, 3, 4, 2000, 4, -3}, true, 0},
		{"matrix, centre of the pixel", geo(matrix, point), Affine{996.5, 3, 4, 1999.5, 4, -3}, true, 0},
		{"south up", geo(double(tagPixelScale, 10, -10, 0), tie), Affine{500000, 10, 0, 200000, 0, 10}, true, 1},
		{"both ways", geo(scale, tie, matrix), Affine{500000, 10, 0, 200000, 0, -10}, true, 1},
		{
			"two tie points that agree", geo(scale, double(tagTiepoint, 0, 0, 0, 500000, 200000, 0, 20, 12, 0, 500200, 199880, 0)),
			Affine{500000, 10, 0, 200000, 0, -10},
			true, 0,
		},
		{
			"two that do not", geo(scale, double(tagTiepoint, 0, 0, 0, 500000, 200000, 0, 20, 12, 0, 500210, 199880, 0)),
			Affine{500000, 10, 0, 200000, 0, -10},
			true, 1,
		},
		{"no scale", geo(tie), Affine{}, false, 0},
		{"no tie point", geo(scale), Affine{}, false, 0},
		{"scale of zero", geo(double(tagPixelScale, 0, 10, 0), tie), Affine{}, false, 0},
		{"scale that is no number", geo(double(tagPixelScale, math.NaN(), 10, 0), tie), Affine{}, false, 0},
		{"tie point that is no number", geo(scale, double(tagTiepoint, 0, 0, 0, math.Inf(1), 0, 0)), Affine{}, false, 1},
		{"matrix without area", geo(double(tagTransformation, 1, 1, 0, 0, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1)), Affine{}, false, 0},
		{"keys cut off", geo(scale, tie, keys(1, 1)), Affine{500000, 10, 0, 200000, 0, -10}, true, 1},
		{"keys that point beyond", geo(scale, tie, keys(1, 1, 0, 2, 3080, 34736, 9, 9, 1026, 34737, 99, 7)), Affine{500000, 10, 0, 200000, 0, -10}, true, 1},
		{"keys of an unknown place", geo(scale, tie, keys(1, 1, 0, 1, 3080, 77, 1, 0)), Affine{500000, 10, 0, 200000, 0, -10}, true, 1},
		{"more keys than there are", geo(scale, tie, keys(1, 1, 0, 900, 3072, 0, 1, 27700)), Affine{500000, 10, 0, 200000, 0, -10}, true, 0},
	} {
		a, ok := c.g.Affine()
		if ok != c.ok || ok && a != c.want {
			t.Errorf("%s: got %+v, %v, want %+v, %v", c.name, a, ok, c.want, c.ok)
		}
		if len(c.g.Notes) != c.notes {
			t.Errorf("%s: got notes %q, want %d", c.name, c.g.Notes, c.notes)
		}
	}
	if g := geo(); g != nil {
		t.Errorf("got %+v from a file without georeferencing, want nothing", g)
	}
}

// TestGeoTexts: citations are cut out of the text they share.
func TestGeoTexts(t *testing.T) {
	t.Parallel()
	g := openBytes(t, simple(binary.BigEndian, true, 20, 12, 4, ascii(tagGeoASCII, "Moss Isle grid|Airy|"),
		short(tagGeoKeys, 1, 1, 0, 3, 1026, 34737, 15, 0, 2049, 34737, 5, 15, 3072, 0, 1, UserDefined))).Pages()[0].Geo()
	if g.Citation != "Moss Isle grid" || g.GeographicCitation != "Airy" || g.ProjectedCRS != UserDefined || len(g.Keys) != 3 {
		t.Errorf("got %+v", g)
	}
}
