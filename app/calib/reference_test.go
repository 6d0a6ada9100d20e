package calib

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"legwright/app/geodesy"
)

// Intersections of two reference sheets with the georeferencing that GDAL reads
// from them. A fit from four intersections has to put all others where they are,
// to the rounding of the listed pixels (0.01 px, which is 6 m on the first).
func TestReferenceSheets(t *testing.T) {
	t.Parallel()
	dir := os.Getenv("LEGWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("LEGWRIGHT_REFERENCE is not set: reference sheets not fitted")
	}
	for _, name := range []string{"gb_national_grid_truth.json", "made_sheet_A_truth.json"} {
		text, err := os.ReadFile(filepath.Join(dir, "rasters", name))
		if err != nil {
			t.Fatal(err)
		}
		var sheet struct {
			Transform []float64                          `json:"geotransform"`
			Grid      []struct{ E, N, Col, Row float64 } `json:"grid_intersections"`
		}
		if err := json.Unmarshal(text, &sheet); err != nil {
			t.Fatal(err)
		}
		var all []ControlPoint
		for _, x := range sheet.Grid {
			all = append(all, ControlPoint{At: PicturePt{x.Col, x.Row}, Ref: geodesy.Grid{E: x.E, N: x.N}})
		}
		if len(all) < 8 {
			t.Fatalf("%s: %d intersections, want 8 or more", name, len(all))
		}
		c := mustFit(t, spreadOut(all), Options{})
		for _, p := range all {
			at := c.ToPicture(p.Ref)
			if d := pictureDistance(at, p.At); d > 0.05 {
				t.Errorf("%s: intersection %v lies %.3f px off", name, p.Ref, d)
			}
		}
		if g := sheet.Transform; len(g) == 6 {
			want, got := g[1], c.MetresPerPixel()
			near(t, name+": metres per pixel", got, want, 1e-4*want)
		}
		near(t, name+": rotation", c.Rotation().Deg(), 0, 0.005)
	}
}

// spreadOut takes the four intersections farthest out towards the corners.
func spreadOut(all []ControlPoint) []ControlPoint {
	var out []ControlPoint
	for _, dir := range [][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		best, top := 0, math.Inf(-1)
		for i, p := range all {
			if v := dir[0]*p.At.Col + dir[1]*p.At.Row; v > top {
				best, top = i, v
			}
		}
		out = append(out, all[best])
	}
	return out
}
