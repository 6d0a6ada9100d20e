package leg

import (
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// A leg picked beyond the control points of a perspective is marked, one amid
// them is not, and neither is one of an affine fit unless all its points lie in
// one corner of the picture, far away.
func TestOutsidePointsAreMarked(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		kind calib.Kind
		far  calib.PicturePt
		want bool
	}{
		{calib.Perspective, calib.PicturePt{Col: 3000, Row: 2000}, true},
		{calib.Perspective, calib.PicturePt{Col: 900, Row: 700}, false},
		{calib.Affine, calib.PicturePt{Col: 2000, Row: 1500}, false},
		{calib.Affine, calib.PicturePt{Col: 5900, Row: 4900}, true},
	} {
		width, height := 2500, 2000
		if tc.far.Col > 3000 {
			width, height = 6000, 5000
		}
		s := plan.Sheet{ID: "s", Code: geodesy.EPSG(27700), Width: width, Height: height, Fit: tc.kind}
		for _, at := range []calib.PicturePt{{Col: 100, Row: 100}, {Col: 1500, Row: 100}, {Col: 1500, Row: 1100}, {Col: 100, Row: 1100}} {
			w := 1 + 5e-5*at.Col
			s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: geodesy.Grid{E: 215_500 + 2.5*at.Col/w, N: 774_500 - 2.5*at.Row/w}})
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
		if is := slices.ContainsFunc(got.Flags, func(f Flag) bool { return f.Code == OutsidePoints }); is != tc.want {
			t.Errorf("%s at %v: marked %v, want %v", tc.kind, tc.far, is, tc.want)
		}
		if tc.kind == calib.Affine && slices.ContainsFunc(got.Flags, func(f Flag) bool { return strings.Contains(f.Text, "one part of the picture") }) {
			t.Errorf("%s at %v: every reading is marked for what concerns far ones", tc.kind, tc.far)
		}
	}
}
