package caution

import (
	"slices"
	"strings"
	"testing"
)

// What several things raise stands once, with all of them, the stop first.
func TestGathering(t *testing.T) {
	t.Parallel()
	var g Gathering
	g.Take("1", Of(Unchecked), Of(RoughBearing, "3°"))
	g.Take("2", Of(Unchecked), Of(VagueBearing, "12°"), Of(Unchecked))
	g.Take("", Of(NoDate).About("mark A"), Of(Unchecked))
	var got []string
	for _, r := range g.Raised(func(names []string) string { return strings.Join(names, "+") }) {
		got = append(got, r.Line())
	}
	want := []string{
		"2: " + Of(VagueBearing, "12°").Text(), "1+2: " + Of(Unchecked).Text(), "1: " + Of(RoughBearing, "3°").Text(),
		Of(NoDate).About("mark A").Text(),
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
