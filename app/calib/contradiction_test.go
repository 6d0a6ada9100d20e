package calib

import (
	"math"
	"strings"
	"testing"
)

// placedAt is a place by a file: 10 m a pixel, its left edge at E 20 500.
func placedAt(t *testing.T, shiftM float64) *Calibration {
	t.Helper()
	c, err := FromMatrix([6]float64{10, 0, 20500 + shiftM, 0, -10, 46500}, 7)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// printed are crossings of lines each kilometre, as that place has them.
func printed(side int) []PicturePt {
	var out []PicturePt
	for i := range side {
		for j := range side {
			out = append(out, PicturePt{Col: 50 + 100*float64(i), Row: 450 - 100*float64(j)})
		}
	}
	return out
}

func TestContradictedBy(t *testing.T) {
	t.Parallel()
	few := printed(4)
	for i := range 3 { // 3 of 16 are 4 px off: 1.7 px root mean square
		few[i].Col += 4
	}
	many := printed(40)
	for i := range 189 { // 189 of 1600 are 4.08 px off: 1.402 px, and 60 evenly taken ones 1.394 px
		many[8*i].Col += 4.08
	}
	for _, tc := range []struct {
		name      string
		shiftM    float64
		crossings []PicturePt
		found     bool
		detail    string
		kept      int
	}{
		{"right", 0, printed(4), false, "", 0},
		{"a whole square off", 1000, printed(4), false, "", 0},
		{"13 m off", 13, printed(4), false, "", 0},
		{"15 m off", 15, printed(4), true, "1.5 px (15 m) off in the median, 1.5 px at the worst", 16},
		{"120 m off", 120, printed(4), true, "12.0 px (120 m)", 16},
		{"a few are", 0, few, true, "0.0 px (0.0 m) off in the median, 4.0 px at the worst", 16},
		{"hardly, by an eighth of many", 0, many, true, "4.1 px at the worst", MostContradicting},
		{"no crossings", 120, nil, false, "", 0},
		{"crossings beyond the horizon", 0, []PicturePt{{Col: math.NaN()}}, true, "NaN", 1},
	} {
		c := placedAt(t, tc.shiftM)
		d := c.ContradictedBy(tc.crossings, 1000)
		_, warned := d.Warning()
		if d.Found() != tc.found || warned != tc.found || c.Contradicts(d) != tc.found || !strings.Contains(d.Detail, tc.detail) || len(d.By) != tc.kept {
			t.Errorf("%s: got %+v, holds %v; want found %v with %q by %d", tc.name, d, c.Contradicts(d), tc.found, tc.detail, tc.kept)
		}
	}
}

// A contradiction is of one calibration: it is shown again of another. The bare
// word of a doubt is believed.
func TestContradictsAgain(t *testing.T) {
	t.Parallel()
	d := placedAt(t, 120).ContradictedBy(printed(4), 1000)
	if !placedAt(t, 120).Contradicts(d) || placedAt(t, 0).Contradicts(d) || !placedAt(t, 40).Contradicts(d) {
		t.Errorf("12 px off: holds %v, of the right place %v, 4 px off %v; want true, false, true",
			placedAt(t, 120).Contradicts(d), placedAt(t, 0).Contradicts(d), placedAt(t, 40).Contradicts(d))
	}
	for name, bare := range map[string]Contradiction{
		"no crossings": {Detail: "far off", SquareM: 1000}, "no square": {Detail: "far off", By: printed(2)}, "NaN": {Detail: "far off", SquareM: math.NaN(), By: printed(2)},
	} {
		if !placedAt(t, 0).Contradicts(bare) {
			t.Errorf("%s: the doubt was dropped", name)
		}
	}
	if placedAt(t, 0).Contradicts(Contradiction{}) {
		t.Error("nothing contradicts")
	}
	if !d.Same(d) || d.Same(Contradiction{}) {
		t.Error("Same")
	}
}
