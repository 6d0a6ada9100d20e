package gpx

import (
	"bytes"
	"slices"
	"testing"

	"legwright/app/leg"
	"legwright/app/plan"
)

// exported is a plan of as many routes as names are given, each from a first to a
// last place.
func exported(title string, ends ...string) leg.Exported {
	x := leg.Exported{Title: title}
	for i := 0; i+1 < len(ends); i += 2 {
		x.Routes = append(x.Routes, []leg.ExportPoint{{Name: ends[i]}, {Name: "halfway"}, {Name: ends[i+1]}})
	}
	return x
}

// Routes stay apart when a receiver shows the first letters of a name only, and each
// has a name although the plan has none.
func TestRoutesHaveNamesThatStayApart(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		x     leg.Exported
		limit int
		want  []string
	}{
		"one":                      {exported("Skelvig round by the quay", "quay", "hut"), 20, []string{"Skelvig round by the"}},
		"two":                      {exported("Skelvig round", "quay", "hut", "hut", "top"), 20, []string{"1 Skelvig round", "2 Skelvig round"}},
		"two, ten letters":         {exported("Skelvig round", "quay", "hut", "hut", "top"), 10, []string{"1 Skelvig", "2 Skelvig"}},
		"untitled":                 {exported("", "quay", "hut"), 30, []string{"quay to hut"}},
		"untitled, there and back": {exported(" ", "quay", "hut", "hut", "quay"), 30, []string{"quay to hut", "hut to quay"}},
	} {
		d, err := Read(bytes.NewReader(written(t, FromLegs(c.x, nil, plan.Date{}), Options{NameLimit: c.limit})))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var got []string
		for _, r := range d.Routes {
			got = append(got, r.Name)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: routes are named %q, want %q", name, got, c.want)
		}
	}
}

// The GPX 1.1 schema lets a file say nothing of an author; an empty one says that
// somebody without a name wrote it.
func TestNoEmptyAuthor(t *testing.T) {
	t.Parallel()
	if text := written(t, made(), Options{}); bytes.Contains(text, []byte("author")) {
		t.Errorf("an author stands in\n%s", text)
	}
}
