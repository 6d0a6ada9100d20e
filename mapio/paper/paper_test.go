package paper

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func testInfo() Info {
	return Info{
		Title: "Round of Halvasay", Foot: "Plan 3fa2c1 · saved 28 November 2026, 19:40 GMT",
		Cautions: []string{"DRAFT: sheet unchecked."},
	}
}

// begun is a new document that must begin.
func begun(t testing.TB, size Size, info Info) *Doc {
	t.Helper()
	d, err := New(size, info)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// written is the file of a document, in a folder of the test.
func written(t testing.TB, d *Doc) string {
	t.Helper()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// run runs a reader of PDFs and returns what it writes.
func run(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed: the PDF is not checked against it", name)
	}
	var errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil || errs.Len() > 0 {
		t.Fatalf("%s: %v: %s%s", name, err, out, errs.String())
	}
	return string(out)
}

// fails reports a document whose first mistake does not speak of want.
func fails(t *testing.T, d *Doc, want string) {
	t.Helper()
	if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("the mistake is %v, want one of %q", err, want)
	}
}

// TestEveryPageCarriesItsBands: neither caution nor foot can be left out, and the file is
// clean in the eyes of qpdf.
func TestEveryPageCarriesItsBands(t *testing.T) {
	t.Parallel()
	for _, up := range []int{1, 4} {
		info := testInfo()
		info.Up = up
		d := begun(t, A4, info)
		d.AddPage()
		d.AddMapPage("Leg 2 crosses a crag.")
		d.AddPage()
		path := written(t, d)
		run(t, "qpdf", "--check", path)
		if !strings.Contains(run(t, "qpdf", "--json=latest", "--json-key=qpdf", path), `"/PrintScaling": "/None"`) {
			t.Error("the printer is not asked to keep the size")
		}
		text := run(t, "pdftotext", "-raw", path, "-")
		for want, n := range map[string]int{"DRAFT: sheet unchecked.": 3, "Leg 2 crosses a crag.": 1, "Plan 3fa2c1": 3, " 2 of 3": 1, " 3 of 3": 1} {
			if got := strings.Count(text, want); got != n {
				t.Errorf("%d up: %q stands %d times, want %d, in:\n%s", up, want, got, n, text)
			}
		}
	}
	if _, err := New(A4, Info{Foot: "Plan"}); err == nil {
		t.Error("a document without cautions began")
	}
	fails(t, begun(t, A4, testInfo()), "nothing was put")
}

// TestSameBytes: the same pages are the same file, so that two papers of one plan
// can be compared.
func TestSameBytes(t *testing.T) {
	t.Parallel()
	var files [2][]byte
	for i := range files {
		d := begun(t, A5, testInfo())
		p := d.AddMapPage()
		p.Line(p.Body, Style{Pt: 36, Bold: true}, Centre, "057°")
		var err error
		if files[i], err = d.Bytes(); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("the same page gave two files")
	}
	if len(files[0]) > 60_000 {
		t.Errorf("one page takes %d bytes: are the faces embedded whole?", len(files[0]))
	}
}

// TestTooSmallIsRefused: nothing on paper is finer or smaller than what rain and a red
// torch leave.
func TestTooSmallIsRefused(t *testing.T) {
	t.Parallel()
	for want, draw := range map[string]func(d *Doc, p *Page){
		"8.9 pt type":              func(_ *Doc, p *Page) { p.Line(p.Body, Style{Pt: 8.9}, Left, "a") },
		"5.0 pt type":              func(_ *Doc, p *Page) { p.Label(Point{50, 50}, 0, Style{Pt: 5}, false, "a") },
		"line of 0.34 mm":          func(_ *Doc, p *Page) { p.Rule(Point{1, 1}, Point{9, 9}, 0.34) },
		"line of NaN mm":           func(_ *Doc, p *Page) { p.Circle(Point{50, 50}, 5, Pen{Width: nan()}) },
		"is too small for type":    func(_ *Doc, p *Page) { p.Line(Rect{10, 50, 50, 3}, Style{}, Left, "a") },
		"not high enough for type": func(_ *Doc, p *Page) { p.Paragraph(Rect{10, 50, 50, 3}, Style{}, "a") },
		"too narrow for type":      func(_ *Doc, p *Page) { p.Paragraph(Rect{10, 50, 6, 30}, Style{}, "0572") },
		"larger paper":             func(d *Doc, _ *Page) { d.AddPage(strings.Repeat("Leg 2 crosses a crag. ", 50)) },
	} {
		d := begun(t, Pocket, testInfo())
		draw(d, d.AddPage())
		fails(t, d, want)
	}
}

func nan() float64 { var zero float64; return zero / zero }
