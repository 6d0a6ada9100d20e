package datum

import (
	"math"
	"testing"

	"legwright/app/geodesy/earth"
)

// IOGP 373-7-2, method 9606, WGS 72 to WGS 84. The first figure prints as .78
// there and comes to .774, by rounding of the parameters.
func TestPositionVector(t *testing.T) {
	t.Parallel()
	h := Helmert{tz: 4.5, rz: 0.554 * Arcsecond, scale: 1 + 0.219e-6}
	in := earth.XYZ{X: 3657660.66, Y: 255768.55, Z: 5201382.11}
	got := h.apply(in)
	within(t, "x", got.X, 3657660.78, 0.01)
	within(t, "y", got.Y, 255778.43, 0.006)
	within(t, "z", got.Z, 5201387.75, 0.006)
	back := h.undo(got)
	within(t, "x back", back.X, in.X, 1e-8)
	within(t, "y back", back.Y, in.Y, 1e-8)
	within(t, "z back", back.Z, in.Z, 1e-8)
}

// within fails unless got is within tol of want.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}
