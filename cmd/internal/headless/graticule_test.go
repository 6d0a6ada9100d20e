package headless

import (
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// latLonPicture draws lines of latitude each 2' and longitude each 5' on WGS 84
// in EPSG:27700, at 15 m a pixel from E 100 000, N 800 000, and gives the pixel
// of the intersection 56°54'N 6°45'W.
func latLonPicture(t *testing.T) (name string, col, row float64) {
	t.Helper()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	place := func(lat, lon float64) (col, row float64) {
		g, _, _, err := system.FromWGS84(geodesy.DegLatLon(lat, lon))
		if err != nil {
			t.Fatal(err)
		}
		return (g.E - 100_000) / 15, (800_000 - g.N) / 15
	}
	m := image.NewGray(image.Rect(0, 0, 1350, 1050))
	for i := range m.Pix {
		m.Pix[i] = 236
	}
	dot := func(lat, lon float64) {
		col, row := place(lat, lon)
		for y := int(row - 1); y <= int(row+1); y++ {
			for x := int(col - 1); x <= int(col+1); x++ {
				if image.Pt(x, y).In(m.Rect) {
					ink := 60 + 176*math.Min(1, math.Hypot(float64(x)+0.5-col, float64(y)+0.5-row)/1.4)
					m.Pix[m.PixOffset(x, y)] = min(m.Pix[m.PixOffset(x, y)], uint8(ink))
				}
			}
		}
	}
	for i := range 9 {
		for lon := -7.0; lon < -6.55; lon += 0.00013 {
			dot(56.8+float64(i)/30, lon)
		}
	}
	for i := range 5 {
		for lat := 56.83; lat < 57.07; lat += 0.00008 {
			dot(lat, -7+float64(i)/12+1e-12)
		}
	}
	name = filepath.Join(t.TempDir(), "lines.png")
	f, err := os.Create(name)
	if err == nil {
		err = png.Encode(f, m)
	}
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	col, row = place(56.9, -6.75)
	return name, col, row
}

// One intersection named in latitude and longitude makes all of them control
// points, on the datum that is named.
func TestGraticule(t *testing.T) {
	t.Parallel()
	name, col, row := latLonPicture(t)
	find := []string{"find-grid", "--grid", "EPSG:27700", "--picture", name, "--at", "600,500", "--json"}
	named := fmt.Sprintf("%.0f,%.0f=", col, row)
	at := func(more ...string) (e, n float64, all string) {
		o := run(t, "", append(append([]string{}, find...), more...)...).object(t)
		place := o["at"].([]any)[0].(map[string]any)
		return place["easting_m"].(float64), place["northing_m"].(float64), fmt.Sprint(o["cautions"], o["medium"], o["lattice"])
	}
	e, n, all := at("--name", named+"56°54'N 6°45'W", "--graticule", "2,5")
	wantNear(t, "easting", e, 109_000, 6)
	wantNear(t, "northing", n, 792_500, 6)
	for _, w := range []string{"latlon-datum", "scan", "graticule_min:[2 5]"} {
		if !strings.Contains(all, w) {
			t.Errorf("got %s, want %q", all, w)
		}
	}
	eOwn, nOwn, _ := at("--name", named+"56.9N 6.75W", "--graticule", "2,5", "--datum", "own")
	if off := math.Hypot(eOwn-e, nOwn-n); off < 50 || off > 200 { // OSGB36 lies some hundred metres from WGS 84
		t.Errorf("own datum: %.0f m elsewhere, want 50 to 200", off)
	}
	for _, tc := range []struct {
		args []string
		want string
		code int
	}{
		{[]string{"--name", named + "56°54'N 6°45'W", "--graticule", "5"}, "is not on a line of latitude", 1},
		{[]string{"--name", named + "56°54'N 6°45'W", "--graticule", "2,3"}, "times as high as it is wide", 1},
		{[]string{"--name", named + "NG 000 000", "--graticule", "2,5"}, "give latitude and longitude", 1},
		{[]string{"--graticule", "2,5"}, "needs a --name", 2},
		{[]string{"--name", named + "56°54'N 6°45'W", "--graticule", "0"}, "minutes between lines", 2},
		{[]string{"--name", named + "56°54'N 6°45'W", "--graticule", "2,5", "--datum", "none"}, "own or wgs84", 2},
	} {
		if got := run(t, "", append(append([]string{}, find...), tc.args...)...); got.code != tc.code || !strings.Contains(got.out+got.err, tc.want) {
			t.Errorf("%v: exit %d, %s%s; want %d and %q", tc.args, got.code, got.out, got.err, tc.code, tc.want)
		}
	}
}

// Latitude and longitude among control points are read on the datum that was
// given, and the rule stands once.
func TestPointsInLatLon(t *testing.T) {
	t.Parallel()
	points := "col,row,ref\n300,300,\"56°10'N 6°20'W\"\n2300,310,56.1667N 6W\n300,2300,latlon: 56 -6.3333\n"
	args := []string{"fit", "--grid", "EPSG:27700", "--points", "-", "--at", "300,300", "--json"}
	var got [2][2]float64
	for i, datum := range []string{"wgs84", "own"} {
		o := run(t, points, append(append([]string{}, args...), "--datum", datum)...).object(t)
		at := o["at"].([]any)[0].(map[string]any)
		got[i] = [2]float64{at["easting_m"].(float64), at["northing_m"].(float64)}
		if n := strings.Count(fmt.Sprint(o["cautions"]), "latlon-datum"); n != 1 {
			t.Errorf("%s: the datum stands %d times, want once", datum, n)
		}
	}
	if off := math.Hypot(got[0][0]-got[1][0], got[0][1]-got[1][1]); off < 50 || off > 200 {
		t.Errorf("the datums lie %.0f m apart, want 50 to 200", off)
	}
}
