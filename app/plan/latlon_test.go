package plan

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// A margin's line is exact; what was typed with decimals, or comes from elsewhere, was
// rounded to its last place.
func TestLatLonIsRoundedToItsLastPlace(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		source calib.EvidenceSource
		text   string
		exact  bool // on the grid's own datum, where no shift adds to it
	}{
		{calib.FromMargin, "56°10'N 7°20'W", true},
		{calib.FromMargin, "56°10'30\"N 7°20'00\"W", true},
		{calib.FromMargin, "56°10.5'N 7°20.0'W", false},
		{calib.FromMargin, "56°10'17\"N 7°20'W", false},
	} {
		positions, err := LatLonPositions(tc.source, tc.text, sys)
		if err != nil || len(positions) != 2 || !positions[1].Own {
			t.Fatalf("%s: %v, %+v", tc.text, err, positions)
		}
		if got := positions[1].SigmaM == 0; got != tc.exact {
			t.Errorf("%s: σ %g m, want exact: %v", tc.text, positions[1].SigmaM, tc.exact)
		}
	}
	for _, text := range []string{"56°10'N 7°20'W", "latlon:56.16667,-7.33333"} {
		if positions, err := LatLonPositions(calib.FromReceiver, text, sys); err != nil || len(positions) != 1 || positions[0].SigmaM < receiverM {
			t.Errorf("a receiver's %s: %v, %+v", text, err, positions)
		}
	}
}
