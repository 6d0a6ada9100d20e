package gpx

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// What speaks against a position is read back as it was written; another program's
// source is none of it.
func TestCautionsComeBack(t *testing.T) {
	t.Parallel()
	text := written(t, made(), Options{Track: true})
	d, err := Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	want := made().Marks[0].Cautions
	if got := d.Marks[0].Cautions; !slices.Equal(got, want) || len(d.Marks[1].Cautions) != 0 {
		t.Errorf("the marks come back with %v and %v, want %v and none", got, d.Marks[1].Cautions, want)
	}
	if got := d.Routes[0].Points[0].Cautions; !slices.Equal(got, want) {
		t.Errorf("the route's start comes back with %v, want %v", got, want)
	}
	unknown := strings.ReplaceAll(string(text), "cautions: file-disagrees", "cautions: of-a-later-version")
	if d, err = Read(strings.NewReader(unknown)); err != nil || !d.Marks[0].Cautions[0].Stop() {
		t.Errorf("an unknown code: %v, %v, want a stop", err, d.Marks[0].Cautions)
	}
	other := strings.ReplaceAll(string(text), "Legwright cautions: file-disagrees", "hand-held receiver, unchecked")
	if d, err = Read(strings.NewReader(other)); err != nil || len(d.Marks[0].Cautions) != 0 {
		t.Errorf("another source: %v, %v", err, d.Marks[0].Cautions)
	}
}

// What the program wrote around a note goes when the file is read again; what a
// person or another program wrote stays.
func TestCautionsDoNotPileUp(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ desc, stop, source, want string }{
		{"STOP: outside the points; large cairn; Cautions: It lies outside.", "STOP: outside the points", cautionsIn + " outside-points", "large cairn"},
		{"large cairn; Cautions: The sheet is unchecked.", "", cautionsIn + " unchecked", "large cairn"},
		{"Cautions: The sheet is unchecked.", "", cautionsIn + " unchecked", ""},
		{"large cairn; Cautions: loose stones", "", "a hand-held receiver", "large cairn; Cautions: loose stones"},
	} {
		text := `<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="56" lon="-8"><name>A</name><cmt>` +
			c.stop + `</cmt><desc>` + c.desc + `</desc><src>` + c.source + `</src></wpt></gpx>`
		d, err := Read(strings.NewReader(text))
		if err != nil || len(d.Marks) != 1 || d.Marks[0].Desc != c.want {
			t.Errorf("%q: %+v, %v, want %q", c.desc, d, err, c.want)
		}
	}
}
