package geodesy

import "testing"

// NAD27's shift depends on the position; all shifts are the published ones.
func TestShiftsOfTheWorld(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		epsg     int
		lat, lon float64
		name     string
		sigmaM   float64
	}{
		{26713, 39, -105, "three-parameter shift (NAD27, 48 states)", 5},
		{26712, 55, -111, "three-parameter shift (NAD27, Canada)", 10},
		{26706, 64, -147, "three-parameter shift (NAD27, Alaska)", 6},
		{26714, 20, -99, "three-parameter shift (NAD27, Mexico)", 6},
		{26913, 39, -105, "NAD83 treated as WGS 84", 2},
		{2056, 47, 8, "three-parameter shift (swisstopo)", 0.5},
		{31370, 50.5, 5, "seven-parameter shift (IGN Belgium)", 0.5},
		{31467, 50, 9, "seven-parameter shift (BKG, western Germany)", 1.5},
		{2154, 45, 6, "RGF93 treated as WGS 84", 0.5},
		{7855, -42, 147, "GDA2020 treated as WGS 84", 1.5},
		{32630, 57, -4, "none needed", 0},
	} {
		s := mustLookup(c.epsg)
		g, _, shift, err := s.FromWGS84(DegLatLon(c.lat, c.lon))
		if err != nil || shift.Name != c.name || shift.SigmaM != c.sigmaM {
			t.Errorf("EPSG:%d: got %+v, %v, want %q %g", c.epsg, shift, err, c.name, c.sigmaM)
		}
		back, _, err := s.ToWGS84(g)
		if err != nil {
			t.Fatal(err)
		}
		near(t, s.name+" back latitude", back.Lat.Deg(), c.lat, 1e-10)
		near(t, s.name+" back longitude", back.Lon.Deg(), c.lon, 1e-10)
	}
}
