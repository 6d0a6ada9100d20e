package headless

import (
	"fmt"
	"strings"
	"testing"
)

// bentPoints are intersections of a made sheet as a camera held askew sees them.
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

// A photograph is calibrated as one, and taken for a scan its points do not
// fit, which a caution says.
func TestMediaOfAPhotograph(t *testing.T) {
	t.Parallel()
	csv, truth := bentPoints()
	e, n := truth(2100, 900)
	for _, tc := range []struct {
		medium string
		tolM   float64
	}{{"photograph", 0.1}, {"scan", 300}} {
		o := run(t, csv, "fit", "--grid", "EPSG:27700", "--points", "-", "--medium", tc.medium, "--at", "2100,900", "--json").object(t)
		if o["medium"] != tc.medium {
			t.Errorf("--medium %s: got %v", tc.medium, o["medium"])
		}
		at := o["at"].([]any)[0].(map[string]any)
		wantNear(t, tc.medium+" easting", at["easting_m"].(float64), e, tc.tolM)
		wantNear(t, tc.medium+" northing", at["northing_m"].(float64), n, tc.tolM)
		if said := fmt.Sprint(o["cautions"]); strings.Contains(said, "poor-fit") != (tc.medium == "scan") {
			t.Errorf("--medium %s: %s", tc.medium, said)
		}
	}
}
