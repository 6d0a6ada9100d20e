package alike

import (
	"errors"
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"testing"
)

// pair is what two prints show around two places, cut at the coarser of their scales,
// turned alike and clicked with 0.7 px each.
func pair(rng *rand.Rand, e, n, otherE, otherN float64) (float64, error) {
	a, b := randomPrint(rng), randomPrint(rng)
	mpp, turn := math.Max(a.mpp, b.mpp), (rng.Float64()-0.5)*10*math.Pi/180
	click := func() float64 { return 0.7 * mpp * rng.NormFloat64() }
	return Likeness(a.cut(rng, Side, mpp, turn, e+click(), n+click()), b.cut(rng, SideOther, mpp, turn, otherE+click(), otherN+click()))
}

func TestLeast(t *testing.T) {
	t.Parallel()
	none := func(*rand.Rand) (float64, float64) { return 0, 0 }
	for _, tc := range []struct {
		name string
		km   bool // the places are grid intersections
		off  func(*rand.Rand) (east, north float64)
		same bool
	}{
		{"one feature", false, none, true},
		{"one intersection", true, none, true},
		{"other places", false, func(r *rand.Rand) (float64, float64) { return 300 + 5000*r.Float64(), 300 + 5000*r.Float64() }, false},
		{"other intersections", true, func(r *rand.Rand) (float64, float64) { return 1000, float64(1000 * r.IntN(3)) }, false},
		{"120 m beside", false, func(*rand.Rand) (float64, float64) { return 120, 0 }, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(13, 12))
			for trial := range 25 {
				e, n := 30_000+40_000*rng.Float64(), 700_000+40_000*rng.Float64()
				if tc.km {
					e, n = 1000*math.Round(e/1000), 1000*math.Round(n/1000)
				}
				de, dn := tc.off(rng)
				like, err := pair(rng, e, n, e+de, n+dn)
				if err != nil {
					t.Fatal(err)
				}
				if (like >= Least) != tc.same {
					t.Errorf("trial %d: likeness %.2f, want at least %.2f: %v", trial, like, Least, tc.same)
				}
			}
		})
	}
}

// What shows nothing but paper, the edge of the picture or two grid lines is no
// comparison.
func TestBlankIsRefused(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 13))
	p := randomPrint(rng)
	drawn := p.cut(rng, SideOther, 5, 0, 41_234, 712_345)
	lines := paper(Side, 240)
	fill(lines, image.Rect(0, Half-1, Side, Half+1), 60)
	fill(lines, image.Rect(Half-1, 0, Half+1, Side), 60)
	edge := p.cut(rng, Side, 5, 0, 41_234, 712_345)
	draw.Draw(edge, image.Rect(0, 0, 12, Side), image.Transparent, image.Point{}, draw.Src)
	for name, one := range map[string]*image.RGBA{"white paper": paper(Side, 250), "two lines": lines, "the picture's edge": edge} {
		if like, err := Likeness(one, drawn); !errors.Is(err, ErrBlank) {
			t.Errorf("%s: likeness %.2f, error %v", name, like, err)
		}
	}
	if like, err := Likeness(p.cut(rng, Side, 5, 0, 41_234, 712_345), paper(SideOther, 250)); !errors.Is(err, ErrBlank) {
		t.Errorf("white paper on the other sheet: likeness %.2f, error %v", like, err)
	}
	if _, err := Likeness(drawn, drawn); !errors.Is(err, ErrSize) {
		t.Errorf("wrong sizes: %v", err)
	}
}

func paper(side int, level uint8) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	fill(img, img.Rect, level)
	return img
}

func fill(img *image.RGBA, r image.Rectangle, level uint8) {
	draw.Draw(img, r, image.NewUniform(color.Gray{level}), image.Point{}, draw.Src)
}
