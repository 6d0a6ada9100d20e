package pace_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"legwright/app/pace"
)

// Tranter's corrections as printed (liquisearch.com's copy of the encyclopedia article;
// testdata/vectors/tranter.tsv): each filled cell, and each empty one too much to be
// attempted.
func TestTranterTable(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "vectors", "tranter.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	head := strings.Split(lines[0], "\t")
	cells := 0
	for _, line := range lines[1:] {
		row := strings.Split(line, "\t")
		fitness, _ := strconv.Atoi(row[0])
		for i, text := range row[1:] {
			hours, _ := strconv.ParseFloat(head[i+1], 64)
			got, ok := pace.Tranter(pace.Fitness(fitness), hours)
			if want, err := strconv.ParseFloat(text, 64); (err == nil) != ok || got != want {
				t.Errorf("fitness %d, %v h: got %v, %v, want %q", fitness, hours, got, ok, text)
			}
			cells++
		}
	}
	if cells != 6*16 {
		t.Errorf("%d cells, want 96", cells)
	}
	// The worked example of the same source.
	if got, ok := pace.Tranter(25, 9); got != 11.5 || !ok {
		t.Errorf("9 Naismith hours at fitness 25: %v, want 11.5", got)
	}
}

// Between and below the columns, and where the table ends.
func TestTranterBetween(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		fitness         pace.Fitness
		naismith, hours float64
		ok              bool
	}{
		{25, 1, 0.75, true},
		{25, 0, 0, true},
		{25, 4.5, 4.875, true},
		{15, 11, 8.875, true},
		{30, 9.01, 0, false},
		{50, 5.5, 0, false},
		{15, 24.1, 0, false},
		{15, -1, 0, false},
		{17, 3, 0, false},
		{0, 3, 0, false},
	} {
		got, ok := pace.Tranter(c.fitness, c.naismith)
		if ok != c.ok {
			t.Errorf("fitness %d, %v h: %v", c.fitness, c.naismith, ok)
		}
		near(t, "hours", got, c.hours, 1e-12)
	}
	// No longer route takes less, and no unfitter party is faster.
	for i, f := range pace.Fitnesses() {
		last := 0.0
		for h := 0.0; h < 25; h += 0.25 {
			got, ok := pace.Tranter(f, h)
			if !ok {
				break
			}
			if got < last {
				t.Errorf("fitness %d: %v h take less than a shorter route", f, h)
			}
			last = got
			if i > 0 {
				if fitter, ok := pace.Tranter(pace.Fitnesses()[i-1], h); !ok || fitter > got {
					t.Errorf("fitness %d is faster over %v h than the fitter one", f, h)
				}
			}
		}
	}
}

// A load, night and head wind each drop one line (walkingontheweb.co.uk).
func TestDropped(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from  pace.Fitness
		lines int
		want  pace.Fitness
	}{{15, 0, 15}, {15, 1, 20}, {30, 2, 50}, {40, 2, 0}, {50, 1, 0}, {17, 0, 0}} {
		if got, ok := c.from.Dropped(c.lines); got != c.want || ok != (c.want != 0) {
			t.Errorf("%d, %d lines down: %v, %v, want %v", c.from, c.lines, got, ok, c.want)
		}
	}
}
