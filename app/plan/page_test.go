package plan

import (
	"math"
	"testing"
)

func TestBadPage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		page Page
		good bool
	}{
		{Page{}, true},
		{Page{1, 200}, true},
		{Page{7, 0}, true}, // of a file that holds pictures
		{Page{0, 200}, false},
		{Page{-1, 200}, false},
		{Page{1, -1}, false},
		{Page{1, math.NaN()}, false},
		{Page{1, math.Inf(1)}, false},
		{Page{maxPage + 1, 1}, false},
	} {
		if got := badPage(c.page); (got == "") != c.good {
			t.Errorf("%+v: got %q, want good %v", c.page, got, c.good)
		}
	}
}
