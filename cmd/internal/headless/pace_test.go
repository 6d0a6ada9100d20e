package headless

import (
	"fmt"
	"strings"
	"testing"
)

// Published and worked examples of walking time; see app/pace for their sources.
func TestPaceRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		row   string
		flags []string
		want  float64
	}{
		{"4828.032 609.6 0", []string{"--method", "naismith-1892"}, 120},
		{"5000 600 0", []string{"--method", "naismith-metric", "--speed-kmh", "5"}, 120},
		{"1000 100 0", []string{"--method", "naismith-metric"}, 25},
		{"1000 100 0", []string{"--method", "naismith-metric", "--ground", "path"}, 22},
		{"1000 0 0", []string{"--method", "naismith-metric", "--ground", "rough"}, 25},
		{"1000 0 0", []string{"--method", "tobler"}, 60 / 5.0367},
		{"1000 0 0", []string{"--method", "tobler", "--ground", "off-path"}, 100 / 5.0367},
		{"1000 500 500", []string{"--method", "naismith-metric"}, 65}, // 15 minutes and 50 for the climb
		{"2000 0 300", []string{"--method", "naismith-metric", "--langmuir"}, 20},
		{"1000 0 300", []string{"--method", "naismith-metric", "--langmuir"}, 25},
		// 9 Naismith hours at fitness 25 are 11.5 h (liquisearch.com).
		{"45000 0 0", []string{"--method", "naismith-metric", "--speed-kmh", "5", "--fitness", "25"}, 690},
		{"0 0 0", []string{"--method", "tobler"}, 0},
	} {
		got := run(t, c.row+"\n", append([]string{"pace"}, c.flags...)...)
		wantCode(t, got, 0)
		wantNear(t, fmt.Sprint(c.row, c.flags), float(t, got.rows()[0][0]), c.want, 1e-3)
	}
}

func TestPaceRefusals(t *testing.T) {
	t.Parallel()
	for _, flags := range [][]string{
		{},
		{"--method", "naismith"},
		{"--method", "tobler", "--langmuir"},
		{"--method", "tobler", "--fitness", "25"},
		{"--method", "naismith-1892", "--speed-kmh", "4"},
		{"--method", "naismith-metric", "--speed-kmh", "0"},
		{"--method", "naismith-metric", "--fitness", "17"},
		{"--method", "naismith-metric", "--fitness", "25.5"},
		{"--method", "naismith-metric", "--ground", "lava"},
	} {
		wantCode(t, run(t, "1000 0 0\n", append([]string{"pace"}, flags...)...), 2)
	}
	for _, c := range []struct {
		row, says string
		flags     []string
	}{
		{"1000 0", "distance_m climb_m descent_m", nil},
		{"-1 0 0", "below 0", nil},
		{"1000 -5 0", "below 0", nil},
		{"0 10 0", "needs a distance above 0", nil},
		{"1000 5000 0", "steeper than 45°", nil},
		{"1.7e308 8e307 8e307", "walks so far", nil},
		{"1000 0 1001", "steeper than 45°", []string{"--langmuir"}},
		{"1000 600 600", "steeper than 45°", []string{"--method", "tobler"}},
		{"1000 0 0", "plantation", []string{"--ground", "plantation"}},
		{"60000 0 0", "too much", []string{"--fitness", "30"}},
		{"1000 1e9 0", "steep", []string{"--method", "tobler"}},
	} {
		got := run(t, c.row+"\n", append([]string{"pace", "--method", "naismith-metric"}, c.flags...)...)
		wantCode(t, got, 1)
		if !strings.HasPrefix(got.out, "error: ") || !strings.Contains(got.out, c.says) {
			t.Errorf("%s: %q, want an error that says %s", c.row, got.out, c.says)
		}
	}
}
