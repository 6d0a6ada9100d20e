package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"legwright/assets/field"
)

// TestFigures checks values against upper and lower bounds, alone and against a
// peer, and reads the verdicts from both ways of writing.
func TestFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		f       figure
		got     []float64
		why     error
		missed  bool
		absent  bool
		verdict string
	}{
		{atMost("a", "ms", 8), []float64{8}, nil, false, false, "holds"},
		{atMost("a", "ms", 8), []float64{9}, nil, true, false, "missed"},
		{atMost("a", "of 100", 0), []float64{0}, nil, false, false, "holds"},
		{atMost("a", "s", 0.4), []float64{3, 10}, nil, false, false, "0.300"},
		{atMost("a", "s", 0.4), []float64{5, 10}, nil, true, false, "missed"},
		{atLeast("a", "rows", 100), []float64{100}, nil, false, false, "≥ 100"},
		{atLeast("a", "rows", 100), []float64{99}, nil, true, false, "missed"},
		{atMost("a", "%", 5), []float64{2.5}, nil, false, false, "2.5 % "},
		{atMost("a", "s", 1), nil, errors.New("no\ndata"), false, true, "not measured: no; data"},
		{atMost("a", "s", 1), []float64{math.NaN()}, nil, false, true, "not measured: measured [NaN]"},
		{atMost("a", "s", 1), []float64{1, 0}, nil, false, true, "not measured: measured [1 0]"},
	} {
		f := c.f.measured(c.got, c.why)
		var table, text bytes.Buffer
		if err := errors.Join(writeFigures(&table, []figure{f}, false), writeFigures(&text, []figure{f}, true)); err != nil {
			t.Fatal(err)
		}
		var back []figure
		if err := json.Unmarshal(text.Bytes(), &back); err != nil || len(back) != 1 || back[0].Missed != c.missed || (back[0].Value == nil) != c.absent {
			t.Errorf("%v: JSON %s, %v", c.got, &text, err)
		}
		if !strings.Contains(table.String(), c.verdict) {
			t.Errorf("%v: the table lacks %q:\n%s", c.got, c.verdict, &table)
		}
		if err := failing(back); (err != nil) != (c.missed || c.absent) {
			t.Errorf("%v: the run ends with %v", c.got, err)
		}
	}
}

// TestOneGroupFails: a group that cannot run costs no figure of its own that it
// has measured already, and says why the others are missing.
func TestOneGroupFails(t *testing.T) {
	t.Parallel()
	b := &bench{r: &runner{errw: new(bytes.Buffer)}}
	got := b.measure(t.Context(), group{figures: []figure{atMost("a", "s", 1), atMost("b", "s", 1)}, do: func(_ context.Context, m *measuring) {
		m.put("a", 0.5)
		m.inTurn(3, func() (float64, error) { return 0, errors.New("no such data") })
		m.put("b", 0)
	}})
	if len(got) != 2 || got[0].Value == nil || got[1].Value != nil || got[1].Why != "no such data" {
		t.Errorf("got %+v", got)
	}
}

func TestQuantile(t *testing.T) {
	t.Parallel()
	v := []float64{5, 1, 4, 2, 3}
	for _, c := range []struct{ q, want float64 }{{0, 1}, {0.5, 3}, {0.99, 5}, {1, 5}} {
		if got := quantile(v, c.q); got != c.want {
			t.Errorf("quantile(%v) = %v, want %v", c.q, got, c.want)
		}
	}
}

// TestChooseFigures picks by whole names and by their beginnings.
func TestChooseFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		names []string
		want  int // groups, −1 for an error
	}{
		{nil, len(groups()) - 4}, // the four long ones only when named
		{[]string{"memory_settled_300"}, 1},
		{[]string{"frame_pan_p99"}, 1},
		{[]string{"frame"}, 9}, // drag, pan and zoom, the same on a big sheet, seven acts
		{[]string{"frame_nudge"}, 1},
		{[]string{"field_100k_rows", "project"}, 2},
		{[]string{"--help"}, -1},
		{[]string{"frame", "no_such_figure"}, -1},
	} {
		got, err := choose(c.names)
		if (err != nil) != (c.want < 0) || (err == nil && len(got) != c.want) {
			t.Errorf("%q: %d groups, %v, want %d", c.names, len(got), err, c.want)
		}
	}
}

// TestGatherKeepsTheWorst: of several seeds the worst value counts, and a missed one
// is shown with its breakdown.
func TestGatherKeepsTheWorst(t *testing.T) {
	t.Parallel()
	figures, worst := []figure{atMost("check_a", "%", 1), atLeast("check_b", "%", 95)}, map[string]float64{}
	var shown bytes.Buffer
	for _, text := range []string{
		`{"name":"a","value":1,"count":9,"breakdown":"all well\n"} {"name":"b","value":97,"count":9}`,
		`{"name":"a","value":2,"count":9,"breakdown":"flat: 2\n"} {"name":"b","value":96,"count":9}`,
		`{"name":"a","value":0,"count":9} {"name":"b","value":98,"count":9}`,
	} {
		if err := gather(&shown, text, 7, figures, worst); err != nil {
			t.Fatal(err)
		}
	}
	if worst["check_a"] != 2 || worst["check_b"] != 96 || !strings.Contains(shown.String(), "flat: 2") || strings.Contains(shown.String(), "all well") {
		t.Errorf("worst %v, shown:\n%s", worst, &shown)
	}
	if err := gather(&shown, "{", 7, figures, worst); err == nil {
		t.Error("a cut-off line is no error")
	}
}

// TestSeedsOfACommit: another commit gives other seeds.
func TestSeedsOfACommit(t *testing.T) {
	t.Parallel()
	got, err := seedsOf("00000001000000ffab")
	if err != nil || len(got) != 2 || got[0] != 1 || got[1] != 255 {
		t.Errorf("got %v, %v", got, err)
	}
	for _, bad := range []string{"", "0123", "xyz45678xyz45678"} {
		if _, err := seedsOf(bad); err == nil {
			t.Errorf("%q gives seeds", bad)
		}
	}
}

// TestPatch: each text must stand in the source exactly once.
func TestPatch(t *testing.T) {
	t.Parallel()
	got, err := patch("a b c", []string{"b", "B", "B c", "d"})
	if err != nil || got != "a d" {
		t.Errorf("got %q, %v, want %q", got, err, "a d")
	}
	for _, source := range []string{"a c", "b b"} {
		if got, err := patch(source, []string{"b", "B"}); err == nil {
			t.Errorf("%q became %q, want an error", source, got)
		}
	}
}

// TestGridFigures: each figure picks its own tests and kinds alone.
func TestGridFigures(t *testing.T) {
	t.Parallel()
	list := []difference{
		{"TestAgainstCS2CS/Somewhere", "easting", 2e-5, 0.2, 100},
		{"TestAgainstCS2CS/Elsewhere", "latitude m", 3e-5, 0.3, 50},
		{"TestAgainstCS2CS/Somewhere", "convergence", 4e-9, 0.04, 20},
		{"TestAgainstCS2CS/Somewhere", "skew", 9e-8, 0.45, 20},
		{"TestPublishedFamilies/IOGP_373-7-2,_9801", "easting", 0.004, 0.8, 1},
		{"TestPublishedFamilies/IOGP_373-7-2,_9801", "ways", 1, 9, 1},
		{"TestPublishedFamilies/swisstopo", "northing", 0.001, 0.2, 1},
		{"TestGIGSOtherFamilies", "northing", 0.03, 0.6, 7},
	}
	want := map[string]string{
		"grids_cs2cs_most": "3e-05 of 150", "convergence_cs2cs_most": "4e-09 of 20", "scale_cs2cs_most": "0 of 0",
		"iogp_examples_most": "0.8 of 1", "swisstopo_example_most": "0.2 of 1", "gigs_most": "0.6 of 7",
	}
	for _, f := range gridFigures() {
		most, count := f.of(list)
		if got := fmt.Sprintf("%g of %d", most, count); got != want[f.name] || f.least < 2 {
			t.Errorf("%s: got %s, want %s", f.name, got, want[f.name])
		}
	}
}

// TestPeerModelGivesThePublishedRow: the peer must evaluate what the program
// evaluates, or the comparison is idle. Row of the WMM2025 technical report's
// table of test values: epoch 2025.0, height 0, 80° N 0° E.
func TestPeerModelGivesThePublishedRow(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("MagneticField"); err != nil {
		t.Skip("needs MagneticField of geographiclib-tools")
	}
	dir := t.TempDir()
	if err := writePeerModel(dir, 2025, field.WMM2025()); err != nil {
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
		{"X", x, 6521.6, 0.06}, {"Y", y, 145.9, 0.06}, {"Z", z, 54791.5, 0.06}, {"D", d, 1.28, 0.006}, {"I", i, 83.21, 0.006},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %v, want %v", c.name, c.got, c.want)
		}
	}
}
