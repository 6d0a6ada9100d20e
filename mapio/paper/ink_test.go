package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"strconv"
	"testing"
)

// printed is a part of the first page as pdftoppm prints it, in grey, at a resolution in
// pixels per inch. The part is a little larger than r; corner is where it begins.
func printed(t *testing.T, path string, perInch float64, r Rect) (pic *image.Gray, corner image.Point) {
	t.Helper()
	px := func(mm float64) int { return int(mm / 25.4 * perInch) }
	corner = image.Pt(px(r.X), px(r.Y))
	file := run(t, "pdftoppm", "-r", fmt.Sprint(perInch), "-gray", "-f", "1", "-l", "1",
		"-x", strconv.Itoa(corner.X), "-y", strconv.Itoa(corner.Y), "-W", strconv.Itoa(px(r.W)+2), "-H", strconv.Itoa(px(r.H)+2), path)
	var w, h, white int
	if _, err := fmt.Sscanf(file, "P5\n%d %d\n%d\n", &w, &h, &white); err != nil || white != 255 || len(file) < w*h {
		t.Fatalf("the page is no picture of greys: %d bytes, %d × %d, %v", len(file), w, h, err)
	}
	pic = &image.Gray{Pix: []byte(file[len(file)-w*h:]), Stride: w, Rect: image.Rect(0, 0, w, h)}
	return pic, corner
}

// ends are the middles of the first and last black runs along a row of a picture, or
// along a column.
func ends(pic *image.Gray, column bool, at int) (first, last float64) {
	n := pic.Rect.Dx()
	if column {
		n = pic.Rect.Dy()
	}
	var middles []float64
	start := -1
	for i := 0; i <= n; i++ {
		black := false
		switch {
		case i == n:
		case column:
			black = pic.GrayAt(at, i).Y < 128
		default:
			black = pic.GrayAt(i, at).Y < 128
		}
		if black && start < 0 {
			start = i
		}
		if !black && start >= 0 {
			middles, start = append(middles, float64(start+i)/2), -1
		}
	}
	if len(middles) == 0 {
		return 0, 0
	}
	return middles[0], middles[len(middles)-1]
}

// TestCheckLinesHaveTheirLength measures the check lines on printed pages at 600 pixels per
// inch between their ticks: 100 mm within 0.1 mm both ways, 50 mm across Pocket.
func TestCheckLinesHaveTheirLength(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		size         Size
		across, down float64
	}{{A4, 100, 100}, {A6, 100, 100}, {Pocket, 50, 100}, {Pocket.Landscape(), 100, 50}} {
		d := begun(t, c.size, testInfo())
		p := d.AddMapPage()
		path := written(t, d)
		const perMm = 600 / 25.4

		x := p.Body.X - checkStrip + checkTick/2
		pic, _ := printed(t, path, 600, Rect{x + 0.8, (c.size.Height-c.down)/2 - 2, 0.2, c.down + 4})
		top, foot := ends(pic, true, 2)
		if got := (foot - top) / perMm; math.Abs(got-c.down) > 0.1 {
			t.Errorf("%v: the upright line is %.3f mm long, want %g", c.size, got, c.down)
		}
		left := max((c.size.Width-c.across)/2, min(p.Body.X, c.size.Width-c.across-checkEdge))
		y := p.Body.Bottom() + bandGap + checkTick/2
		pic, _ = printed(t, path, 600, Rect{left - 2, y + 0.8, c.across + 4, 0.2})
		first, last := ends(pic, false, 2)
		if got := (last - first) / perMm; math.Abs(got-c.across) > 0.1 {
			t.Errorf("%v: the level line is %.3f mm long, want %g", c.size, got, c.across)
		}
	}
}

// darkest is the darkest shade of a picture, 0 for black.
func darkest(pic *image.Gray) uint8 {
	dark := uint8(255)
	for _, v := range pic.Pix {
		dark = min(dark, v)
	}
	return dark
}

// TestWordsStayBlack: after white areas, clips and other pages the words are still black. The
// writer of PDFs does not know what ink a page has after a clip.
func TestWordsStayBlack(t *testing.T) {
	t.Parallel()
	d := begun(t, A6, testInfo())
	p := d.AddPage()
	p.Fill(Rect{20, 40, 30, 30}.corners(), true)
	q := d.AddPage()
	p.Within(Rect{20, 40, 30, 30}.corners(), func() { p.Disc(Point{35, 55}, 5, false) })
	p.Line(Rect{20, 80, 60, 5}, Style{}, Left, "Bealach")
	q.Disc(Point{35, 55}, 5, true)
	path := written(t, d)
	for name, r := range map[string]Rect{"a line after a clip": {20, 80, 60, 5}, "the foot": p.foot, "a disc": {33, 53, 4, 4}} {
		if pic, _ := printed(t, path, 150, r); darkest(pic) > 20 {
			t.Errorf("%s is printed in shade %d", name, darkest(pic))
		}
	}
	if pic, _ := printed(t, path, 150, Rect{41, 41, 8, 8}); darkest(pic) < 255 {
		t.Error("a white area is not white")
	}
}

// TestCutMarks: four cards of A4 are A6 each, and where they meet stand marks.
func TestCutMarks(t *testing.T) {
	t.Parallel()
	info := testInfo()
	info.Up = 4
	d := begun(t, A4, info)
	d.AddPage()
	path := written(t, d)
	for _, r := range []Rect{{104, 1, 2, 2}, {104, 147, 2, 3}, {1, 147.5, 2, 2}, {207, 147.5, 2, 2}, {104, 294, 2, 2}} {
		if pic, _ := printed(t, path, 150, r); darkest(pic) > 60 {
			t.Errorf("no mark stands at %v", r)
		}
	}
	if pic, _ := printed(t, path, 150, Rect{104, 60, 2, 30}); darkest(pic) < 255 {
		t.Error("a mark runs between the cards, where nobody needs it")
	}
	for _, c := range []struct {
		size Size
		up   int
	}{{A6, 8}, {A4, 6}, {Pocket, 8}} {
		info.Up = c.up
		if _, err := New(c.size, info); err == nil {
			t.Errorf("%d cards of %v began", c.up, c.size)
		}
	}
}

// TestPictureLiesInItsBox: a picture fills its box, turned clockwise about the middle.
func TestPictureLiesInItsBox(t *testing.T) {
	t.Parallel()
	img := image.NewGray(image.Rect(0, 0, 40, 20)) // black
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, nil); err != nil {
		t.Fatal(err)
	}
	d := begun(t, A6, testInfo())
	p := d.AddPage()
	p.Picture(Rect{30, 60, 40, 20}, 90, file.Bytes())
	path := written(t, d)
	pic, corner := printed(t, path, 150, Rect{20, 40, 60, 60})
	for _, c := range []struct {
		x, y  float64
		black bool
	}{{50, 52, true}, {50, 88, true}, {41.5, 70, true}, {58.5, 70, true}, {38, 70, false}, {62, 70, false}, {50, 48, false}, {50, 92, false}} {
		at := image.Pt(int(c.x/25.4*150), int(c.y/25.4*150)).Sub(corner)
		if black := pic.GrayAt(at.X, at.Y).Y < 128; black != c.black {
			t.Errorf("at %g, %g mm the page is black: %v, want %v", c.x, c.y, black, c.black)
		}
	}
}
