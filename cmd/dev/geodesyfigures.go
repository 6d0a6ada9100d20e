package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"legwright/cmd/internal/figures"
)

// geodesyMeasures are what the tests of the grids find at most, against cs2cs
// run beside them and against published tables.
func geodesyMeasures() []measure {
	return []measure{{
		names: []string{
			"grids_cs2cs_most", "convergence_cs2cs_most", "scale_cs2cs_most",
			"iogp_examples_most", "swisstopo_example_most", "gigs_most",
		},
		do: geodesyFigures,
	}}
}

// difference is the greatest of one kind that a test met, as the tests of
// app/geodesy write it.
type difference struct {
	Test, What   string
	Off, OverTol float64
	Count        int
}

// found is the greatest difference of some tests and kinds.
type found struct {
	name    string
	tests   []string // beginnings of the tests' names
	what    []string // kinds; none is all
	overTol bool     // in the tolerance of the table, else as it is
	times   float64  // into the unit below
	unit    string
	bound   float64
	least   int // comparisons
}

// geodesyFound says which comparison makes which figure. Rows read back from a
// published example test only that there and back close, except in GIGS, which
// publishes both ways. Those of cs2cs want every one of the 257 grids at 200
// places, so that one which is left out is no figure.
func geodesyFound() []found {
	plane := []string{"easting", "northing"}
	return []found{
		{"grids_cs2cs_most", []string{"TestAgainstCS2CS/"}, nil, false, 1000, "mm", 0.1, 205_600},
		{"convergence_cs2cs_most", []string{"TestFactorsAgainstCS2CS/"}, []string{"convergence"}, false, 1e9, "1e-9°", 100, 51_400},
		{"scale_cs2cs_most", []string{"TestFactorsAgainstCS2CS/"}, []string{"scale"}, true, 1, "of 1e-9", 1, 102_800},
		{"iogp_examples_most", []string{"TestPublishedFamilies/IOGP", "TestPublishedProjections/IOGP"}, plane, true, 1.0001, "of ½ digit", 1, 16},
		{"swisstopo_example_most", []string{"TestPublishedFamilies/swisstopo"}, plane, true, 1.0001, "of ½ digit", 1, 2},
		{"gigs_most", []string{"TestGIGS"}, nil, true, 1, "of tolerance", 1, 1000},
	}
}

// geodesyFigures runs the tests once and picks the figures. One whose test was
// skipped, or compared too little, is no figure but an error.
func geodesyFigures(ctx context.Context, b *bench) ([]figures.Figure, error) {
	var got []difference
	const tests = "(TestAgainstCS2CS|TestFactorsAgainstCS2CS|TestPublished.*|TestGIGS.*)"
	if err := b.testFigures(ctx, "./app/geodesy", tests, &got); err != nil {
		return nil, err
	}
	var list []figures.Figure
	var missing []error
	for _, f := range geodesyFound() {
		most, count := f.of(got)
		if count < f.least {
			missing = append(missing, fmt.Errorf("%s: only %d comparisons, %d wanted: a program or a folder of reference data is missing", f.name, count, f.least))
			continue
		}
		list = append(list, figures.Alone(f.name, most*f.times, f.unit, f.bound))
	}
	return list, errors.Join(missing...)
}

// of picks the greatest of the differences that belong to the figure.
func (f found) of(list []difference) (most float64, count int) {
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
	for _, b := range list {
		if strings.HasPrefix(text, b) {
			return true
		}
	}
	return false
}
