package caution_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"legwright/app/caution"
)

// codes reads every constant of type Code out of the source.
func codes(t *testing.T) []caution.Code {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "codes.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []caution.Code
	ast.Inspect(file, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if id, ok := v.Type.(*ast.Ident); !ok || id.Name != "Code" {
			t.Errorf("%s has no type Code", v.Names[0])
			return true
		}
		text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, caution.Code(text))
		return true
	})
	if len(out) < 40 {
		t.Fatalf("only %d codes found: the test reads the wrong file", len(out))
	}
	return out
}

// full is a caution with every value a sentence may quote.
func full(code caution.Code) caution.Caution {
	return caution.Of(code, "first", "second", "third")
}

// TestEveryCodeHasARow: a code without one would be a stop that says nothing.
func TestEveryCodeHasARow(t *testing.T) {
	t.Parallel()
	seen := map[caution.Code]bool{}
	for _, code := range codes(t) {
		if seen[code] {
			t.Errorf("%s stands twice", code)
		}
		seen[code] = true
		if !regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(string(code)) {
			t.Errorf("%q is not written in small letters and hyphens", code)
		}
		if !caution.Known(code) {
			t.Errorf("%s has no row", code)
		}
		c := full(code)
		if c.Grade() == caution.None || c.Affects == 0 {
			t.Errorf("%s: grade %q, affects %v", code, c.Grade(), c.Affects.Words())
		}
		if c.Short() == "" || strings.Contains(c.Short(), "unknown caution") || len(c.Short()) > 36 {
			t.Errorf("%s: short words %q", code, c.Short())
		}
	}
	if n := caution.Rows(); n != len(seen) {
		t.Errorf("the table has %d rows for %d codes", n, len(seen))
	}
}

// TestSentences: at most two short sentences, with their full stop, and no word of
// statistics or of the house.
func TestSentences(t *testing.T) {
	t.Parallel()
	unwanted := regexp.MustCompile(`(?i)sigma|root mean|proof|proved|doubt|flag|warning|crossing|misread|\{|\}|  `)
	for _, code := range codes(t) {
		for _, c := range []caution.Caution{full(code), full(code).About("mark A"), caution.Of(code), caution.Of(code).About("isle.tif")} {
			text := c.Text()
			if !strings.HasSuffix(text, ".") || strings.Count(text, ". ") > 1 || len(text) > 220 {
				t.Errorf("%s: %q", code, text)
			}
			if w := unwanted.FindString(strings.ReplaceAll(text, "in doubt", "")); w != "" {
				t.Errorf("%s: %q has %q", code, text, w)
			}
			if c.Subject != "" && !strings.Contains(strings.ToLower(text), strings.ToLower(c.Subject)) {
				t.Errorf("%s: %q does not name %s", code, text, c.Subject)
			}
		}
	}
}

func TestText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		c    caution.Caution
		want string
	}{
		{caution.Of(caution.VagueBearing, "12°"), "The bearing is only known to ± 12°. Choose ends that are farther apart or better known."},
		{caution.Of(caution.VagueBearing), "Bearing too vague. Do not walk on it."},
		{caution.Of(caution.RoughBearing), "Rough bearing."},
		{caution.Of(caution.Unchecked).About("isle.tif"), "isle.tif: The sheet is unchecked. Compare it with a feature that was not used to calibrate it."},
		{
			caution.Of(caution.OutsidePoints, "340 px").About("the end"),
			"The end lies 340 px outside the control points, where the calibration is a guess. Add a control point beyond it.",
		},
		{
			caution.Of(caution.OutsidePoints, "340 px"),
			"This position lies 340 px outside the control points, where the calibration is a guess. Add a control point beyond it.",
		},
		{caution.Of("made-up"), "Unknown caution “made-up”. Do not walk on this figure until you know what it means."},
	} {
		if got := c.c.Text(); got != c.want {
			t.Errorf("%s: %q, want %q", c.c.Code, got, c.want)
		}
	}
}

// TestFilesCannotSoften: what a file holds is code and subject; grade, words and
// what is affected are the table's, and what the table does not know is a stop.
func TestFilesCannotSoften(t *testing.T) {
	t.Parallel()
	for _, code := range codes(t) {
		back := caution.Parse(caution.Format([]caution.Caution{full(code).About("mark A")}))
		if want := caution.Of(code).About("mark A"); !slices.Equal(back, []caution.Caution{want}) || back[0].Grade() != full(code).Grade() {
			t.Errorf("%s came back as %v", code, back)
		}
	}
	for _, text := range []string{"made-up", "note", "Unchecked", "unchecked stop", "grade=note", ": isle", "poor-fit2"} {
		got := caution.Parse(text)
		if len(got) != 1 || !got[0].Stop() || got[0].Affects != caution.All {
			t.Errorf("%q read as %v, want one stop on everything", text, got)
		}
	}
	for _, text := range []string{"", " ", ";", " ; ;"} {
		if got := caution.Parse(text); got != nil {
			t.Errorf("%q read as %v, want none", text, got)
		}
	}
}

// TestFormatKeepsEntriesApart: a subject cannot forge an entry or a line.
func TestFormatKeepsEntriesApart(t *testing.T) {
	t.Parallel()
	list := []caution.Caution{
		caution.Of(caution.PoorFit).About("a; unchecked\n: b"), caution.Of(caution.Unchecked), caution.Of(caution.Unchecked),
	}
	text := caution.Format(list)
	if text != "poor-fit: a, unchecked : b; unchecked" {
		t.Errorf("written as %q", text)
	}
	if back := caution.Parse(text); len(back) != 2 || back[0].Code != caution.PoorFit || back[1].Code != caution.Unchecked {
		t.Errorf("read as %v", back)
	}
}

// A leg carries no note on latitude and longitude, but a stop on them.
func TestOfLeg(t *testing.T) {
	t.Parallel()
	list := []caution.Caution{caution.Of(caution.ScopeGrid), caution.Of(caution.Unchecked), caution.Of(caution.CoarseShift, "5 m", "a shift"), caution.Of(caution.ShiftUnknown, "none known")}
	got := caution.OfLeg(list)
	if len(got) != 2 || got[0].Code != caution.Unchecked || got[1].Code != caution.ShiftUnknown {
		t.Errorf("got %v, want unchecked and shift-unknown alone", got)
	}
}

func TestLists(t *testing.T) {
	t.Parallel()
	note, stop, far := caution.Of(caution.Unchecked), caution.Of(caution.VagueBearing, "12°"), caution.Of(caution.ShiftUnknown, "own datum")
	list := []caution.Caution{note, far, stop, note}
	if got := caution.GravestFirst(list); !slices.Equal(got, []caution.Caution{far, stop, note}) {
		t.Errorf("gravest first: %v", got)
	}
	if got := caution.Lead(list, caution.OnLeg); got != "STOP: bearing too vague" {
		t.Errorf("a leg leads with %q", got)
	}
	if got := caution.Lead(list, caution.All); got != "STOP: lat/lon unknown, bearing too vague" {
		t.Errorf("a point of a file leads with %q", got)
	}
	if got := caution.Lead([]caution.Caution{note}, caution.All); got != "" {
		t.Errorf("a note leads with %q", got)
	}
	if caution.Stops([]caution.Caution{far}, caution.OnLeg) || !caution.Stops([]caution.Caution{far}, caution.LatLon) {
		t.Error("unknown latitude and longitude must stop these alone")
	}
	if got := caution.Worst(nil, caution.All); got != caution.None {
		t.Errorf("nothing is %v", got)
	}
	if got := caution.Worst(list[:1], caution.Bearing); got != caution.Note {
		t.Errorf("a note is %v", got)
	}
	if got := caution.Shorts(list); !slices.Equal(got, []string{"lat/lon unknown", "bearing too vague", "sheet unchecked"}) {
		t.Errorf("short words: %q", got)
	}
	if !caution.Has(list, caution.ShiftUnknown) || caution.Has(list, caution.PoorFit) {
		t.Error("Has is wrong")
	}
	if got := (caution.Position | caution.LatLon).Words(); !slices.Equal(got, []string{"position", "latlon"}) {
		t.Errorf("affects %q", got)
	}
}
