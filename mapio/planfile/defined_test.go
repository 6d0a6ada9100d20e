package planfile

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"

	"legwright/app/plan"
)

// islePlan lies on a grid by definition.
func islePlan() *plan.Plan {
	p := isle()
	sheet := p.Sheets[0]
	sheet.Code = isleGrid
	p = p.SetSheet(sheet)
	for i, m := range p.Marks {
		m.Position.Code = isleGrid
		p.Marks[i] = m
	}
	return p
}

// A plan on a grid by definition comes back with it, and says epsg 0.
func TestDefinedGridRoundTrip(t *testing.T) {
	t.Parallel()
	want := islePlan()
	written := text(t, want)
	if n := strings.Count(written, `"definition": "+proj=tmerc`); n != 1+len(want.Marks) || !strings.Contains(written, `"epsg": 0`) {
		t.Errorf("%d definitions in\n%s", n, written)
	}
	got, err := Decode(strings.NewReader(written))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Marks, want.Marks) || !reflect.DeepEqual(got.Sheets, want.Sheets) {
		t.Errorf("read back %+v, want %+v", got, want)
	}
}

// A definition in other words is taken for the same grid, one of a catalogue
// grid for that, and nonsense is refused.
func TestDefinitionsInPlans(t *testing.T) {
	t.Parallel()
	written := text(t, islePlan())
	with := func(definition string) string { return strings.ReplaceAll(written, string(isleGrid), definition) }
	same, err := Decode(strings.NewReader(with("+proj=tmerc +k=0.9999 +lat_0=57 +lon_0=-6 +x_0=10000 +y_0=20000 +ellps=intl +towgs84=-87,-98,-121 +units=m +title=Isle_grid")))
	if err != nil || same.Sheets[0].Code != isleGrid {
		t.Errorf("other words: got %v, %v", same.Sheets, err)
	}
	coded, err := Decode(strings.NewReader(with("+proj=utm +zone=29 +datum=WGS84")))
	if err != nil || coded.Sheets[0].Code != "EPSG:32629" {
		t.Errorf("a grid of the catalogue: got %v, %v", coded, err)
	}
	for _, c := range []struct{ text, want string }{
		{with("+proj=aea +lat_1=1 +lat_2=2 +ellps=GRS80"), "+proj=aea is not supported"},
		{with("nonsense"), "neither a PROJ string"},
		{strings.Replace(written, `"epsg": 0`, `"epsg": 27700`, 1), "the code 27700 and the definition"},
	} {
		var broken *Broken
		if _, err := Decode(bytes.NewReader([]byte(c.text))); !errors.As(err, &broken) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want a refusal with %q", err, c.want)
		}
	}
}
