package ground

import (
	"testing"

	"legwright/app/geodesy"
)

// An area is held by what lies within the distances of several shapes together, and not where a
// corner of it sticks out.
func TestCover(t *testing.T) {
	t.Parallel()
	box := func(w, s, e, n float64) Shape {
		return Area([]geodesy.Grid{{E: w, N: s}, {E: e, N: s}, {E: e, N: n}, {E: w, N: n}})
	}
	var c Cover
	if c.Holds(box(0, 0, 1, 1)) {
		t.Error("an empty cover holds something")
	}
	c.Add(box(0, 0, 100, 100), 10)
	c.Add(box(120, 0, 200, 100), 10)
	c.Add(box(0, 200, 100, 300), 0)
	for _, x := range []struct {
		area Shape
		want bool
	}{
		{box(0, 0, 100, 100), true},
		{box(-9, 10, 100, 90), true},
		{box(-11, 0, 100, 100), false},
		{box(50, 20, 150, 80), true}, // across both, which meet at 110
		{box(50, 20, 150, 112), false},
		{box(0, 200, 100, 300), true},
		{box(0, 199, 100, 300), false},
		{box(500, 500, 501, 501), false},
	} {
		if got := c.Holds(x.area); got != x.want {
			t.Errorf("%v: held %v, want %v", x.area.bound, got, x.want)
		}
	}
}
