package report

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// sheetOf is a made sheet of 3000 × 2000 pixels at 2.5 m with control points
// that lie miss pixels beside their places by turns.
func sheetOf(t testing.TB, n int, miss float64, picture bool) Sheet {
	t.Helper()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	var points []calib.ControlPoint
	for i := range n {
		at := calib.PicturePt{Col: 150 + 450*float64(i%7), Row: 150 + 400*float64(i/7)}
		ref := geodesy.Grid{E: 230000 + 2.5*at.Col, N: 750000 - 2.5*at.Row}
		at.Col += miss * float64(i%3-1)
		at.Row += miss * float64((i+1)%3-1)
		points = append(points, calib.ControlPoint{At: at, Ref: ref})
	}
	s := Sheet{Name: "made.png", System: system, From: "from made points", Made: time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC), Version: "1.2"}
	if picture {
		m := image.NewGray(image.Rect(0, 0, 300, 200))
		for i := range m.Pix {
			m.Pix[i] = 180
		}
		s.Picture, s.Width, s.Height = m, 3000, 2000
	}
	if s.Calibration, err = calib.Fit(points, calib.Options{Width: int(s.Width), Height: int(s.Height)}); err != nil {
		t.Fatal(err)
	}
	return s
}

// written composes the page without compression.
func written(t testing.TB, s Sheet) string {
	t.Helper()
	p, err := compose(s)
	if err != nil {
		t.Fatal(err)
	}
	if n := p.PageCount(); n != 1 {
		t.Errorf("got %d pages, want 1", n)
	}
	p.SetCompression(false)
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// inPDF is how a text stands in an uncompressed page: UTF-16 with the letters
// that end a string escaped.
func inPDF(text string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(text)) {
		for _, c := range []byte{byte(u >> 8), byte(u)} {
			if strings.IndexByte(`()\`, c) >= 0 {
				b.WriteByte('\\')
			}
			b.WriteByte(c)
		}
	}
	return b.String()
}

// The page says what it must, and draws the picture only where there is one.
func TestPageTells(t *testing.T) {
	t.Parallel()
	plain := sheetOf(t, 12, 0.6, true)
	plain.Cautions, plain.DPI = []string{"the datum is not known"}, 254
	crowded := sheetOf(t, 35, 0.6, true)
	crowded.Cautions = []string{"one", "two", "three", "four", "five", "six", "seven"}
	proved := sheetOf(t, 4, 0.6, false)
	proved.Proof = calib.Proof{Kind: calib.ProofFeature, Detail: "the pillar agrees"}
	doubted := sheetOf(t, 4, 0.6, false)
	doubted.Contradicted = calib.Contradiction{Detail: "12.0 px (120 m) off in the median, 1234.5 px at the worst"}
	placed := sheetOf(t, 4, 0.6, false)
	var err error
	if placed.Calibration, err = calib.FromMatrix([6]float64{2.5, 0, 30000, 0, -2.5, 50000}, 2); err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name        string
		s           Sheet
		has, hasNot []string
		images      int
	}{
		{
			"placed by a file, unproved", placed,
			[]string{"Sheet unproved", "Nothing independent of the file", "look the same."},
			[]string{"control points has shown"},
			0,
		},
		{
			"contradicted by its printed grid", doubted,
			[]string{"Contradicted", "Sheet unproved: the printed grid contradicts the place", "1234.5 px at the worst", "grid's lines."},
			[]string{"Proved"},
			0,
		},
		{
			"unproved with a picture", plain,
			[]string{
				"Calibration report", "made.png", "25 November 2026, 09:30", "Legwright 1.2", "Sheet unproved",
				"similarity of 12 points, 10 to spare", "at 254 px an inch", "The datum is not known.", "Cautions", "times as long",
				"NN 303 496", "affine", "smooth", "every " + grouped(1000) + " m",
			},
			[]string{"Proved", "There was no picture"},
			1,
		},
		{
			"proved, points alone", proved,
			[]string{"Proved", "The pillar agrees.", "There was no picture to draw beneath.", "similarity of 4 points, 2 to spare"},
			[]string{"Sheet unproved", "Cautions"},
			0,
		},
		{
			"no redundancy", sheetOf(t, 2, 0, true),
			[]string{"similarity of 2 points, 0 to spare", "There are no arrows: no control point is to spare"},
			[]string{"times as long"},
			1,
		},
		{
			"more points than rows", crowded,
			[]string{"that fit worst, of 35.", "similarity", "affine", "perspective", "smooth"},
			nil, 1,
		},
	} {
		out := written(t, tc.s)
		for _, w := range tc.has {
			if !strings.Contains(out, inPDF(w)) {
				t.Errorf("%s: %q is missing", tc.name, w)
			}
		}
		for _, w := range tc.hasNot {
			if strings.Contains(out, inPDF(w)) {
				t.Errorf("%s: %q stands there", tc.name, w)
			}
		}
		if got := strings.Count(out, "/Subtype /Image"); got != tc.images {
			t.Errorf("%s: got %d pictures, want %d", tc.name, got, tc.images)
		}
	}
}

// Arrows keep their length on paper whatever the misfit, and are as many times
// longer as the caption says.
func TestMagnification(t *testing.T) {
	t.Parallel()
	for _, miss := range []float64{0.01, 0.4, 3, 40} {
		s := sheetOf(t, 12, miss, true)
		k := times(s.Calibration, textW/3000)
		var most float64
		for _, r := range s.Calibration.Residuals() {
			most = math.Max(most, r.Px)
		}
		if long := k * most * textW / 3000; long > arrowMM || long < arrowMM/2.6 {
			t.Errorf("missed by %g px: the longest arrow is %.1f mm at %g times", miss, long, k)
		}
		if out := written(t, s); !strings.Contains(out, inPDF(grouped(k)+" times")) {
			t.Errorf("missed by %g px: the caption does not say %g times", miss, k)
		}
	}
	if k := times(sheetOf(t, 2, 0, true).Calibration, 0.06); k != 0 {
		t.Errorf("two points: got %g times, want none", k)
	}
}

// The grid is drawn where the fit has it, also where it bends.
func TestGridStep(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ px, want float64 }{{3000, 1000}, {600, 200}, {30000, 10000}} {
		s := sheetOf(t, 12, 0, false)
		if got := gridStep(s.Calibration, frame{0, 0, tc.px, tc.px / 2}); got != tc.want {
			t.Errorf("%g px at 2.5 m: a line every %g m, want %g", tc.px, got, tc.want)
		}
	}
}

func TestWords(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"plain":               "plain",
		"a\tb\nc":             "a b c",
		"bell\x07":            "bell□",
		"mountain \U0001F3D4": "mountain □",
		"bad \xff":            "bad □",
	} {
		if got := clean(in); got != want {
			t.Errorf("clean(%q): got %q, want %q", in, got, want)
		}
	}
	for in, want := range map[float64]float64{0.3: 1, 1: 1, 1.9: 1, 2: 2, 4.99: 2, 5: 5, 9: 5, 10: 10, 199: 100, 200: 200, 1000: 1000, math.Inf(1): 1} {
		if got := roundDown(in); got != want {
			t.Errorf("roundDown(%g): got %g, want %g", in, got, want)
		}
	}
	for in, want := range map[string]string{"": "", "it holds": "It holds.", "Why?": "Why?"} {
		if got := sentence(in); got != want {
			t.Errorf("sentence(%q): got %q, want %q", in, got, want)
		}
	}
}

func TestNothingToReport(t *testing.T) {
	t.Parallel()
	if err := Write(&bytes.Buffer{}, Sheet{}); !errors.Is(err, ErrNothing) {
		t.Errorf("got %v, want %v", err, ErrNothing)
	}
}

// A large picture is reduced, and one that lets through lies on white.
func TestReduced(t *testing.T) {
	t.Parallel()
	m := reduced(image.NewRGBA(image.Rect(0, 0, 5000, 20)))
	if got := m.Bounds().Size(); got != image.Pt(mostPicturePx, 20*mostPicturePx/5000) {
		t.Errorf("got %v", got)
	}
	if got := color.GrayModel.Convert(m.At(5, 3)); got != (color.Gray{Y: 255}) {
		t.Errorf("got %v, want white", got)
	}
}

// Whatever names and cautions hold, the page is written and stays one.
func FuzzPage(f *testing.F) {
	f.Add("sheet.png", "the points lie on one line")
	f.Add("\U0001F5FA map ﷽", strings.Repeat("long word ", 300))
	f.Add(strings.Repeat("x", 5000), "\x00\xff()\\")
	s := sheetOf(f, 7, 0.5, false)
	f.Fuzz(func(t *testing.T, name, caution string) {
		s := s
		s.Name, s.From, s.Cautions = name, caution, []string{caution, name}
		written(t, s)
	})
}

// A name in another script stands as it is read, and its letters that the type
// lacks by their code.
func TestNamesOfOtherScripts(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"isle.jpg":   "isle.jpg",
		"שלום.jpg":   "jpg.םולש",
		"a שלום.jpg": "a םולש.jpg",
		"山.jpg":      "[5C71].jpg",
		"top 🏔.jpg":  "top [1F3D4].jpg",
		"bell\a":     "bell\a",
	} {
		if got := seen(name); got != want {
			t.Errorf("%q: got %q, want %q", name, got, want)
		}
	}
}
