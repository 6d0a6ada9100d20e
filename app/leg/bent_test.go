package leg

import (
	"math"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// On grids that do not keep angles a reading is that of the ground: true
// bearing and distance are those of the same two positions on UTM, to what a
// straight line on either sheet differs from the other over 2 km, and the caution
// says so. The grid bearings differ by degrees.
func TestBentGridsReadTheGround(t *testing.T) {
	t.Parallel()
	places := [][2]float64{{60.2, 8.3}, {43.1, 0.4}, {-33.5, 150.2}, {66.1, -18.2}}
	for _, at := range places {
		for _, epsg := range []int{3857, 4326, 3035} {
			if epsg == 3035 && at[0] < 0 {
				continue
			}
			for _, step := range [][2]float64{{0.012, 0.02}, {-0.015, 0.01}, {0, 0.02}, {0.015, 0}} {
				from := geodesy.DegLatLon(at[0], at[1])
				to := geodesy.DegLatLon(at[0]+step[0], at[1]+step[1])
				zone, north := geodesy.UTMZoneFor(from)
				want := sightBetween(t, geodesy.UTM(zone, north), from, to)
				sys, err := geodesy.Lookup(geodesy.EPSG(epsg))
				if err != nil {
					t.Fatal(err)
				}
				got := sightBetween(t, sys, from, to)
				if d := (got.True.Angle() - want.True.Angle()).Signed().Deg(); math.Abs(d) > 0.04 {
					t.Errorf("EPSG:%d at %v by %v: true %v, want %v", epsg, at, step, got.True.Angle().Deg(), want.True.Angle().Deg())
				}
				if d := (got.Magnetic.Angle() - want.Magnetic.Angle()).Signed().Deg(); math.Abs(d) > 0.04 {
					t.Errorf("EPSG:%d at %v by %v: magnetic %v, want %v", epsg, at, step, got.Magnetic.Angle().Deg(), want.Magnetic.Angle().Deg())
				}
				if d := got.GroundM/want.GroundM - 1; math.Abs(d) > 2e-6 {
					t.Errorf("EPSG:%d at %v by %v: ground %v m, want %v", epsg, at, step, got.GroundM, want.GroundM)
				}
				if sum := (got.Grid.Angle() + got.Convergence.Angle() - got.True.Angle()).Signed(); math.Abs(float64(sum)) > 1e-12 {
					t.Errorf("EPSG:%d: grid + convergence is off true by %v", epsg, sum)
				}
				if !got.Has(caution.BentGrid) || want.Has(caution.BentGrid) {
					t.Errorf("EPSG:%d: cautions %v", epsg, got.Cautions)
				}
			}
		}
	}
}

func sightBetween(t *testing.T, sys *geodesy.System, from, to geodesy.LatLon) Reading {
	t.Helper()
	a, _, _, err := sys.FromWGS84(from)
	if err != nil {
		t.Fatal(err)
	}
	b, _, _, err := sys.FromWGS84(to)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sightOn(sys, day, a, b, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// At 60° N on a picture ruled in degrees, metres of the sheet are half as long
// to the east: an end known to 10 m along the equator is known to 5 m there.
func TestBentGridSigmas(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(4326))
	if err != nil {
		t.Fatal(err)
	}
	a, _, _, _ := sys.FromWGS84(geodesy.DegLatLon(60, 5))
	r, err := sightOn(sys, day, a, geodesy.Grid{E: a.E + 2000, N: a.N}, 10, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := r.DistanceSigmaM; math.Abs(got-5) > 0.03 {
		t.Errorf("distance σ %v m, want 5", got)
	}
	// across the line 10 m north-south at 1000 m: 0.573°, not 10/2000
	if got, want := r.TrueSigma.Deg(), units.Angle(10.0/1000).Deg(); math.Abs(got-want) > 0.01 {
		t.Errorf("true σ %v°, want %v", got, want)
	}
}
