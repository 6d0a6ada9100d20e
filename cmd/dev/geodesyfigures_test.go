package main

import "testing"

// TestGeodesyFiguresAreWhatTheyAreCalled: each name has its comparison, in the
// same order, and each picks its own tests and kinds alone.
func TestGeodesyFiguresAreWhatTheyAreCalled(t *testing.T) {
	t.Parallel()
	list := []difference{
		{"TestAgainstCS2CS/Somewhere", "easting", 2e-5, 0.2, 100},
		{"TestAgainstCS2CS/Elsewhere", "latitude m", 3e-5, 0.3, 50},
		{"TestFactorsAgainstCS2CS/Somewhere", "convergence", 4e-9, 0.04, 20},
		{"TestFactorsAgainstCS2CS/Somewhere", "skew", 9e-8, 0.45, 20},
		{"TestPublishedFamilies/IOGP_373-7-2,_9801", "easting", 0.004, 0.8, 1},
		{"TestPublishedFamilies/IOGP_373-7-2,_9801", "ways", 1, 9, 1},
		{"TestPublishedFamilies/swisstopo", "northing", 0.001, 0.2, 1},
		{"TestGIGSOtherFamilies", "northing", 0.03, 0.6, 7},
	}
	names := geodesyMeasures()[0].names
	if len(names) != len(geodesyFound()) {
		t.Fatalf("%d names for %d figures", len(names), len(geodesyFound()))
	}
	want := map[string]struct {
		most  float64
		count int
	}{
		"grids_cs2cs_most":       {3e-5, 150},
		"convergence_cs2cs_most": {4e-9, 20},
		"scale_cs2cs_most":       {0, 0},
		"iogp_examples_most":     {0.8, 1},
		"swisstopo_example_most": {0.2, 1},
		"gigs_most":              {0.6, 7},
	}
	for i, f := range geodesyFound() {
		most, count := f.of(list)
		if w := want[f.name]; f.name != names[i] || most != w.most || count != w.count || f.least < 2 {
			t.Errorf("%s: got %g of %d, want %g of %d", names[i], most, count, w.most, w.count)
		}
	}
}
