package rectify

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// lookedAt is a photograph of plane paper from a seeded position: some look nearly
// along the paper, so that the horizon is in the picture.
func lookedAt(rng *rand.Rand) seen {
	sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
	tilt, size := rng.Float64()*2.4e-3, 0.3+rng.Float64()
	turn, turned := math.Sincos(2 * math.Pi * rng.Float64())
	return func(e, n float64) calib.PicturePt {
		x, y := (e-500)*turned+(n-500)*turn, (n-500)*turned-(e-500)*turn
		w := 1 + tilt*(x*cos+y*sin)
		return calib.PicturePt{Col: madeW/2 + size*x/w, Row: madeH/2 - size*y/w}
	}
}

// wavy is paper that bends by several pixels.
func wavy(rng *rand.Rand) seen {
	at, a, b := lookedAt(rng), 9*rng.Float64(), 9*rng.Float64()
	return func(e, n float64) calib.PicturePt {
		p := at(e, n)
		return calib.PicturePt{Col: p.Col + a*math.Sin(p.Row/150), Row: p.Row + b*math.Sin(p.Col/170)}
	}
}

// inFront are intersections that the picture shows, on the near side of the horizon.
func inFront(at seen) (list []calib.ControlPoint) {
	for i := range 11 {
		for j := range 11 {
			e, n := float64(i)*madeSquareM, float64(j)*madeSquareM
			p, q, r := at(e, n), at(e+1, n), at(e, n+1)
			turns := (q.Col-p.Col)*(r.Row-p.Row) - (q.Row-p.Row)*(r.Col-p.Col)
			if p.Col > 5 && p.Row > 5 && p.Col < madeW-5 && p.Row < madeH-5 && turns < 0 {
				list = append(list, calib.ControlPoint{At: p, Ref: geodesy.Grid{E: madeEast + e, N: madeNorth + n}})
			}
		}
	}
	return list
}

// TestBlocksAreWhatTheFitSays: what is interpolated within blocks is what the
// fit says of each pixel, in its place and in its state.
func TestBlocksAreWhatTheFitSays(t *testing.T) {
	t.Parallel()
	const everyth = 37 // of the pixels of a row is asked for
	if testing.Short() {
		t.Skip("starts no goroutine")
	}
	for seed := range 6 {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		at, kind := lookedAt(rng), calib.Photograph
		if seed%3 == 2 {
			at, kind = wavy(rng), calib.Scan
		}
		points := inFront(at)
		if seed%2 == 1 { // those of one part only
			points = points[:len(points)*2/3]
		}
		t.Run(fmt.Sprintf("%d %v", seed, kind), func(t *testing.T) {
			t.Parallel()
			c, err := calib.Fit(points, calib.Options{Medium: kind, Width: madeW, Height: madeH})
			if err != nil {
				t.Fatal(err)
			}
			mpp := c.MetresPerPixel() * (0.7 + 2*rng.Float64())
			f, err := FrameOf(c, madeW, madeH, mpp)
			if err != nil {
				t.Fatal(err)
			}
			p := &picture{s: Sheet{Width: madeW, Height: madeH, Calibration: c, Cut: CutOf(image.NewRGBA(image.Rect(0, 0, madeW, madeH)))}, f: f, rows: f.Rows}
			wrong, missed, drawnPx, worst := 0, 0, 0, 0.0
			b := &block{p: p}
			side := p.blockSide()
			for y := 0; y < f.Rows; y += side {
				for x := 0; x < f.Cols; x += side {
					r := image.Rect(x, y, x+side, y+side).Intersect(image.Rect(0, 0, f.Cols, f.Rows))
					b.r, b.spots = r, make([]spot, r.Dx()*r.Dy())
					b.fill(r)
					if err := b.fetch(); err != nil {
						t.Fatal(err)
					}
					for v := r.Min.Y; v < r.Max.Y; v++ {
						for u := r.Min.X + v%everyth; u < r.Max.X; u += everyth {
							got, want := b.spot(u, v), b.look(float64(u), float64(v))
							if !(want.at.Col >= 0 && want.at.Row >= 0 && want.at.Col < madeW && want.at.Row < madeH) {
								want.is = blank
							}
							if want.is != blank {
								drawnPx++
							}
							switch {
							case got.is == want.is && got.is != blank:
								worst = max(worst, math.Hypot(got.at.Col-want.at.Col, got.at.Row-want.at.Row))
							case got.is == blank && want.is != blank:
								missed++
							case got.is != want.is:
								wrong++
							}
						}
					}
				}
			}
			if drawnPx < 300 || missed+wrong > drawnPx/1000 || worst > 5*tolerancePx {
				t.Errorf("of %d pixels %d are missed and %d in a wrong state, the worst is %.3f px off", drawnPx, missed, wrong, worst)
			}
			t.Logf("%d points, %d × %d: %d drawn, %d missed, %d in a wrong state, worst %.4f px", len(points), f.Cols, f.Rows, drawnPx, missed, wrong, worst)
		})
	}
}
