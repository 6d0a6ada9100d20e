package lettering

import (
	"slices"
	"testing"
)

// A text that the fonts have stays; what they lack stands as its code, and Shown and
// a setter agree on it. The code points are those of the Unicode Standard.
func TestShown(t *testing.T) {
	t.Parallel()
	s := New()
	for _, c := range []struct{ name, text, want string }{
		{"plain", "Beinn Àrd 057° ± 2°", "Beinn Àrd 057° ± 2°"},
		{"other scripts", "Гора جبل הר", "Гора جبل הר"},
		{"no font", "山 hut", "[5C71] hut"},
		{"emoji", "⛰️ 😀", "[26F0] [1F600]"},
		{"joined emoji", "👨\u200d👩", "[1F468][1F469]"},
		{"a mark joined with its letter", "A\u0300rd", "Àrd"},
		{"lines", "one\ntwo", "one\ntwo"},
		{"already shown", "[5C71]", "[5C71]"},
	} {
		got := Shown(c.text)
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
		for _, bold := range []bool{false, true} {
			if c.name != "joined emoji" && !slices.Equal(shapes(s.Line(c.text, bold)), shapes(s.Line(got, bold))) {
				t.Errorf("%s: a setter draws %q and %q differently", c.name, c.text, got)
			}
		}
	}
}
