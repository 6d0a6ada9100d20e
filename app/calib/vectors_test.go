package calib

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// calibrated figures of another hand: points with what they are off by in pixels,
// and what statsmodels and scikit-learn make of them (see the README of
// testdata/vectors).
type outsideFigures struct {
	at         []PicturePt
	y          [2][]float64
	clicks     []float64
	parameters []float64
	covariance map[[2]int]float64
	misfit     float64
	places     [][4]float64 // column, row, displacement along both
}

func readOutside(t *testing.T) (o outsideFigures) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "vectors", "calib_gls.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	o.covariance = map[[2]int]float64{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n")[1:] {
		cells := strings.Split(line, "\t")
		var v []float64
		for _, c := range cells[1:] {
			x, err := strconv.ParseFloat(c, 64)
			if err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			v = append(v, x)
		}
		switch cells[0] {
		case "point":
			o.at = append(o.at, PicturePt{v[0], v[1]})
			o.y[0], o.y[1] = append(o.y[0], v[2]), append(o.y[1], v[3])
			o.clicks = append(o.clicks, v[4]*v[4])
		case "parameter":
			o.parameters = append(o.parameters, v[1])
		case "covariance":
			o.covariance[[2]int{int(v[0]), int(v[1])}] = v[2]
		case "misfit":
			o.misfit = v[0]
		case "place":
			o.places = append(o.places, [4]float64(v))
		}
	}
	if len(o.at) != 10 || len(o.parameters) != 4 || len(o.covariance) != 10 || len(o.places) != 5 {
		t.Fatalf("the table has %d points, %d parameters, %d covariances, %d places", len(o.at), len(o.parameters), len(o.covariance), len(o.places))
	}
	return o
}

// Parameters, their covariance and the misfit are those of statsmodels'
// generalised least squares, predicted displacements those of scikit-learn's
// Gaussian process, for a scan of 3000 × 2400 pixels.
func TestAgainstOtherPrograms(t *testing.T) {
	t.Parallel()
	o := readOutside(t)
	points := make([]ControlPoint, len(o.at))
	for i, p := range o.at {
		points[i].At = p
	}
	d := design{frame: newFrame(points), plane: similarFreedom, paper: paperOf(Scan, math.Hypot(3000, 2400))}
	g, ok := newGLS(d, o.at, o.clicks, len(o.at))
	if !ok || !g.observe(nil) {
		t.Fatal("the points leave parameters open")
	}
	g.solve(o.y)
	near(t, "misfit", g.misfit, o.misfit, 1e-7)
	for i, want := range o.parameters {
		near(t, "parameter", g.theta[i], want, 1e-7)
	}
	for at, want := range o.covariance {
		near(t, "covariance", g.inv.At(at[0], at[1]), want, 1e-6)
	}
	for _, p := range o.places {
		col, row := g.shift(PicturePt{p[0], p[1]}, false)
		near(t, "displacement along columns", col, p[2], 1e-5)
		near(t, "displacement along rows", row, p[3], 1e-5)
	}
}
