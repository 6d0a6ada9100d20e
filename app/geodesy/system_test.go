package geodesy

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestLookup(t *testing.T) {
	t.Parallel()
	if got := len(Catalogue()); got != 257 {
		t.Errorf("catalogue: got %d grids, want 257", got)
	}
	for _, s := range Catalogue() {
		if again, err := Lookup(s.Code()); err != nil || again != s {
			t.Errorf("EPSG:%d: got %v, %v", s.EPSG(), again, err)
		}
		if s.Name() == "" || s.Country() == "" || s.AreaWords() == "" {
			t.Errorf("EPSG:%d lacks words", s.EPSG())
		}
	}
	var unknown *UnknownSystem
	if _, err := Lookup(EPSG(32600)); !errors.As(err, &unknown) || unknown.EPSG != 32600 {
		t.Errorf("got %v, want UnknownSystem 32600", err)
	}
}

func TestCatalogueIsOnesOwn(t *testing.T) {
	t.Parallel()
	Catalogue()[0] = nil
	if Catalogue()[0] == nil {
		t.Error("a caller can spoil the catalogue")
	}
}

func TestFind(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		first int
		count int
	}{
		{"scotland", 27700, 1},
		{"Ireland iren", 2157, 1},
		{"irish transverse", 2157, 1},
		{"irish grid", 29903, 1},
		{"2193", 2193, 1},
		{"EPSG:32630", 32630, 1},
		{"utm zone 30", 25830, 3},
		{"utm30", 25830, 3},
		{"UTM30N", 25830, 2},
		{"utm60s", 32760, 1},
		{"32661", 5041, 1},
		{"epsg:32761", 5042, 1},
		{"30n wgs", 32630, 1},
		{"wgs84/utm30", 32630, 2},
		{"mga55", 7855, 1},
		{"mga zone 55", 7855, 1},
		{"schweiz", 2056, 2},
		{"Deutschland", 31466, 4},
		{"gauss-krüger", 31466, 4},
		{"japan ix", 6677, 2},
		{"norge", 5105, 26},
		{"nad27", 26701, 22},
		{"lambert conformal conic", 3057, 5},
		{"web mercator", 3857, 1},
		{"degrees", 4326, 1},
		{"", 27700, 257},
		{"atlantis", 0, 0},
	} {
		got := Find(c.text)
		if len(got) != c.count {
			t.Errorf("%q: got %d grids, want %d", c.text, len(got), c.count)
		}
		if len(got) > 0 && got[0].EPSG() != c.first {
			t.Errorf("%q: got %d first, want %d", c.text, got[0].EPSG(), c.first)
		}
	}
}

// TestOutsideSeriesWords: the sentence names the measure that is too large.
func TestOutsideSeriesWords(t *testing.T) {
	t.Parallel()
	s := UTM(30, true)
	for _, c := range []struct {
		name string
		g    Grid
		want string
	}{
		{"east", Grid{E: 1e9, N: 5e6}, "999500 km from the central meridian is too far"},
		{"north", Grid{E: 500000, N: 1e9}, "km from the equator is too far"},
	} {
		if _, _, err := s.Unproject(c.g); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
	if _, err := s.FormatRef(Grid{E: 1e300, N: 0}, 6); err == nil || len(err.Error()) > 120 {
		t.Errorf("got %v, want one short sentence", err)
	}
}

func TestProjectRefuses(t *testing.T) {
	t.Parallel()
	s := UTM(30, true)
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name string
		ll   LatLon
		want error
	}{
		{"NaN latitude", DegLatLon(nan, 0), ErrNotFinite},
		{"infinite longitude", DegLatLon(0, inf), ErrNotFinite},
		{"latitude 999", DegLatLon(999, 0), ErrBadLatLon},
		{"longitude 400", DegLatLon(0, 400), ErrBadLatLon},
		{"the other side", DegLatLon(50, 100), ErrOutsideSeries},
	} {
		if _, _, err := s.Project(c.ll); !errors.Is(err, c.want) {
			t.Errorf("%s: Project got %v, want %v", c.name, err, c.want)
		}
		if _, _, _, err := s.FromWGS84(c.ll); !errors.Is(err, c.want) {
			t.Errorf("%s: FromWGS84 got %v, want %v", c.name, err, c.want)
		}
	}
	for _, c := range []struct {
		name string
		g    Grid
		want error
	}{
		{"NaN easting", Grid{E: nan, N: 0}, ErrNotFinite},
		{"infinite northing", Grid{E: 0, N: inf}, ErrNotFinite},
		{"huge easting", Grid{E: 1e12, N: 0}, ErrOutsideSeries},
		{"beyond the pole", Grid{E: 500000, N: 1.1e7}, ErrOutsideSeries},
	} {
		if _, _, err := s.Unproject(c.g); !errors.Is(err, c.want) {
			t.Errorf("%s: Unproject got %v, want %v", c.name, err, c.want)
		}
		if _, _, err := s.ToWGS84(c.g); !errors.Is(err, c.want) {
			t.Errorf("%s: ToWGS84 got %v, want %v", c.name, err, c.want)
		}
		if _, err := GroundDistance(s, c.g, Grid{E: 500000, N: 5e6}); !errors.Is(err, c.want) {
			t.Errorf("%s: GroundDistance got %v, want %v", c.name, err, c.want)
		}
	}
}

func TestContains(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		epsg     int
		lat, lon float64
		want     bool
	}{
		{27700, 57, -4, true},
		{27700, 48, 2, false},
		{2193, -41, 175, true},
		{2193, -41, 179, false},
		{32601, 10, -180, true},
		{32601, 10, 180, true}, // the same meridian
		{32660, 10, 180, true},
		{32660, 10, -180, true},
		{32632, 60, 4, true}, // Norway's exception
		{32632, 50, 4, false},
		{32633, 78, 10, true}, // Svalbard's
		{32731, -10, 3, true},
		{32731, 10, 3, false},
		{5041, 89, 123, true},
		{5041, 50, 123, false},
	} {
		if got := mustLookup(c.epsg).Contains(DegLatLon(c.lat, c.lon)); got != c.want {
			t.Errorf("EPSG:%d at %g, %g: got %v, want %v", c.epsg, c.lat, c.lon, got, c.want)
		}
	}
	if mustLookup(27700).Contains(DegLatLon(math.NaN(), 0)) {
		t.Error("NaN is contained")
	}
}

func TestSystemsAt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		lat, lon float64
		want     []int
	}{
		{"Scotland", 57, -4, []int{27700, 25830, 32630}},
		{"Mull of Kintyre", 55.30, -5.78, []int{27700, 25830, 32630}},
		{"Rathlin", 55.29, -6.2, []int{2157, 29903, 25829, 32629}},
		{"Kerry", 52, -9.8, []int{2157, 29903, 25829, 32629}},
		{"Pembrokeshire", 51.88, -5.3, []int{27700, 25830, 32630}},
		{"Otago", -45, 169, []int{2193, 32759}},
		{"Bergen", 60.4, 5.3, []int{25832, 25831, 32632, 5105}},
		{"the Jura", 47.2, 7, []int{2056, 21781, 2154, 25832, 32632}},
		{"the Ardennes", 50.2, 5.6, []int{3812, 31370, 2154, 25831, 32631}},
		{"the Black Forest", 48, 8.2, []int{31467, 2154, 25832, 32632}},
		{"Lapland", 68.3, 23.5, []int{3067, 3006, 25834, 32634}},
		{"Iceland", 64.8, -18.5, []int{3057, 32627}},
		{"Tasmania", -42.2, 146.5, []int{7855, 32755}},
		{"Hokkaido", 43.5, 142.9, []int{6681, 6680, 32654}},
		{"Colorado", 39, -105.5, []int{32613, 26913, 26713}},
		{"the pole", 90, 0, []int{5041}},
	} {
		var got []int
		for _, s := range SystemsAt(DegLatLon(c.lat, c.lon)) {
			if s.rank != rankWide {
				got = append(got, s.EPSG())
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
	if _, err := At(999, 0); !errors.Is(err, ErrBadLatLon) {
		t.Errorf("got %v, want ErrBadLatLon", err)
	}
}

func TestProjectAllocatesNothing(t *testing.T) {
	s, ll := mustLookup(27700), DegLatLon(57, -4)
	var g Grid
	if n := testing.AllocsPerRun(100, func() { g, _, _ = s.Project(ll) }); n != 0 {
		t.Errorf("Project: %v allocations", n)
	}
	if n := testing.AllocsPerRun(100, func() { _, _, _ = s.Unproject(g) }); n != 0 {
		t.Errorf("Unproject: %v allocations", n)
	}
}
