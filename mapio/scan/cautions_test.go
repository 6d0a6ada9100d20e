package scan

import (
	"strings"
	"testing"
)

// What a picture says against the sheet it was made from is kept to plain letters of
// a line, and never lost.
func TestCautionsText(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ in, want string }{
		{" poor-fit; slip-set\n", "poor-fit; slip-set"},
		{"12 px\x00\x1b[31m off", "12 px[31m off"},
		{"", "unreadable"},
		{"\u202e", "unreadable"},
		{strings.Repeat("x", 5000), strings.Repeat("x", maxCautions)},
	} {
		if got := cautionsText(tc.in); got != tc.want {
			t.Errorf("%q: got %q, want %q", tc.in, got, tc.want)
		}
	}
}
