package geodesy

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"

	"pgregory.net/rapid"
)

// The exact rows bind the claim of the package comment: 1 µm and 1e-9° within
// 55° of the central meridian, 1 mm to 70°.
func TestTransverseMercatorExact(t *testing.T) {
	t.Parallel()
	tm := proj.NewTransverseMercator(WGS84(), proj.TMParams{K0: 0.9996})
	rings := []struct{ toDeg, tolM, tolDeg float64 }{
		{35, 1e-6, 1e-9}, {55, 1e-6, 1e-9}, {65, 1e-5, 1e-9}, {70, 1e-3, 1e-7},
	}
	counts := map[float64]int{}
	worst := map[float64]float64{}
	for i, r := range vectors(t, "tm_exact_wgs84_1000.tsv", 1000) {
		lat, lon := r.num(t, "lat_deg"), r.num(t, "dlon_from_central_meridian_deg")
		e, n := r.num(t, "easting_m_no_false_easting"), r.num(t, "northing_m_from_equator")
		what := fmt.Sprintf("row %d (%g, %g)", i+1, lat, lon)
		p, err := tm.Forward(rad(lat), rad(lon))
		back, errBack := tm.Inverse(e, n)
		if err != nil || errBack != nil {
			t.Fatalf("%s: %v, %v", what, err, errBack)
		}
		for _, ring := range rings {
			if math.Abs(lon) > ring.toDeg {
				continue
			}
			counts[ring.toDeg]++
			// The table gives 9 decimals of metres and 12 of degrees, 0.1 µm.
			near(t, what+" easting", p.E, e, ring.tolM)
			near(t, what+" northing", p.N, n, ring.tolM)
			near(t, what+" convergence", deg(p.ConvRad), r.num(t, "convergence_deg"), ring.tolDeg)
			near(t, what+" scale", p.Scale, r.num(t, "scale"), ring.tolDeg)
			near(t, what+" latitude m", rad(deg(back.LatRad)-lat)*6.4e6, 0, ring.tolM)
			near(t, what+" longitude m", rad(deg(back.LonRad)-lon)*6.4e6*math.Cos(rad(lat)), 0, ring.tolM)
			near(t, what+" back convergence", deg(back.ConvRad), r.num(t, "convergence_deg"), ring.tolDeg)
			near(t, what+" back scale", back.Scale, r.num(t, "scale"), ring.tolDeg)
			worst[ring.toDeg] = max(worst[ring.toDeg], math.Hypot(p.E-e, p.N-n))
			break
		}
	}
	t.Logf("rows by ring %v, worst metres %v", counts, worst)
	if counts[35] != 744 || counts[35]+counts[55]+counts[65]+counts[70] != 1000 {
		t.Errorf("got rows by ring %v, want 744 within 35° and 1000 in all", counts)
	}
}

// IOGP 373-7-2, the OS guide and the ITM example, to the printed digits.
func TestPublishedProjections(t *testing.T) {
	t.Parallel()
	for _, r := range vectors(t, "projection_examples.tsv", 6) {
		t.Run(r["example"], func(t *testing.T) {
			var p proj.Projection = proj.NewPolarStereographic(WGS84(), proj.UPSParams(true))
			if r["method"] == "tm" {
				p = r.tm(t)
			}
			got, err := p.Forward(rad(r.num(t, "lat_deg")), rad(r.num(t, "lon_deg")))
			if err != nil {
				t.Fatal(err)
			}
			tol := r.num(t, "tolerance_m") * 1.0001
			near(t, "easting", got.E, r.num(t, "easting_m"), tol)
			near(t, "northing", got.N, r.num(t, "northing_m"), tol)
			back, err := p.Inverse(r.num(t, "easting_m"), r.num(t, "northing_m"))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "latitude m", (back.LatRad-rad(r.num(t, "lat_deg")))*6.4e6, 0, 2*tol)
			near(t, "longitude m", (back.LonRad-rad(r.num(t, "lon_deg")))*6.4e6, 0, 4*tol)
		})
	}
}

// IOGP GIGS 5101, within the tolerance it publishes. Rows that lie more than
// 70° from the meridian must be refused.
func TestGIGSTransverseMercator(t *testing.T) {
	t.Parallel()
	checked := 0
	for i, r := range vectors(t, "gigs_5101_tm.tsv", 256) {
		tm, tol := r.tm(t), r.num(t, "tolerance_m")
		lat, lon, e, n := r.num(t, "lat_deg"), r.num(t, "lon_deg"), r.num(t, "easting_m"), r.num(t, "northing_m")
		what := fmt.Sprintf("row %d, %s %s", i+1, r["test"], r["direction"])
		if math.Abs(lon-r.num(t, "lon0_deg")) > 70 {
			if _, err := tm.Forward(rad(lat), rad(lon)); !errors.Is(err, ErrOutsideSeries) {
				t.Errorf("%s: got %v, want ErrOutsideSeries", what, err)
			}
			continue
		}
		checked++
		if r["direction"] == "forward" {
			p, err := tm.Forward(rad(lat), rad(lon))
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			near(t, what+" easting", p.E, e, tol)
			near(t, what+" northing", p.N, n, tol)
			continue
		}
		p, err := tm.Inverse(e, n)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		near(t, what+" latitude m", (p.LatRad-rad(lat))*6.4e6, 0, tol)
		near(t, what+" longitude m", (p.LonRad-rad(lon))*6.4e6*math.Cos(rad(lat)), 0, tol)
	}
	if checked < 200 {
		t.Errorf("only %d rows could be checked", checked)
	}
}

// There and back closes to a nanometre or two inside 35°, and convergence and
// scale are those of both ways.
func TestTransverseMercatorRoundTrip(t *testing.T) {
	t.Parallel()
	tm := proj.NewTransverseMercator(earth.Airy1830(), datum.BritishTM())
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-89.9, 89.9).Draw(t, "lat")
		lon := rapid.Float64Range(-37, 33).Draw(t, "lon")
		p, err := tm.Forward(rad(lat), rad(lon))
		if err != nil {
			t.Fatal(err)
		}
		b, err := tm.Inverse(p.E, p.N)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Hypot(b.LatRad-rad(lat), earth.WrapLon(b.LonRad-rad(lon))*math.Cos(rad(lat))) * 6.4e6
		if !(off < 1e-6) {
			t.Fatalf("%g, %g: off by %g m", lat, lon, off)
		}
		if d := math.Abs(earth.WrapLon(b.ConvRad - p.ConvRad)); !(d < 1e-11/math.Cos(rad(lat))) {
			t.Fatalf("%g, %g: convergence %g and %g", lat, lon, p.ConvRad, b.ConvRad)
		}
		if d := math.Abs(b.Scale - p.Scale); !(d < 1e-11) {
			t.Fatalf("%g, %g: scale %g and %g", lat, lon, p.Scale, b.Scale)
		}
	})
}

// Beyond 70° both ways are refused.
func TestTransverseMercatorBound(t *testing.T) {
	t.Parallel()
	tm := proj.NewTransverseMercator(WGS84(), proj.TMParams{K0: 1})
	if _, err := tm.Forward(rad(10), rad(70.001)); !errors.Is(err, ErrOutsideSeries) {
		t.Errorf("forward: got %v, want ErrOutsideSeries", err)
	}
	edge, err := tm.Forward(0, rad(70))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tm.Inverse(edge.E+1000, edge.N); !errors.Is(err, ErrOutsideSeries) {
		t.Errorf("inverse: got %v, want ErrOutsideSeries", err)
	}
}

func TestTransverseMercatorEdges(t *testing.T) {
	t.Parallel()
	tm := proj.NewTransverseMercator(WGS84(), proj.TMParams{Lon0: 177, K0: 0.9996, FalseE: 500000})
	for _, c := range []struct {
		name     string
		lat, lon float64
		convDeg  float64
	}{
		{"equator, east of the meridian", 0, 179, 0},
		{"180° from the east", 40, 180, 1.928795},
		{"180° from the west", 40, -180, 1.928795},
		{"across 180°", 40, -179, 2.571866},
		{"north pole", 90, 177, 0},
		{"south pole", -90, 177, 0},
		{"the bound", 0, 107, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := tm.Forward(rad(c.lat), rad(c.lon))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "convergence, from tan γ ≈ tan Δλ·sin φ", deg(p.ConvRad), c.convDeg, 2e-3)
			b, err := tm.Inverse(p.E, p.N)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "latitude", deg(b.LatRad), c.lat, 1e-12)
			if math.Abs(c.lat) != 90 {
				tol := 1e-14
				if c.name == "the bound" {
					tol = 3e-10 // 2 mm, there and back
				}
				near(t, "longitude", earth.WrapLon(b.LonRad-rad(c.lon)), 0, tol)
			}
		})
	}
}
