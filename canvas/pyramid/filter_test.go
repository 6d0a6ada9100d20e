package pyramid

import (
	"fmt"
	"image"
	"image/draw"
	_ "image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/disintegration/imaging"
)

// TestFilterTable prints how legible thin dark lines and figures are at 1/4
// of the demo sheet and scan, by filter, and holds the filter of the levels
// to what was found. All figures are in per cent of the paper around:
//
//	lines    mean darkness of blocks of 4 × 4 pixels with 2 to 8 dark ones
//	weakest  the darkness that nine in ten of those blocks reach
//	gaps     lightness of empty blocks with lines on three sides or more
//
// Set LEGWRIGHT_CROPS to a folder to have the levels written there.
func TestFilterTable(t *testing.T) {
	t.Parallel()
	names := []string{"halvasay-sheet.png", "halvasay-scan.jpg"}
	if testing.Short() {
		names = names[:1] // no goroutine takes part
	}
	for _, name := range names {
		m := demoGrey(t, name)
		results := map[string]legibility{}
		for _, f := range filters() {
			small := f.quarter(m)
			r := legible(m, small)
			results[f.name] = r
			t.Logf("%-20s %-10s lines %5.1f  weakest %5.1f  gaps %5.1f", name, f.name, r.lines, r.weakest, r.gaps)
			writeCrop(t, name+"-"+f.name, small)
		}
		own := results["levels"]
		if box := results["box"]; own.lines < 1.15*box.lines || own.gaps < box.gaps-5 {
			t.Errorf("%s: levels %+v, box %+v: want lines 1.15 times as dark and gaps within 5", name, own, box)
		}
	}
}

type quarterFilter struct {
	name    string
	quarter func(m *image.Gray) *image.Gray
}

func filters() []quarterFilter {
	twice := func(half func(m *image.Gray) *image.Gray) func(m *image.Gray) *image.Gray {
		return func(m *image.Gray) *image.Gray { return half(half(m)) }
	}
	out := []quarterFilter{
		{"box", twice(func(m *image.Gray) *image.Gray { return halfBy(m, func(mean, _ int) int { return mean }) })},
		{"lanczos", func(m *image.Gray) *image.Gray {
			return grey8(imaging.Resize(m, m.Rect.Dx()/4, m.Rect.Dy()/4, imaging.Lanczos))
		}},
		{"levels", twice(func(m *image.Gray) *image.Gray { return halfBy(m, slowFilter) })},
	}
	for _, k := range []int{2, 4, 8} {
		out = append(out, quarterFilter{fmt.Sprintf("dark-%d", k), twice(func(m *image.Gray) *image.Gray {
			return halfBy(m, func(mean, low int) int { return mean - (mean-low)/k })
		})})
	}
	return out
}

func grey8(m image.Image) *image.Gray {
	g := image.NewGray(image.Rectangle{Max: m.Bounds().Size()})
	draw.Draw(g, g.Rect, m, m.Bounds().Min, draw.Src)
	return g
}

// demoGrey is the middle of a demo picture.
func demoGrey(t *testing.T, name string) *image.Gray {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "assets", "demo", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	c := m.Bounds().Min.Add(m.Bounds().Size().Div(2))
	r := image.Rectangle{c, c}.Inset(-400)
	return grey8(m.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(r))
}

// halfBy makes the half by a function of mean and darkest.
func halfBy(m *image.Gray, f func(mean, low int) int) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, m.Rect.Dx()/2, m.Rect.Dy()/2))
	for y := range out.Rect.Dy() {
		a, b := m.Pix[2*y*m.Stride:], m.Pix[(2*y+1)*m.Stride:]
		for x := range out.Rect.Dx() {
			p, q, r, s := int(a[2*x]), int(a[2*x+1]), int(b[2*x]), int(b[2*x+1])
			out.Pix[y*out.Stride+x] = uint8(f((p+q+r+s+2)/4, min(p, q, r, s)))
		}
	}
	return out
}

type legibility struct{ lines, weakest, gaps float64 }

// legible measures a quarter of m.
func legible(m, small *image.Gray) legibility {
	w, h := m.Rect.Dx()/4, m.Rect.Dy()/4
	dark := make([]int, w*h) // dark pixels of each block
	for y := 2; y < h-2; y++ {
		for x := 2; x < w-2; x++ {
			paper := brightest(small, x, y)
			for i := range 16 {
				if int(m.Pix[(4*y+i/4)*m.Stride+4*x+i%4]) < paper-60 {
					dark[y*w+x]++
				}
			}
		}
	}
	var lines, gaps []float64
	for y := 2; y < h-2; y++ {
		for x := 2; x < w-2; x++ {
			share := 100 * float64(small.Pix[y*small.Stride+x]) / float64(brightest(small, x, y))
			at := y*w + x
			around := 0
			for _, o := range []int{-w - 1, -w, -w + 1, -1, 1, w - 1, w, w + 1} {
				if dark[at+o] >= 4 {
					around++
				}
			}
			switch n := dark[at]; {
			case n >= 2 && n <= 8:
				lines = append(lines, 100-share)
			case n == 0 && around >= 3:
				gaps = append(gaps, share)
			}
		}
	}
	slices.Sort(lines)
	return legibility{mean(lines), lines[len(lines)/10], mean(gaps)}
}

// brightest is the lightest of 5 × 5 pixels: the paper.
func brightest(m *image.Gray, x, y int) int {
	v := uint8(1)
	for j := y - 2; j <= y+2; j++ {
		v = max(v, slices.Max(m.Pix[j*m.Stride+x-2:][:5]))
	}
	return int(v)
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(max(len(v), 1))
}

func writeCrop(t *testing.T, name string, m *image.Gray) {
	t.Helper()
	dir := os.Getenv("LEGWRIGHT_CROPS")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}
