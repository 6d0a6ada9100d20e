package pyramid

import (
	"image/color"
	"testing"
)

// TestConversionIsExact compares all 16.8 million colours with the standard
// library's, in rows with chroma for one, two and four luma each and from odd
// columns too. With -short it takes one pair of chroma in 61.
func TestConversionIsExact(t *testing.T) {
	t.Parallel()
	step := 1
	if testing.Short() {
		step = 61
	}
	luma := make([]uint8, 257)
	for i := range luma {
		luma[i] = uint8(i)
	}
	for _, c := range []struct {
		name string
		sx   uint
		x0   int
	}{{"4:4:4", 0, 0}, {"4:4:4 from column 3", 0, 3}, {"4:2:0", 1, 0}, {"4:2:0 from column 5", 1, 5}, {"4:1:1 from column 2", 2, 2}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			cb, cr := make([]uint8, 270), make([]uint8, 270)
			dst := make([]uint8, 4*len(luma))
			for k := 0; k < 1<<16; k += step {
				for i := range cb { // neighbours have other chroma
					cb[i], cr[i] = uint8(k+37*i), uint8(k>>8+91*i)
				}
				cutRow(dst, luma, cb, cr, c.x0, c.sx)
				for i, y := range luma {
					n := (c.x0 + i) >> c.sx
					r, g, b := color.YCbCrToRGB(y, cb[n], cr[n])
					if got := [4]uint8(dst[4*i:]); got != [4]uint8{r, g, b, 255} {
						t.Fatalf("Y %d, Cb %d, Cr %d: got %v, want %v", y, cb[n], cr[n], got, [4]uint8{r, g, b, 255})
					}
				}
			}
		})
	}
}
