package geodesy

import (
	"fmt"
	"math"
	"testing"

	"legwright/app/units"
)

// GeodSolve, 500 lines of 10 m to 50 km: the ground distance of the straight
// grid line agrees with the geodesic within 2 parts in 10⁷, and grid bearing
// plus convergence agrees with the geodesic's bearing at its start within what
// a straight grid line and a geodesic part by: 0.0014° up to 10 km, 0.0060° up
// to 50 km inside a UTM zone.
func TestLegsAgainstGeodesics(t *testing.T) {
	t.Parallel()
	worstRatio, worstShort, worstLong := 0.0, 0.0, 0.0
	for i, r := range vectors(t, "geodsolve_walk_distances_500.tsv", 500) {
		what := fmt.Sprintf("row %d", i+1)
		from := DegLatLon(r.num(t, "lat1_deg"), r.num(t, "lon1_deg"))
		to := DegLatLon(r.num(t, "lat2_deg"), r.num(t, "lon2_deg"))
		length := r.num(t, "s12_m")
		s := UTM(UTMZoneFor(from))
		a, f, errA := s.Project(from)
		b, _, errB := s.Project(to)
		if errA != nil || errB != nil {
			t.Fatalf("%s: %v, %v", what, errA, errB)
		}
		ground, err := GroundDistance(s, a, b)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		// The table's coordinates have 11 decimals, 2 µm at the two ends.
		near(t, what+" ground distance", ground, length, 2e-7*length+3e-6)
		worstRatio = max(worstRatio, math.Abs(ground/length-1))

		grid, ok := units.GridBearingOf(b.E-a.E, b.N-a.N)
		if !ok {
			t.Fatalf("%s: no bearing", what)
		}
		off := math.Abs((grid.True(f.Convergence).Angle() - units.Degrees(r.num(t, "azi1_deg"))).Signed().Deg())
		bound := 0.0060
		if length <= 10000 {
			bound, worstShort = 0.0014, max(worstShort, off)
		}
		worstLong = max(worstLong, off)
		near(t, what+" bearing", off, 0, bound)
	}
	t.Logf("worst: length %.2g, bearing %.5f° to 10 km, %.5f° to 50 km", worstRatio, worstShort, worstLong)
}
