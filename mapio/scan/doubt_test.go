package scan

import (
	"strings"
	"testing"
)

// What a picture says against its place is kept to plain letters of a line, and is
// never lost.
func TestDoubtText(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ in, want string }{
		{" 12.0 px (30 m) off in the median\n", "12.0 px (30 m) off in the median"},
		{"12 px\x00\x1b[31m off", "12 px[31m off"},
		{"", "off by what the picture does not say"},
		{"\u202e", "off by what the picture does not say"},
		{strings.Repeat("x", 5000), strings.Repeat("x", maxDoubt)},
	} {
		if got := doubtText(tc.in); got != tc.want {
			t.Errorf("%q: got %q, want %q", tc.in, got, tc.want)
		}
	}
}
