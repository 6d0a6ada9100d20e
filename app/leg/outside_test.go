package leg

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// A leg picked far beyond the control points is marked, and one amid them is not.
func TestOutsidePointsAreMarked(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		kind calib.Medium
		far  calib.PicturePt
		want bool
	}{
		{calib.Scan, calib.PicturePt{Col: 2000, Row: 1500}, false},
		{calib.Scan, calib.PicturePt{Col: 5900, Row: 4900}, true},
	} {
		width, height := 2500, 2000
		if tc.far.Col > 3000 {
			width, height = 6000, 5000
		}
		s := plan.Sheet{ID: "s", Code: geodesy.EPSG(27700), Width: width, Height: height, Medium: tc.kind}
		for _, at := range []calib.PicturePt{{Col: 400, Row: 400}, {Col: 500, Row: 400}, {Col: 500, Row: 480}, {Col: 400, Row: 480}} {
			s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: askewAt(at, s)})
		}
		c, err := s.Calibration()
		if err != nil {
			t.Fatal(err)
		}
		r, err := NewReader(&plan.Plan{Sheets: []plan.Sheet{s}})
		if err != nil {
			t.Fatal(err)
		}
		got, err := r.Read(plan.PickedAt(s, c, calib.PicturePt{Col: 500, Row: 500}, 0.5), plan.PickedAt(s, c, tc.far, 0.5))
		if err != nil {
			t.Fatal(err)
		}
		if is := got.Has(caution.OutsidePoints); is != tc.want {
			t.Errorf("%s at %v: marked %v, want %v", tc.kind, tc.far, is, tc.want)
		}
		if tc.kind == calib.Scan && got.Has(caution.ShortReach) {
			t.Errorf("%s at %v: every reading is marked for what concerns far ones", tc.kind, tc.far)
		}
	}
}
