package headless

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// bentPoints are crossings of a made sheet as a camera held askew sees them.
func bentPoints() (csv string, truth func(col, row float64) (e, n float64)) {
	truth = func(col, row float64) (float64, float64) {
		w := 1 + 5e-5*(col-2000) + 8e-5*(row-1500)
		return 231000 + 2.5*(col-2000)/w, 751000 - 2.5*(row-1500)/w
	}
	var b strings.Builder
	b.WriteString("col,row,easting,northing\n")
	for _, col := range []float64{300, 1500, 2700, 3900} {
		for _, row := range []float64{200, 1400, 2800} {
			e, n := truth(col, row)
			fmt.Fprintf(&b, "%g,%g,%.4f,%.4f\n", col, row, e, n)
		}
	}
	return b.String(), truth
}

// Each fit is taken by its word, and left to itself the photograph is told from
// a flat scan, with what was tried.
func TestFitsOfAPhotograph(t *testing.T) {
	t.Parallel()
	csv, truth := bentPoints()
	e, n := truth(2100, 900)
	for _, tc := range []struct {
		fit, want string
		tolM      float64
	}{{"auto", "perspective", 0.01}, {"perspective", "perspective", 0.01}, {"smooth", "smooth", 60}, {"affine", "affine", 300}} {
		o := run(t, csv, "calibrate", "--grid", "EPSG:27700", "--points", "-", "--fit", tc.fit, "--at", "2100,900", "--json").object(t)
		if o["fit"] != tc.want {
			t.Errorf("--fit %s: got %v, want %s", tc.fit, o["fit"], tc.want)
		}
		at := o["at"].([]any)[0].(map[string]any)
		wantNear(t, tc.fit+" easting", at["easting_m"].(float64), e, tc.tolM)
		wantNear(t, tc.fit+" northing", at["northing_m"].(float64), n, tc.tolM)
		if _, is := o["matrix"]; is != (tc.want == "affine") {
			t.Errorf("--fit %s: matrix given: %v", tc.fit, is)
		}
		tried := o["loo_m"].([]any)
		if want := map[bool]int{true: 4, false: 1}[tc.fit == "auto"]; len(tried) != want {
			t.Errorf("--fit %s: got %d fits tried, want %d", tc.fit, len(tried), want)
		}
		if tc.want == "perspective" {
			h := floats(t, o["perspective"])
			w := h[6]*2100 + h[7]*900 + 1
			wantNear(t, "easting by the eight numbers", (h[0]*2100+h[1]*900+h[2])/w, e, 0.01)
			wantNear(t, "northing by the eight numbers", (h[3]*2100+h[4]*900+h[5])/w, n, 0.01)
		}
		if loo := tried[0].(map[string]any)["loo_m"].(float64); math.IsNaN(loo) || loo < 0 {
			t.Errorf("--fit %s: loo_m %g", tc.fit, loo)
		}
	}
}
