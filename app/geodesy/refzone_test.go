package geodesy

import (
	"errors"
	"slices"
	"testing"
)

// TestZonedRefNamesItsGrid: without a sheet the zone names the grid. Where the S could be
// a band or a hemisphere, and where letter and figures disagree, the text is refused, and
// what is offered is read.
func TestZonedRefNamesItsGrid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		sheet  int // EPSG, or 0
		want   int // EPSG of the grid, or 0 where it is refused
		offers int
	}{
		{"30U 480000 6091000", 0, 32630, 0},
		{"30N 480000 6091000", 0, 32630, 0},
		{"33H 281500 6244000", 0, 32733, 0},
		{"33S 281500 6244000", 0, 32733, 0}, // in the north it is not in band S
		{"30S 480000 4000000", 0, 0, 2},     // in band S, and far south
		{"30S 480000 4000000", 32630, 32630, 0},
		{"30S 480000 4000000", 32730, 32730, 0},
		{"30T 480000 6091000", 0, 0, 1},
		{"30U 480000 6091000", 27700, 0, 0},
		{"61U 480000 6091000", 0, 0, 0},
		{"32X 480000 8200000", 0, 0, 0},
		{"30U 4800 6091", 0, 0, 0},
		{"30I 480000 6091000", 0, 0, 0},
		{"30U 980000 6091000", 0, 0, 0},
	} {
		var ctx RefContext
		if c.sheet != 0 {
			ctx.System = mustLookup(c.sheet)
		}
		r, err := ParseRef(c.text, ctx)
		if c.want != 0 {
			if err != nil || r.System.EPSG() != c.want || r.Kind != RefPlain {
				t.Errorf("%q on %v: got %+v, %v, want EPSG:%d", c.text, ctx.System, r, err, c.want)
			}
			continue
		}
		var refused *RefError
		if !errors.As(err, &refused) || len(refused.Offers) != c.offers {
			t.Errorf("%q on %v: got %v, %v, want it refused with %d offers", c.text, ctx.System, r.Grid, err, c.offers)
			continue
		}
		var read []Grid
		for _, o := range refused.Offers {
			r, err := ParseRef(o, ctx)
			if err != nil || slices.Contains(read, r.Grid) && len(refused.Offers) == 1 {
				t.Errorf("%q offers %q, which is read as %v, %v", c.text, o, r.Grid, err)
			}
			read = append(read, r.Grid)
		}
	}
}
