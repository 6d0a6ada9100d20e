package calib

import (
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// A picture of a map whose file is on another datum than its printed grid is
// caught by named crossings where the shift is more than they are held to, and
// not on a coarser picture; the proof then says how much it does not show. A grid
// that is merely named on the wrong datum has the same references, so that no
// name contradicts it: that is said of every proof by references.
func TestWhatAProofDoesNotShow(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		pixelM  float64
		caught  bool
		unseenM string
	}{{5, true, "7.0 m"}, {60, true, "84 m"}, {100, false, "140 m"}} {
		const east, north = 103.0, -72.0 // as from one datum to another, 126 m
		c, err := FromMatrix([6]float64{tc.pixelM, 0, 430000 + east, 0, -tc.pixelM, 260000 + north}, 1)
		if err != nil {
			t.Fatal(err)
		}
		p := Proof{Kind: ProofPrintedGrid}
		for _, at := range []PicturePt{{100, 100}, {900, 120}, {150, 800}} {
			p.By = append(p.By, ControlPoint{At: at, Ref: geodesy.Grid{E: 430000 + tc.pixelM*at.Col, N: 260000 - tc.pixelM*at.Row}})
		}
		if why := c.Upholds(p); (why != "") != tc.caught {
			t.Errorf("%g m a pixel: got %q, caught should be %t", tc.pixelM, why, tc.caught)
		}
		if got := p.Unseen(c.MetresPerPixel()); !strings.Contains(got, "less than "+tc.unseenM) || !strings.Contains(got, "datum") {
			t.Errorf("%g m a pixel: got %q, want %s and the datum", tc.pixelM, got, tc.unseenM)
		}
	}
	for kind, datum := range map[string]bool{ProofFeature: true, ProofMargin: false, "": false} {
		if got := (Proof{Kind: kind}).Unseen(5); strings.Contains(got, "datum") != datum || strings.Contains(got, "shift of") {
			t.Errorf("%q: got %q", kind, got)
		}
	}
}
