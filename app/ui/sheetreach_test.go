package ui

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/geodesy"
)

// Points that do not carry the picture are no fault of theirs: the hint says
// where the next one belongs.
func TestReachHint(t *testing.T) {
	t.Parallel()
	at := func(cols ...float64) []calib.ControlPoint {
		var out []calib.ControlPoint
		for i := 0; i < len(cols); i += 2 {
			out = append(out, calib.ControlPoint{
				At:  calib.PicturePt{Col: cols[i], Row: cols[i+1]},
				Ref: geodesy.Grid{E: 230000 + 2.5*cols[i], N: 750000 - 2.5*cols[i+1]},
			})
		}
		return out
	}
	for _, tc := range []struct {
		points []calib.ControlPoint
		medium calib.Medium
		want   string
	}{
		{at(300, 300, 3600, 2900, 400, 2800, 3700, 300), calib.Scan, ""},
		{at(300, 300, 900, 700, 350, 800), calib.Scan, "far from them"},
		{at(300, 300, 2000, 300, 3700, 300), calib.Scan, "far from them"},
		{at(300, 300, 3600, 2900), calib.Photograph, "at least four grid intersections, near its corners"},
	} {
		c, err := calib.Fit(tc.points, calib.Options{Width: 4000, Height: 3200, Medium: tc.medium})
		if err != nil {
			t.Fatal(err)
		}
		if got := reachHint(c); !strings.Contains(got, tc.want) || (tc.want == "") != (got == "") {
			t.Errorf("got %q, want %q in it", got, tc.want)
		}
		if stop := (check.Verdict{}).StopShort(c); (stop != "") != (tc.medium == calib.Photograph) {
			t.Errorf("%q: the points are called wrong: %v", tc.want, c.Cautions())
		}
	}
}
