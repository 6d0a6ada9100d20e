package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/assets/demo"
)

// testGroups are the time of the finder of printed grids, and figures of the
// tests themselves, some from more pictures and runs than every test run makes.
func testGroups() []group {
	grids := []figure{atLeast("grids_cs2cs_compared", "coordinates", cs2csRows)}
	for _, f := range gridFigures() {
		grids = append(grids, atMost(f.name, f.unit, f.bound))
	}
	return []group{
		cardGroup(),
		one(atMost("grid_seconds_25", "s", 1.2), finderTime),
		{long: true, do: finderFigures, figures: []figure{
			atMost("grid_clean_unsolved", "%", 3), atMost("grid_hard_unsolved", "%", 10), atMost("grid_false", "of 100", 0),
			atMost("grid_clean_median", "px", 0.35), atMost("grid_clean_p95", "px", 1),
			atMost("grid_hard_median", "px", 0.35), atMost("grid_hard_p95", "px", 1),
		}},
		{long: true, do: coverFigures, figures: []figure{
			atMost("interval_missed_most", "%", 7), atMost("interval_held_most", "%", 97),
		}},
		{figures: grids, do: gridsFigures},
	}
}

// testFigures runs the tests of a room whose names match and reads the figures that
// they write. A failing test has written its figures before; this program compares
// them with the bounds again.
func (m *measuring) testFigures(ctx context.Context, room, tests string, into any) {
	file, with := filepath.Join(m.dir, "figures.json"), *m.r
	_ = os.Remove(file) // of the group before
	with.env = append(slices.Clone(m.r.env), "LEGWRIGHT_FIGURES="+file)
	failed := with.do(ctx, "go", "test", "-count=1", "-timeout=60m", "-run", "^"+tests+"$", room)
	data, err := os.ReadFile(file)
	if err != nil {
		m.err = errors.Join(errors.New("the tests wrote no figures"), failed)
		return
	}
	m.err = json.Unmarshal(data, into)
}

// finderTime is how long the finder of printed grids takes over the demo's scan,
// the picture being open already, brought to 25 megapixels.
func finderTime(ctx context.Context, m *measuring) []float64 {
	file, bin := m.demoScan(), m.program(ctx, "./cmd/legwright")
	size, _, err := image.DecodeConfig(bytes.NewReader(demo.Scan()))
	m.err = errors.Join(m.err, err)
	return m.inTurn(5, func() (float64, error) {
		text, err := m.r.capture(ctx, bin, "find-grid", "--picture", file, "--json")
		if err != nil {
			return 0, err
		}
		var got struct {
			Lattice struct {
				Found   bool
				Seconds float64
			}
		}
		if err = json.Unmarshal([]byte(text), &got); err == nil && !got.Lattice.Found {
			err = errors.New("the finder does not find the printed grid of the demo's scan")
		}
		return got.Lattice.Seconds * 25e6 / float64(size.Width*size.Height), err
	})
}

// finderFigures runs the finder of printed grids on 200 pictures with a grid and
// 100 without, made from seeds.
func finderFigures(ctx context.Context, m *measuring) {
	type kind struct {
		Pictures, Solved, False int
		MedianPx, P95Px         float64
	}
	var got struct{ Clean, Hard, Free kind }
	m.testFigures(ctx, "./app/calib/lattice", "TestMadePictures", &got)
	for name, k := range map[string]kind{"grid_clean_": got.Clean, "grid_hard_": got.Hard} {
		m.put(name+"unsolved", 100*float64(k.Pictures-k.Solved)/float64(k.Pictures))
		m.put(name+"median", k.MedianPx)
		m.put(name+"p95", k.P95Px)
	}
	m.put("grid_false", float64(got.Free.False))
}

// coverFigures are the highest rates, over all models and readings, at which the
// stated 95 % intervals miss and contain the truth.
func coverFigures(ctx context.Context, m *measuring) {
	var got []struct {
		Position float64 `json:"position_coverage"`
		Bearing  float64 `json:"bearing_coverage"`
		Distance float64 `json:"distance_coverage"`
	}
	m.testFigures(ctx, "./app/calib", "TestWarpIntervalsCover", &got)
	least, most := math.Inf(1), math.Inf(-1)
	for _, f := range got {
		least, most = min(least, f.Position, f.Bearing, f.Distance), max(most, f.Position, f.Bearing, f.Distance)
	}
	m.put("interval_missed_most", 100*(1-least))
	m.put("interval_held_most", 100*most)
}

// difference is the greatest difference of one kind in a test, as the tests of
// app/geodesy write it.
type difference struct {
	Test, What   string
	Off, OverTol float64
	Count        int
}

// gridFigure is the greatest difference of some tests and kinds.
type gridFigure struct {
	name    string
	tests   []string // beginnings of the tests' names
	what    []string // kinds of difference; none means all
	overTol bool     // in units of the table's tolerance
	times   float64  // into the unit below
	unit    string
	bound   float64
	least   int // comparisons
}

// cs2csRows counts 257 grids at 200 positions, both coordinates, there and back: a
// missing grid shows.
const cs2csRows = 205_600

// gridFigures says which comparisons belong to which figure. Of published examples
// only one direction counts, except in GIGS, which publishes both.
func gridFigures() []gridFigure {
	plane := []string{"easting", "northing"}
	return []gridFigure{
		{"grids_cs2cs_most", []string{"TestAgainstCS2CS/"}, append([]string{"latitude", "longitude"}, plane...), false, 1000, "mm", 0.1, cs2csRows},
		{"convergence_cs2cs_most", []string{"TestAgainstCS2CS/"}, []string{"convergence"}, false, 1e9, "1e-9°", 100, 51_400},
		{"scale_cs2cs_most", []string{"TestAgainstCS2CS/"}, []string{"scale"}, true, 1, "of 1e-9", 1, 102_800},
		{"iogp_examples_most", []string{"TestPublishedFamilies/IOGP", "TestPublishedProjections/IOGP"}, plane, true, 1.0001, "of ½ digit", 1, 16},
		{"swisstopo_example_most", []string{"TestPublishedFamilies/swisstopo"}, plane, true, 1.0001, "of ½ digit", 1, 2},
		{"gigs_most", []string{"TestGIGS"}, nil, true, 1, "of tolerance", 1, 1000},
	}
}

// gridsFigures runs the tests of the grids once and takes the figures from them. A
// figure whose test was skipped, or compared too little, is not measured.
func gridsFigures(ctx context.Context, m *measuring) {
	var list []difference
	m.testFigures(ctx, "./app/geodesy", "(TestAgainstCS2CS|TestPublished.*|TestGIGS.*)", &list)
	var lacking []error
	for _, f := range gridFigures() {
		most, count := f.of(list)
		if f.least == cs2csRows {
			m.put("grids_cs2cs_compared", float64(count))
		}
		if count >= f.least {
			m.put(f.name, most*f.times)
			continue
		}
		lacking = append(lacking, fmt.Errorf("%s has %d comparisons, %d wanted: a program or the folder of reference data is missing", f.name, count, f.least))
	}
	m.err = errors.Join(append(lacking, m.err)...)
}

// of returns the greatest difference that belongs to the figure.
func (f gridFigure) of(list []difference) (most float64, count int) {
	for _, d := range list {
		if !begins(d.Test, f.tests) || len(f.what) > 0 && !begins(d.What, f.what) {
			continue
		}
		count += d.Count
		if f.overTol {
			most = max(most, d.OverTol)
		} else {
			most = max(most, d.Off)
		}
	}
	return most, count
}

func begins(text string, list []string) bool {
	return slices.ContainsFunc(list, func(b string) bool { return strings.HasPrefix(text, b) })
}
