package ui

import "testing"

// A window of 1400 × 900 at scale 1.5 on a screen of 1920 × 1080, of which the taskbar takes 48
// pixels, fills what is left; smaller ones move inside as they are.
func TestWithin(t *testing.T) {
	t.Parallel()
	screen := rect{0, 0, 1920, 1032}
	for _, c := range []struct{ at, want rect }{
		{rect{-90, -135, 2010, 1215}, screen},
		{rect{260, 90, 1660, 990}, rect{260, 90, 1660, 990}},
		{rect{-40, -31, 1360, 869}, rect{0, 0, 1400, 900}},
		{rect{1000, 500, 2400, 1400}, rect{520, 132, 1920, 1032}},
	} {
		if got := c.at.within(screen); got != c.want {
			t.Errorf("%v: got %v, want %v", c.at, got, c.want)
		}
	}
}
