package leg

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
)

// A control point of a plan file that lies elsewhere than the reference beside it says
// is a stop: the reference is what a person compares with the map.
func TestPointsThatContradictTheirReferences(t *testing.T) {
	t.Parallel()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		text  string
		eastM float64 // how far the plan has the point from there
		stop  bool
	}{
		{"NT 21 72", 0, false},
		{"NT 21 72", 10_000, true},
		{"NT 21000 72000", 0, false},
		{"NT 21000 72000", 1000, true},
		{"E 321000 N 672000", 10, true},
		{"21 72", 0, false},
		{"a cairn", 1000, false}, // not a reference
		{"latlon:55.93479,-3.26580", 0, false},
		{"latlon:55.93479,-3.26580", 10_000, true},
	} {
		var points []calib.ControlPoint
		for i, p := range [][4]float64{{140, 80, 321000, 672000}, {2940, 80, 335000, 672000}, {2940, 2280, 335000, 661000}, {140, 2280, 321000, 661000}} {
			points = append(points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: p[2] + tc.eastM, N: p[3]}})
			if i == 0 {
				points[0].Text = tc.text
			}
		}
		c, err := calib.Fit(points, calib.Options{Width: 3000, Height: 2400})
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(Single{Calibration: c, System: sys, Width: 3000, Height: 2400})
		if got := caution.Stops(v.Cautions, caution.All); got != tc.stop || got && !strings.Contains(v.Cautions[0].Text(), tc.text) {
			t.Errorf("%q, %g m off: %v", tc.text, tc.eastM, v.Cautions)
		}
	}
}
