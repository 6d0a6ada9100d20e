package leg

import (
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// The joint covariance of two positions says what they have in common: the sheet
// they were picked on, or the way from another grid; and nothing else.
func TestJointOfAnyTwoPositions(t *testing.T) {
	t.Parallel()
	sheet := sheetOf(corners()...)
	r := readerOf(t, plan.New(day).SetSheet(sheet))
	picked, near := pick(t, sheet, 500, 500), pick(t, sheet, 540, 520)
	typed := plan.Position{Grid: picked.Grid, Code: picked.Code, Origin: plan.Typed, SigmaM: 30}
	abroad := func(e float64) plan.Position { // 27700 is some metres from UTM by its datum
		return plan.Position{Grid: geodesy.Grid{E: e, N: 6_300_000}, Code: geodesy.EPSG(32629), Origin: plan.Imported, SigmaM: 4}
	}
	for _, tc := range []struct {
		name   string
		a, b   plan.Position
		common bool
	}{
		{"picked on one sheet", picked, near, true},
		{"picked and typed", picked, typed, false},
		{"typed twice", typed, typed, false},
		{"imported from one grid", abroad(600_000), abroad(601_000), true},
		{"imported and picked", abroad(600_000), picked, false},
	} {
		got, err := r.Joint(tc.a, tc.b)
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		back, err := r.Joint(tc.b, tc.a)
		if err != nil {
			t.Fatal(err)
		}
		if is := math.Abs(got[0][2]) > 1e-9; is != tc.common {
			t.Errorf("%s: common variance %g", tc.name, got[0][2])
		}
		for i := range 4 {
			for k := range 4 {
				if got[i][k] != got[k][i] || math.Abs(got[i][k]-back[(i+2)%4][(k+2)%4]) > 1e-9 {
					t.Errorf("%s: not symmetric: %v and %v", tc.name, got, back)
				}
			}
		}
	}
	one := differenceM(t, r, picked, near)
	if own := sigmaM(t, r, picked); one > own {
		t.Errorf("near positions differ by ± %.2f m, each is known to ± %.2f m: the sheet's error is not common", one, own)
	}
}

// differenceM is the standard deviation of the distance east between two
// positions, their picks aside.
func differenceM(t *testing.T, r *Reader, a, b plan.Position) float64 {
	t.Helper()
	a.PickSigmaPx, b.PickSigmaPx = 0, 0
	j, err := r.Joint(a, b)
	if err != nil {
		t.Fatal(err)
	}
	return math.Sqrt(j[0][0] + j[2][2] - 2*j[0][2])
}

func sigmaM(t *testing.T, r *Reader, a plan.Position) float64 {
	t.Helper()
	a.PickSigmaPx = 0
	var j calib.Cov4
	j, err := r.Joint(a, a)
	if err != nil {
		t.Fatal(err)
	}
	return math.Sqrt(j[0][0])
}
