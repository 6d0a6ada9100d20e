package pdf

import (
	"bytes"
	"errors"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestRender draws a red square of an inch in the lower left of a page of 4 ×
// 2 inches and looks for its corners; the page is turned by every quarter.
func TestRender(t *testing.T) {
	t.Parallel()
	red, white := color.RGBA{255, 0, 0, 255}, color.RGBA{255, 255, 255, 255}
	for _, c := range []struct {
		name   string
		page   string
		w, h   int
		inside [4]int // columns and rows of the square
	}{
		{"upright", "", 400, 200, [4]int{0, 100, 100, 200}},
		{"quarter", "/Rotate 90", 200, 400, [4]int{0, 100, 0, 100}},
		{"half", "/Rotate 180", 400, 200, [4]int{300, 400, 0, 100}},
		{"three quarters", "/Rotate 270", 200, 400, [4]int{100, 200, 300, 400}},
		{"negative", "/Rotate -90", 200, 400, [4]int{100, 200, 300, 400}},
		{"cropped", "/CropBox [36 36 180 144]", 200, 150, [4]int{0, 50, 100, 150}},
		{"crop beyond the media", "/CropBox [-500 -500 900 900]", 400, 200, [4]int{0, 100, 100, 200}},
		{"origin elsewhere", "/MediaBox [-72 -72 216 72]", 400, 200, [4]int{100, 200, 0, 100}},
		{"units of half a millimetre's kind", "/UserUnit 2", 800, 400, [4]int{0, 200, 200, 400}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			d := open(t, made{page: c.page}.bytes())
			p, err := d.Page(patient(t), 1)
			if err != nil || len(p.Notes) > 0 {
				t.Fatal(err, p.Notes)
			}
			w, h := p.Pixels(100)
			if w != c.w || h != c.h {
				t.Fatalf("got %d × %d pixels, want %d × %d", w, h, c.w, c.h)
			}
			img, err := d.Render(patient(t), 1, w, h, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range [][2]int{
				{c.inside[0], c.inside[2]},
				{c.inside[1] - 1, c.inside[2]},
				{c.inside[0], c.inside[3] - 1},
				{c.inside[1] - 1, c.inside[3] - 1},
			} {
				if got := img.RGBAAt(at[0], at[1]); got != red {
					t.Errorf("pixel %v is %v, want red", at, got)
				}
			}
			count := 0
			for y := range h {
				for x := range w {
					if img.RGBAAt(x, y) != white {
						count++
					}
				}
			}
			if want := (c.inside[1] - c.inside[0]) * (c.inside[3] - c.inside[2]); count != want {
				t.Errorf("%d pixels are drawn, want %d", count, want)
			}
			// The same corner by the transform that places the map.
			m := p.ToPicture(w, h)
			col, row := apply(m, 72, 72)
			x0, x1 := c.inside[0], c.inside[1]
			if (col != float64(x0) && col != float64(x1)) || (row != float64(c.inside[2]) && row != float64(c.inside[3])) {
				t.Errorf("(72, 72) lies at %g, %g, not at a corner of %v", col, row, c.inside)
			}
		})
	}
}

// TestRenderBands: a page drawn in several bands is the page, and every row is
// told once.
func TestRenderBands(t *testing.T) {
	t.Parallel()
	d := open(t, made{content: "0 0 1 rg 0 0 m 288 144 l 288 0 l f"}.bytes())
	var told []int
	const w, h = 8000, 4000
	img, err := d.Render(patient(t), 1, w, h, func(done, total int) {
		if total != h {
			t.Errorf("total %d, want %d", total, h)
		}
		told = append(told, done)
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(told) < 3 || told[len(told)-1] != h {
		t.Errorf("told %v", told)
	}
	for y := 10; y < h; y += 7 { // the edge runs from the lower left to the upper right
		edge := (h - y) * w / h
		if l, r := img.RGBAAt(edge-4, y), img.RGBAAt(min(edge+4, w-1), y); l.R != 255 || r.R != 0 || r.B != 255 {
			t.Fatalf("row %d: %v and %v beside the edge", y, l, r)
		}
	}
}

// TestBad: every kind of document that cannot be shown is refused with a sentence.
func TestBad(t *testing.T) {
	t.Parallel()
	sound := made{}.bytes()
	encrypted := made{
		trailer: "/Encrypt 5 0 R /ID [<00112233445566778899aabbccddeeff> <00112233445566778899aabbccddeeff>]",
		objects: []string{"<< /Filter /Standard /V 1 /R 2 /P -44 /O <" + strings.Repeat("ab", 32) + "> /U <" + strings.Repeat("cd", 32) + "> >>"},
	}.bytes()
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"empty", nil, ErrDamaged},
		{"not a PDF", []byte("%PDF-1.7 but nothing follows"), ErrDamaged},
		{"cut off at the head", sound[:40], ErrDamaged},
		{"encrypted", encrypted, ErrEncrypted},
		{"no pages", made{pages: -1}.bytes(), ErrNoPages},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			d, err := engine().Open(patient(t), bytes.NewReader(c.data), int64(len(c.data)))
			if d != nil {
				d.Close()
			}
			if !errors.Is(err, c.want) {
				t.Fatalf("got %v, want %v", err, c.want)
			}
			t.Log(err)
		})
	}
}

// TestPageAsked: pages are counted from 1 and no further than there are.
func TestPageAsked(t *testing.T) {
	t.Parallel()
	d := open(t, made{pages: 3}.bytes())
	if d.Pages() != 3 {
		t.Fatalf("got %d pages, want 3", d.Pages())
	}
	for _, page := range []int{-1, 0, 4} {
		if _, err := d.Page(patient(t), page); !errors.Is(err, ErrNoPage) {
			t.Errorf("page %d: %v", page, err)
		}
		if _, err := d.Render(patient(t), page, 10, 10, nil); !errors.Is(err, ErrNoPage) {
			t.Errorf("drawing page %d: %v", page, err)
		}
	}
	if _, err := d.Render(patient(t), 3, 10, 5, nil); err != nil {
		t.Error(err)
	}
}

// TestGiantPage: the resolution that is offered keeps within the limits, and
// the next one does not.
func TestGiantPage(t *testing.T) {
	t.Parallel()
	d := open(t, made{page: "/MediaBox [0 0 14400 14400] /UserUnit 10"}.bytes())
	p, err := d.Page(patient(t), 1)
	if err != nil {
		t.Fatal(err)
	}
	const side, area = 65535, 400_000_000
	dpi := p.LargestDPI(side, area)
	w, h := p.Pixels(dpi)
	over, _ := p.Pixels(dpi + 1)
	if dpi != 10 || w*h > area || over*over <= area {
		t.Errorf("2000 inches: got %g dpi, %d × %d", dpi, w, h)
	}
}

// TestScript: a document that wants to run a script when it is opened or shown
// is drawn like any other, and nothing happens: the build has no engine for it.
func TestScript(t *testing.T) {
	t.Parallel()
	js := "<< /S /JavaScript /JS (this.getField('x').value = 1; app.alert('no'); while (true) {}) >>"
	d := open(t, made{catalog: "/OpenAction " + js, page: "/AA << /O " + js + " >>"}.bytes())
	img, err := d.Render(patient(t), 1, 288, 144, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := img.RGBAAt(10, 140); got != (color.RGBA{255, 0, 0, 255}) {
		t.Errorf("got %v, want red", got)
	}
}

// TestNativeDPI: a page that is one picture has the picture's resolution, a
// drawing has none.
func TestNativeDPI(t *testing.T) {
	t.Parallel()
	picture := "<< /Type /XObject /Subtype /Image /Width 6 /Height 3 /ColorSpace /DeviceGray /BitsPerComponent 8 /Length 18 >>\nstream\n" +
		strings.Repeat("\x20\xc0", 9) + "\nendstream"
	whole := made{content: "q 288 0 0 144 0 0 cm /M Do Q", page: "/Resources << /XObject << /M 5 0 R >> >>", objects: []string{picture}}
	part := whole
	part.content = "q 100 0 0 50 0 0 cm /M Do Q"
	for _, c := range []struct {
		name string
		m    made
		want float64
	}{{"one picture", whole, 1.5}, {"a picture in a corner", part, 0}, {"a drawing", made{}, 0}} {
		t.Run(c.name, func(t *testing.T) {
			d := open(t, c.m.bytes())
			p, err := d.Page(patient(t), 1)
			if err != nil {
				t.Fatal(err)
			}
			got, err := d.NativeDPI(patient(t), 1, p)
			if err != nil || got != c.want {
				t.Errorf("got %g dpi (%v), want %g", got, err, c.want)
			}
		})
	}
}

// TestNoTraces: reading dictionaries makes no settings on this machine.
func TestNoTraces(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
	if _, err := readPages(t, made{}.bytes()); err != nil {
		t.Fatal(err)
	}
	left, err := os.ReadDir(home)
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v (%v)", left, err)
	}
}

// TestLazy: an engine that nobody asked for a page leaves nothing behind, and
// makes no folder; the bench has one from its start.
func TestLazy(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "code")
	e := NewEngine(dir)
	if _, err := os.Stat(dir); !errors.Is(err, os.ErrNotExist) {
		t.Fatalf("the folder is there before the first page: %v", err)
	}
	if testing.Short() {
		t.Skip("translating takes seconds")
	}
	data := made{}.bytes()
	d, err := e.Open(patient(t), bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if left, err := os.ReadDir(dir); err != nil || len(left) == 0 {
		t.Errorf("the machine code was not kept: %v", err)
	}
}
