package calib

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// truth is a similarity to make control points from: mpp metres per pixel,
// grid north turnDeg clockwise from picture up, and the grid place of the
// picture's top-left corner.
type truth struct {
	mpp, turnDeg float64
	origin       geodesy.Grid
}

func (m truth) grid(p PicturePt) geodesy.Grid {
	s, c := math.Sincos(m.turnDeg * math.Pi / 180)
	return geodesy.Grid{
		E: m.origin.E + m.mpp*(c*p.Col+s*p.Row),
		N: m.origin.N + m.mpp*(s*p.Col-c*p.Row),
	}
}

func (m truth) points(at ...PicturePt) []ControlPoint {
	out := make([]ControlPoint, len(at))
	for i, p := range at {
		out[i] = ControlPoint{At: p, Ref: m.grid(p)}
	}
	return out
}

// shaken returns the points with normal noise of sigmaPx per axis.
func shaken(points []ControlPoint, sigmaPx float64, rng *rand.Rand) []ControlPoint {
	out := append([]ControlPoint(nil), points...)
	for i := range out {
		out[i].At.Col += sigmaPx * rng.NormFloat64()
		out[i].At.Row += sigmaPx * rng.NormFloat64()
	}
	return out
}

func mustFit(t testing.TB, points []ControlPoint, o Options) *Calibration {
	t.Helper()
	c, err := Fit(points, o)
	if err != nil {
		t.Fatalf("Fit: %v", err)
	}
	return c
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func codes(c *Calibration) string {
	var out []string
	for _, k := range c.Cautions() {
		out = append(out, string(k.Code))
	}
	return strings.Join(out, " ")
}
