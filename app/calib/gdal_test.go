package calib

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// GDAL's gdaltransform with the same control points and a first order
// polynomial is an affine least squares fit by another hand.
func TestAffineAgainstGdaltransform(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("gdaltransform")
	if err != nil {
		t.Skip("gdaltransform is not installed (Debian package gdal-bin): affine fit not compared with GDAL")
	}
	rng := rand.New(rand.NewPCG(6, 7))
	for _, n := range []int{3, 4, 9} {
		pts := randomPoints(rng, n)
		c := mustFit(t, pts, Options{Kind: Affine})
		at := []PicturePt{{0, 0}, {5000, 0}, {0, 4000}, {2500.5, 1234.25}, {-300, 9000}}
		for i, want := range gdalTransform(t, tool, pts, at) {
			got := c.ToGrid(at[i])
			near(t, "easting", got.E, want.E, 1e-4)
			near(t, "northing", got.N, want.N, 1e-4)
		}
	}
}

func gdalTransform(t *testing.T, tool string, pts []ControlPoint, at []PicturePt) []geodesy.Grid {
	t.Helper()
	return gdalWith(t, tool, []string{"-order", "1"}, pts, at)
}

func gdalWith(t *testing.T, tool string, how []string, pts []ControlPoint, at []PicturePt) []geodesy.Grid {
	t.Helper()
	args := append(how, "-output_xy")
	for _, p := range pts {
		args = append(args, "-gcp", num(p.At.Col), num(p.At.Row), num(p.Ref.E), num(p.Ref.N))
	}
	var in strings.Builder
	for _, p := range at {
		fmt.Fprintln(&in, num(p.Col), num(p.Row))
	}
	cmd := exec.Command(tool, args...)
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("gdaltransform: %v", err)
	}
	grids := make([]geodesy.Grid, len(at))
	for i, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		if _, err := fmt.Sscan(line, &grids[i].E, &grids[i].N); err != nil {
			t.Fatalf("gdaltransform wrote %q", line)
		}
	}
	return grids
}

func num(v float64) string { return fmt.Sprintf("%.17g", v) }
