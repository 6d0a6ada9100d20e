package calib

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// A photograph needs four points: fewer are warned of, four make a perspective
// where nothing simpler fits, and a slip among them is named all the same.
func TestPhotograph(t *testing.T) {
	t.Parallel()
	tilted, flat := photoTruth(), sheetTruth()
	slipped := flat.points(strewn(4, nil)...)
	slipped[2].Ref.E += 1000
	for _, tc := range []struct {
		name   string
		points []ControlPoint
		photo  bool
		kind   Kind
		code   string // expected among the warnings
		absent string
	}{
		{"two of a photograph", tilted.points(strewn(2, nil)...), true, Similarity, CodePhoto, ""},
		{"three of a photograph", tilted.points(strewn(3, nil)...), true, Similarity, CodePhoto, ""},
		{"four of a photograph", tilted.points(strewn(4, nil)...), true, Perspective, CodeNoRedundancy, CodePhoto},
		{"four of one taken straight down", flat.points(strewn(4, nil)...), true, Similarity, "", CodePhoto},
		{"four with a slip", slipped, true, Similarity, CodeDigitOut, CodePhoto},
		{"two of a scan", flat.points(strewn(2, nil)...), false, Similarity, CodeNoRedundancy, CodePhoto},
	} {
		c := mustFit(t, shaken(tc.points, 0.3, rand.New(rand.NewPCG(3, 3))), Options{Photo: tc.photo, Width: 4000, Height: 3200})
		got := codes(c.Warnings())
		if c.Kind() != tc.kind || !strings.Contains(got, tc.code) {
			t.Errorf("%s: got %s, warnings %q; want %s and %q", tc.name, c.Kind(), got, tc.kind, tc.code)
		}
		if tc.absent != "" && strings.Contains(got, tc.absent) {
			t.Errorf("%s: got warnings %q, want no %s", tc.name, got, tc.absent)
		}
	}
}
