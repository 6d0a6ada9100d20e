package calib

import (
	"errors"
	"math"
	"testing"

	"legwright/app/caution"
)

// The turned raster of the rasterio test data as GDAL reads it (30 degrees,
// pixel 20 m by 10 m): X = 100 + 17.3205080757 col + 5 row,
// Y = 200 + 10 col − 8.6602540378 row. Its origin is the corner already.
func TestGivenMatrix(t *testing.T) {
	t.Parallel()
	m := [6]float64{17.3205080757, 5, 100, 10, -8.6602540378, 200}
	c, err := FromMatrix(m, 20, 0)
	if err != nil {
		t.Fatal(err)
	}
	g := c.ToGrid(PicturePt{10, 15})
	near(t, "easting", g.E, 100+173.205080757+75, 1e-9)
	near(t, "northing", g.N, 200+100-129.903810567, 1e-9)
	back := c.ToPicture(g)
	near(t, "column", back.Col, 10, 1e-9)
	near(t, "row", back.Row, 15, 1e-9)
	near(t, "metres per pixel", c.MetresPerPixel(), math.Sqrt(200), 1e-8)
	if c.Matrix() != m {
		t.Errorf("matrix: got %v, want %v", c.Matrix(), m)
	}
	// North is (0,1) = 10·(sin 30°, cos 30°)·rows up: 10 m a row, so the
	// picture direction of north is (−b, a)/det, 30° of ground turn seen
	// through pixels twice as wide as high.
	near(t, "rotation", c.Rotation().Deg(), math.Atan2(5, 17.3205080757)*180/math.Pi, 1e-9)
	if !c.Given() || len(c.Points()) != 0 || len(c.Residuals()) != 0 || c.DOF() != 0 || c.RMSM() != 0 {
		t.Errorf("given %v, points %v", c.Given(), c.Points())
	}
	cov := c.Covariance(PicturePt{5, 5}, 0)
	near(t, "EE", cov.EE, 400+0.49*(17.3205080757*17.3205080757+25), 1e-6) // stated, and no better than a click
	near(t, "NN", cov.NN, 400+0.49*(100+8.6602540378*8.6602540378), 1e-6)
	if c, err = FromMatrix(m, 0, 0); err != nil {
		t.Fatal(err)
	}
	near(t, "EE of a file that states nothing", c.Covariance(PicturePt{5, 5}, 0).EE, 0.49*(17.3205080757*17.3205080757+25), 1e-6)
	j := c.Joint(PicturePt{}, PicturePt{9, 9}, 0, 0)
	near(t, "between places", j[0][2], 0, 0)
	allFinite(t, c)
}

func TestMatrixRefusals(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name  string
		m     [6]float64
		sigma float64
		px    float64
		is    error
	}{
		{"NaN", [6]float64{math.NaN(), 0, 0, 0, -1, 0}, 0, 0, nil},
		{"infinite", [6]float64{1, 0, math.Inf(1), 0, -1, 0}, 0, 0, nil},
		{"zero", [6]float64{}, 0, 0, ErrSingular},
		{"one line", [6]float64{1, 2, 0, 2, 4, 0}, 0, 0, ErrSingular},
		{"NaN sigma", [6]float64{1, 0, 0, 0, -1, 0}, math.NaN(), 0, nil},
		{"negative sigma", [6]float64{1, 0, 0, 0, -1, 0}, -1, 0, nil},
		{"NaN pixels", [6]float64{1, 0, 0, 0, -1, 0}, 0, math.NaN(), nil},
		{"negative pixels", [6]float64{1, 0, 0, 0, -1, 0}, 0, -1, nil},
		{"too many pixels", [6]float64{1, 0, 0, 0, -1, 0}, 0, 2e4, nil},
	} {
		_, err := FromMatrix(tc.m, tc.sigma, tc.px)
		if err == nil || (tc.is != nil && !errors.Is(err, tc.is)) {
			t.Errorf("%s: got %v", tc.name, err)
		}
	}
	c, err := FromMatrix([6]float64{-1, 0, 0, 0, -1, 0}, 0, 0)
	if err != nil || codes(c) != string(caution.Mirrored) {
		t.Errorf("mirrored matrix: got %v, %v", c, err)
	}
}

func FuzzFromMatrix(f *testing.F) {
	f.Add(5.0, 0.0, 310300.0, 0.0, -5.0, 4907700.0, 1.0)
	f.Add(1e-9, 0.0, 1.0, 0.0, 1e-9, 1.0, 0.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, sigma float64) {
		if cal, err := FromMatrix([6]float64{a, b, c, d, e, g}, sigma, 0); err == nil {
			allFinite(t, cal)
		}
	})
}

func TestMediumWords(t *testing.T) {
	t.Parallel()
	for _, m := range []Medium{Scan, Photograph, Drawn} {
		if got, err := ParseMedium(m.String()); err != nil || got != m {
			t.Errorf("%v: got %v, %v", m, got, err)
		}
	}
	if _, err := ParseMedium("rubber"); err == nil {
		t.Error("an unknown medium was taken")
	}
}

// A file's matrix that shears the picture is a stop; turned pixels of unequal sides, and
// the little shear of a fitted matrix, are not.
func TestMatrixThatShears(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		m    [6]float64
		stop bool
	}{
		{[6]float64{17.3205080757, 5, 100, 10, -8.6602540378, 200}, false},
		{[6]float64{5, 0.1, 0, 0, -5, 0}, false},
		{[6]float64{5, 0.3, 0, 0, -5, 0}, true},
		{[6]float64{5, 3, 0, 0, -5, 0}, true},
	} {
		c, err := FromMatrix(tc.m, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got := caution.Stops(c.Cautions(), caution.All); got != tc.stop {
			t.Errorf("%v: %v", tc.m, c.Cautions())
		}
	}
}
