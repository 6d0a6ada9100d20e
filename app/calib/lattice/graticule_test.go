package lattice

import (
	"errors"
	"image"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// latLonSheet draws lines of latitude and longitude, each so many minutes, in
// the transverse Mercator of EPSG:27700 at 10 m a pixel: column 0, row 0 at
// E 100 000, N 800 000. The lines are on the grid's own datum.
func latLonSheet(t *testing.T, latMin, lonMin float64) (*image.Gray, *geodesy.System, func(geodesy.LatLon) (geodesy.Grid, error)) {
	t.Helper()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	own := func(at geodesy.LatLon) (geodesy.Grid, error) {
		g, _, err := system.Project(at)
		return g, err
	}
	const w, h = 2000, 1600
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = 236
	}
	dot := func(lat, lon float64) {
		g, err := own(geodesy.DegLatLon(lat, lon))
		if err != nil {
			return
		}
		col, row := (g.E-100_000)/10-0.5, (800_000-g.N)/10-0.5
		for y := int(row) - 1; y <= int(row)+2; y++ {
			for x := int(col) - 1; x <= int(col)+2; x++ {
				if !image.Pt(x, y).In(m.Rect) {
					continue
				}
				far := math.Hypot(float64(x)-col, float64(y)-row)
				if ink := uint8(60 + 176*math.Min(1, far/1.4)); ink < m.GrayAt(x, y).Y {
					m.Pix[m.PixOffset(x, y)] = ink
				}
			}
		}
	}
	for lat := 56.5; lat < 57.3; lat += latMin / 60 {
		for lon := -7.1; lon < -6.5; lon += 0.00008 {
			dot(lat, lon)
		}
	}
	for lon := -7.5; lon < -6.4; lon += lonMin / 60 {
		for lat := 56.8; lat < 57.1; lat += 0.00005 {
			dot(lat, lon)
		}
	}
	return m, system, own
}

// On a sheet whose only lines are latitude and longitude one named intersection
// makes all of them control points, and the sheet lies where it was drawn.
func TestLatitudes(t *testing.T) {
	t.Parallel()
	m, _, own := latLonSheet(t, 2, 5)
	l, why := find(t, m)
	if l == nil {
		t.Fatal(why)
	}
	if !l.Oblong {
		t.Errorf("cells of %.0f × %.0f px are called squares", l.WidthPx, l.HeightPx)
	}
	g := Graticule{Lat: units.Degrees(2. / 60), Lon: units.Degrees(5. / 60), Project: own}
	pixel := func(lat, lon float64) calib.PicturePt {
		at, err := own(geodesy.DegLatLon(lat, lon))
		if err != nil {
			t.Fatal(err)
		}
		return calib.PicturePt{Col: (at.E - 100_000) / 10, Row: (800_000 - at.N) / 10}
	}
	one := LatLonName{pixel(56.5+14*2./60, -7.5+8*5./60), geodesy.DegLatLon(56.5+14*2./60, -7.5+8*5./60)}
	points, err := l.Latitudes([]LatLonName{one}, g)
	if err != nil {
		t.Fatal(err)
	}
	fit, err := calib.Fit(points, calib.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d intersections, rms %.2f px", len(points), fit.RMSPx())
	if len(points) < 9 || fit.RMSPx() > 0.35 {
		t.Errorf("got %d intersections, rms %.2f px", len(points), fit.RMSPx())
	}
	for _, at := range []calib.PicturePt{{Col: 1000, Row: 800}, {Col: 200, Row: 1500}, {Col: 1900, Row: 100}} {
		got := fit.ToGrid(at)
		if off := math.Hypot(got.E-100_000-10*at.Col, got.N-800_000+10*at.Row) / 10; off > 0.4 {
			t.Errorf("%v lies %.2f px beside its place", at, off)
		}
	}
	far := geodesy.DegLatLon(56.5+12*2./60, -7.5+9*5./60)
	right, wrong := LatLonName{pixel(far.Lat.Deg(), far.Lon.Deg()), far}, LatLonName{pixel(far.Lat.Deg(), far.Lon.Deg()), geodesy.DegLatLon(56.5+13*2./60, -7.5+9*5./60)}
	for _, tc := range []struct {
		name  string
		names []LatLonName
		g     Graticule
		want  error
	}{
		{"two that agree", []LatLonName{one, right}, g, nil},
		{"a line too far", []LatLonName{one, wrong}, g, ErrDisagree},
		{"lines of another shape", []LatLonName{one}, Graticule{Lat: g.Lat, Lon: 2 * g.Lon, Project: own}, ErrDisagree},
		{"between intersections", []LatLonName{{pixel(56.5+14.5*2./60, -7.5+8.5*5./60), one.Ref}}, g, ErrNoIntersection},
		{"nothing named", nil, g, ErrNoIntersection},
		{"no step", []LatLonName{one}, Graticule{Lon: 1, Project: own}, ErrStep},
	} {
		if _, err := l.Latitudes(tc.names, tc.g); !errors.Is(err, tc.want) {
			t.Errorf("%s: got %v, want %v", tc.name, err, tc.want)
		}
	}
}
