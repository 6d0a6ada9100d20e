package figures

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"legwright/assets/field"
)

// The peer must evaluate what we evaluate, or the comparison is idle. Row of
// the WMM2025 technical report's table of test values: epoch 2025.0, height
// 0, 80° N 0° E.
func TestPeerModelGivesThePublishedRow(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("MagneticField"); err != nil {
		t.Skip("needs MagneticField of geographiclib-tools")
	}
	rows, err := parseCoefficients(field.WMM2025())
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := writePeerModel(dir, "peer", 2025, rows); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("MagneticField", "-d", dir, "-n", "peer", "-t", "2025.0", "-p", "4")
	cmd.Stdin = strings.NewReader("80 0\n")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var d, i, h, x, y, z, f float64
	if _, err := fmt.Sscan(string(out), &d, &i, &h, &x, &y, &z, &f); err != nil {
		t.Fatalf("output %q: %v", out, err)
	}
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"X", x, 6521.6, 0.06},
		{"Y", y, 145.9, 0.06},
		{"Z", z, 54791.5, 0.06},
		{"D", d, 1.28, 0.006},
		{"I", i, 83.21, 0.006},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %v, want %v", c.name, c.got, c.want)
		}
	}
}

func TestFigureHolds(t *testing.T) {
	t.Parallel()
	if f := Against("a", 3, 10, "s", 0.4); !f.Holds || math.Abs(*f.Ratio-0.3) > 1e-12 {
		t.Errorf("3 against 10 with bound 0.4: got %+v, want ratio 0.3 that holds", f)
	}
	if f := Alone("b", 9, "ms", 8); f.Holds {
		t.Errorf("9 with bound 8: got %+v, want a miss", f)
	}
}

func TestQuantile(t *testing.T) {
	t.Parallel()
	v := []float64{5, 1, 4, 2, 3}
	for _, c := range []struct{ q, want float64 }{{0, 1}, {0.5, 3}, {0.99, 5}, {1, 5}} {
		if got := Quantile(v, c.q); got != c.want {
			t.Errorf("Quantile(%v) = %v, want %v", c.q, got, c.want)
		}
	}
}
