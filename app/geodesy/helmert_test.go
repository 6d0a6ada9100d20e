package geodesy

import (
	"testing"

	"legwright/app/geodesy/earth"
)

// Ordnance Survey guide, Annexe B (its numbers checked with PROJ, not against the print):
// Airy 1830 to geocentric and back.
func TestGeocentric(t *testing.T) {
	t.Parallel()
	ll := DegLatLon(52+39.0/60+27.2531/3600, 1+43.0/60+4.5177/3600)
	p := earth.Airy1830().Geocentric(ll, 24.700)
	near(t, "x", p.X, 3874938.849, 0.001)
	near(t, "y", p.Y, 116218.624, 0.001)
	near(t, "z", p.Z, 5047168.208, 0.001)
	back, h := earth.Airy1830().Geographic(p)
	near(t, "latitude", float64(back.Lat-ll.Lat), 0, 1e-14)
	near(t, "longitude", float64(back.Lon-ll.Lon), 0, 1e-14)
	near(t, "height", h, 24.700, 1e-8)
}

// IOGP 373-7-2, method 9602 (its numbers checked with PROJ, not against the print).
func TestGeocentricWGS84(t *testing.T) {
	t.Parallel()
	p := WGS84().Geocentric(DegLatLon(53+48.0/60+33.820/3600, 2+7.0/60+46.380/3600), 73)
	near(t, "x", p.X, 3771793.968, 0.0006)
	near(t, "y", p.Y, 140253.342, 0.0006)
	near(t, "z", p.Z, 5124304.349, 0.0006)
}

func TestIrishShiftCloses(t *testing.T) {
	t.Parallel()
	s := mustLookup(29903)
	for _, g := range []Grid{{E: 315904, N: 234671}, {E: 80000, N: 60000}, {E: 340000, N: 440000}} {
		ll, shift, err := s.ToWGS84(g)
		if err != nil || shift.Name != "seven-parameter shift (Ordnance Survey Ireland)" || shift.Identity {
			t.Fatal(shift, err)
		}
		back, _, _, err := s.FromWGS84(ll)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "easting", back.E, g.E, 1e-6)
		near(t, "northing", back.N, g.N, 1e-6)
	}
}

func TestShiftNames(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		epsg     int
		ll       LatLon
		identity bool
	}{
		{2157, DegLatLon(53, -8), true},
		{2193, DegLatLon(-41, 173), true},
		{32630, DegLatLon(50, -3), true},
		{29903, DegLatLon(53, -8), false},
		{27700, DegLatLon(57, -4), false},
	} {
		_, _, shift, err := mustLookup(c.epsg).FromWGS84(c.ll)
		if err != nil || shift.Identity != c.identity || shift.Name == "" {
			t.Errorf("EPSG:%d: got %+v, %v", c.epsg, shift, err)
		}
	}
}
