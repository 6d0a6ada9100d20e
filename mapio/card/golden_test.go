package card

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/paper"
	"legwright/mapio/rectify"
)

// Golden pages are written again by
//
//	go test ./mapio/card -run Golden -update
//
// Look at them before committing. A page that differs is left in testdata/failed under the
// golden's name.
var update = flag.Bool("update", false, "write the golden pages again")

// Pages are compared coarsely, as another version of what prints them draws the edges of
// letters otherwise: by the mean shade of squares.
const (
	goldenInch   = 50 // pixels
	goldenSquare = 6  // pixels, 3 mm
	goldenStep   = 24 // of 255
)

// goldenCard is the demo's hill card with its map.
func goldenCard(t *testing.T, s Source, c *Content) []byte {
	t.Helper()
	scan, err := jpeg.Decode(bytes.NewReader(demo.Scan()))
	if err != nil {
		t.Fatal(err)
	}
	maps, err := c.Maps(s, 0, func(plan.Sheet) (Picture, error) { return Picture{Cut: rectify.CutOf(scan)}, nil })
	if err != nil || len(maps) != 1 {
		t.Fatalf("%d maps: %v", len(maps), err)
	}
	var out [2][]byte
	for i := range out {
		if out[i], err = c.Hill(context.Background(), Print{Size: paper.A4, Maps: maps}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(out[0], out[1]) {
		t.Error("the same card with a map is another file the second time")
	}
	return out[0]
}

// The demo's papers look as they did: the hill card on A4 with its map and on the smallest paper,
// and leg cards. With its map the card is a clean file, and the same bytes twice.
func TestGoldenPages(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	c := contentOf(t, s)
	file := goldenCard(t, s, c)
	hill := printed(t, file, nil)
	readAgain(t, "qpdf", "--check", hill)
	compareGolden(t, "hill-a4", hill, 1)
	compareGolden(t, "map-a4", hill, bytes.Count(file, []byte("/Type /Page\n")))
	pdf, err := c.Hill(context.Background(), Print{Size: paper.Pocket})
	compareGolden(t, "hill-pocket", printed(t, pdf, err), 1)
	pdf, err = c.LegCards(Print{Size: paper.A4, Up: 4})
	compareGolden(t, "legs-a4", printed(t, pdf, err), 1)
}

// A golden page shows a figure that is missing, however small: the test above can fail.
func TestGoldenSeesAMissingFigure(t *testing.T) {
	t.Parallel()
	c := contentOf(t, demoSource(t))
	pdf, err := c.Hill(context.Background(), Print{Size: paper.A4})
	path := printed(t, pdf, err)
	whole, less := pageOf(t, path, 1), pageOf(t, path, 1)
	if off, _ := differs(whole, less); off != 0 {
		t.Fatalf("one page differs from itself by %.0f", off)
	}
	words := wordsOf(t, path)
	w := words[slices.IndexFunc(words, func(w word) bool { return w.Text == "36" })] // double paces of leg 1
	px := func(pt float64) int { return int(math.Round(pt / 72 * goldenInch)) }
	for y := px(w.YMin); y < px(w.YMax); y++ {
		for x := px(w.XMin); x < px(w.XMax); x++ {
			less.Pix[less.PixOffset(x, y)] = 255
		}
	}
	if off, _ := differs(whole, less); off <= goldenStep {
		t.Errorf("two digits less differ by %.0f, which passes", off)
	}
}

// pageOf is a page as it is printed, in grey.
func pageOf(t *testing.T, path string, page int) *image.Gray {
	t.Helper()
	n := fmt.Sprint(page)
	file := readAgain(t, "pdftoppm", "-r", fmt.Sprint(goldenInch), "-gray", "-png", "-f", n, "-l", n, path)
	m, err := png.Decode(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	grey := image.NewGray(m.Bounds())
	draw.Draw(grey, grey.Rect, m, image.Point{}, draw.Src)
	return grey
}

// compareGolden compares a page with its golden.
func compareGolden(t *testing.T, name, path string, page int) {
	t.Helper()
	got, file := pageOf(t, path, page), filepath.Join("testdata", "golden", name+".png")
	if *update {
		writePNG(t, file, got)
		return
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	want, ok := m.(*image.Gray)
	if err != nil || !ok || want.Rect != got.Rect {
		t.Fatalf("%s: %T of %v, the page is %v: %v", name, m, m.Bounds(), got.Rect, err)
	}
	if off, at := differs(got, want); off > goldenStep {
		failed := filepath.Join("testdata", "failed", name+".png")
		writePNG(t, failed, got)
		t.Errorf("%s differs by %.0f of at most %d at %v, see %s", name, off, goldenStep, at, failed)
	}
}

// differs is the most by which the mean shade of a square differs between two pages, and where.
func differs(a, b *image.Gray) (most float64, at image.Point) {
	for y := 0; y < a.Rect.Dy(); y += goldenSquare {
		for x := 0; x < a.Rect.Dx(); x += goldenSquare {
			sum, n := 0, 0
			square := image.Rect(x, y, x+goldenSquare, y+goldenSquare).Intersect(a.Rect)
			for j := square.Min.Y; j < square.Max.Y; j++ {
				for i := square.Min.X; i < square.Max.X; i++ {
					sum, n = sum+int(a.GrayAt(i, j).Y)-int(b.GrayAt(i, j).Y), n+1
				}
			}
			if off := math.Abs(float64(sum) / float64(n)); off > most {
				most, at = off, image.Pt(x, y)
			}
		}
	}
	return most, at
}

func writePNG(t *testing.T, file string, m image.Image) {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, m); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
