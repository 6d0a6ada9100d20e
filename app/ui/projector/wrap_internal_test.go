package projector

import (
	"reflect"
	"testing"

	"legwright/app/lettering"
)

// Lines break between figures, never within one; what is too long for a line is broken
// all the same.
func TestWrap(t *testing.T) {
	t.Parallel()
	letters, style := lettering.New(), lettering.Style{Size: 10}
	for _, c := range []struct {
		text string
		room string // a line is as wide as this
		want []string
	}{
		{"015° mag ± 0.9°", "015° mag ± ", []string{"015° mag", "± 0.9°"}},
		{"015° mag ± 0.9°", "015° mag ± 0.9°", []string{"015° mag ± 0.9°"}},
		{"12\u2009345 m ± 40", "12\u2009345 m", []string{"12\u2009345 m", "± 40"}},
		{"3 guesses, middle 0975 mil: right", "middle 0975 mil:", []string{"3 guesses,", "middle 0975 mil:", "right"}},
	} {
		if got := wrap(letters, c.text, style, letters.Width(c.room, style)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q in the room of %q: %q, want %q", c.text, c.room, got, c.want)
		}
	}
	long := wrap(letters, "Uninterruptedname", style, letters.Width("Uninter", style))
	for _, line := range long {
		if letters.Width(line, style) > letters.Width("Uninter", style) {
			t.Errorf("%q is too wide", line)
		}
	}
	if len(long) < 3 {
		t.Errorf("a name of one word takes %d lines", len(long))
	}
}
