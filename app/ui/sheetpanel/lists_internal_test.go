package sheetpanel

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/geodesy"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// A row of the list of control points is never wider than the panel, whatever its
// reference and its residual.
func TestListedPointsFitThePanel(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	l := newPointList(&Needs{Foot: foot.New()}, nil)
	for _, text := range []string{"NL 21 42", "56.166667°N 6.166667°W", "-1113194.908 7361866.113", "NL 26412 42318 the spring under the crag"} {
		for _, note := range []string{"", "0.9 m  0.1 px", "20037 km  9999 px"} {
			row := l.newRow()
			row.show(pointRow{99, text, note, false})
			if w := row.body.MinSize().Width; w > widgets.RowWidth {
				t.Errorf("%q with %q: the row is %v wide, want at most %v", text, note, w, widgets.RowWidth)
			}
		}
	}
}

// The line under the enlargement is one line of the panel: a label that is centred loses
// both its ends.
func TestTheLineUnderTheEnlargementFits(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	f := newForm(&Needs{Foot: foot.New()}, formActs{})
	f.under.SetText(f.underWords())
	if w := f.under.MinSize().Width; w > widgets.RowWidth {
		t.Errorf("%q is %v wide, want at most %v", f.under.Text, w, widgets.RowWidth)
	}
}

// A long name of a sheet is cut so that its note has room.
func TestLongSheetNamesAreCut(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	const name = "Scan of the western panel, second edition.png"
	for n, want := range map[int]string{len(name): name, 9: "Scan….png", 10: "Scan…n.png", 5: "Sc…ng"} {
		if got := widgets.CutMiddle(name, n); got != want {
			t.Errorf("to %d letters: got %q, want %q", n, got, want)
		}
	}
	n := &Needs{Foot: foot.New()}
	row := (&sheetList{n: n}).row(sheetRow{id: "x", name: strings.Repeat(name, 3), note: "not calibrated"}).(*fyne.Container)
	row.Resize(fyne.NewSize(300, 36))
	tool, note := row.Objects[0], row.Objects[1]
	if right := tool.Position().X + tool.MinSize().Width; right > note.Position().X {
		t.Errorf("the name ends at %v, and its note begins at %v", right, note.Position().X)
	}
}

func TestResidualsStayShort(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		m, px float64
		want  string
	}{
		{1.24, 0.31, "1.2 m  0.3 px"}, {99.94, 9.9, "99.9 m  9.9 px"}, {504589.7, 4891.5, "505 km  4892 px"}, {1234.5, 246.9, "1234 m  247 px"},
	} {
		if got := residualWords(c.m, c.px); got != c.want {
			t.Errorf("%v m, %v px: got %q, want %q", c.m, c.px, got, c.want)
		}
	}
}

// References that a file gives to the millimetre are listed to the metre, and what a
// person typed as it was typed.
func TestListedReferences(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"19770.469 750276.427":      "19770 750276",
		"-1113194.908 7361866.113":  "-1113195 7361866",
		"NL 26 42":                  "NL 26 42",
		"13.020 63.002":             "13.020 63.002",
		"NL 26412 42318 the spring": "NL 26412 42318 the spring",
		"19770.4691 750276.4271":    "19770.4691 750276.4271",
	} {
		if got := shortRef(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// Of many points those with the largest residuals are listed, and the chosen one first.
func TestListOfManyPoints(t *testing.T) {
	t.Parallel()
	points, left := make([]calib.ControlPoint, 100), make([]calib.Residual, 100)
	for i := range left {
		left[i].Px = float64(i)
	}
	for _, c := range []struct {
		name        string
		points      int
		fitted      bool
		chosen      int
		first, last int
		whole       bool
	}{
		{"few", 12, true, -1, 0, 11, true},
		{"many", 100, true, -1, 99, 88, false},
		{"many, one chosen", 100, true, 3, 3, 89, false},
		{"many, no fit", 100, false, -1, 0, 47, false},
		{"some, no fit", 40, false, -1, 0, 39, true},
	} {
		residuals := left[:c.points]
		if !c.fitted {
			residuals = nil
		}
		got := listedPoints(points[:c.points], residuals, c.chosen)
		if got[0] != c.first || got[len(got)-1] != c.last {
			t.Errorf("%s: listed %v, want from %d to %d", c.name, got, c.first, c.last)
		}
		if words := listedWords(len(got), c.points, c.fitted); (words == "") != c.whole {
			t.Errorf("%s: it says %q", c.name, words)
		}
	}
}

// Points that do not cover the picture are no fault of theirs: the panel says where the
// next one belongs.
func TestReachHint(t *testing.T) {
	t.Parallel()
	at := func(cols ...float64) []calib.ControlPoint {
		var out []calib.ControlPoint
		for i := 0; i < len(cols); i += 2 {
			out = append(out, calib.ControlPoint{
				At:  calib.PicturePt{Col: cols[i], Row: cols[i+1]},
				Ref: geodesy.Grid{E: 230000 + 2.5*cols[i], N: 750000 - 2.5*cols[i+1]},
			})
		}
		return out
	}
	for _, tc := range []struct {
		name   string
		points []calib.ControlPoint
		medium calib.Medium
		said   bool
	}{
		{"near the corners", at(300, 300, 3600, 2900, 400, 2800, 3700, 300), calib.Scan, false},
		{"in one corner", at(300, 300, 900, 700, 350, 800), calib.Scan, true},
		{"along one edge", at(300, 300, 2000, 300, 3700, 300), calib.Scan, true},
		{"two of a photograph", at(300, 300, 3600, 2900), calib.Photograph, false},
	} {
		c, err := calib.Fit(tc.points, calib.Options{Width: 4000, Height: 3200, Medium: tc.medium})
		if err != nil {
			t.Fatal(err)
		}
		if got := reachHint(c); (got != "") != tc.said {
			t.Errorf("%s: it says %q", tc.name, got)
		}
	}
	for n, want := range map[int]string{2: "near each corner", 3: "near each corner", 4: "a fifth", 5: ""} {
		all := at(300, 300, 3600, 2900, 400, 2800, 3700, 300, 1900, 1500)
		c, err := calib.Fit(all[:n], calib.Options{Width: 4000, Height: 3200, Medium: calib.Photograph})
		if err != nil {
			t.Fatal(err)
		}
		if got := photoHint(c, check.Verdict{}); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%d points of a photograph: it says %q, want %q", n, got, want)
		}
	}
	squeezed := at(300, 300, 3600, 2900, 400, 2800, 3700, 300)
	for i := range squeezed {
		squeezed[i].Ref.E += 0.15 * squeezed[i].At.Col
	}
	if c, err := calib.Fit(squeezed, calib.Options{Width: 4000, Height: 3200, Medium: calib.Photograph}); err != nil || !strings.Contains(disagreeHint(c), "cropped or straightened") {
		t.Errorf("of a squeezed photograph it says %q, %v", disagreeHint(c), err)
	}
}
