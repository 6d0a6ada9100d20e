package geodesy

import (
	"math"
	"testing"
)

// IOGP 373-7-2, method 9606, WGS 72 to WGS 84. The first figure prints as .78
// there and comes to .774, by rounding of the parameters.
func TestPositionVector(t *testing.T) {
	t.Parallel()
	h := helmert{tz: 4.5, rz: 0.554 * arcsecond, scale: 1 + 0.219e-6}
	in := xyz{3657660.66, 255768.55, 5201382.11}
	got := h.apply(in)
	within(t, "x", got.x, 3657660.78, 0.01)
	within(t, "y", got.y, 255778.43, 0.006)
	within(t, "z", got.z, 5201387.75, 0.006)
	back := h.undo(got)
	within(t, "x back", back.x, in.x, 1e-8)
	within(t, "y back", back.y, in.y, 1e-8)
	within(t, "z back", back.z, in.z, 1e-8)
}

// within fails unless got is within tol of want.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}
