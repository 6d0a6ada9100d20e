package ui

import "testing"

// A row of the list of control points is never wider than the panel, whatever
// its reference and its miss.
func TestListedPointsFitThePanel(t *testing.T) {
	b := calibrated(t)
	for _, text := range []string{"NL 21 42", "56.166667°N 6.166667°W", "-1113194.908 7361866.113", "NL 26412 42318 the spring under the crag"} {
		for _, note := range []string{"", "0.9 m  0.1 px", "20037 km  9999 px"} {
			if w := b.sheetP.pointRow(99, text, note).MinSize().Width; w > listedRoom {
				t.Errorf("%q with %q: the row is %v wide, want at most %v", text, note, w, listedRoom)
			}
		}
	}
}
