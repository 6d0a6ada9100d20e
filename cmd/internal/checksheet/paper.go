package checksheet

import (
	"math"
	"math/rand/v2"
)

// The size of every made picture in pixels.
const (
	Width  = 3000
	Height = 2400
)

// Pt is a position in the picture: pixels to the right and down from the top-left
// corner.
type Pt struct{ X, Y float64 }

// Paper is what paper, scanner or camera does to a map.
type Paper string

// The papers. Lens and perspective are photographs.
const (
	Flat     Paper = "flat"
	Stretch  Paper = "stretch"     // each way by N(0, 0.4 %)
	Shrunk03 Paper = "shrunk 0.3%" // one way
	Shrunk1  Paper = "shrunk 1%"   // one way
	Fold     Paper = "fold"        // two folds, each takes 1.2 px
	Bend     Paper = "bend"        // waves that reach 2 px
	Lens     Paper = "lens"        // 3 to 8 px at the corners, tilted up to 8°
	Oblique  Paper = "perspective" // tilted 5° to 25°
	WithEXIF Paper = "perspective with EXIF"
)

// Papers are all of them.
func Papers() []Paper {
	return []Paper{Flat, Stretch, Shrunk03, Shrunk1, Fold, Bend, Lens, Oblique, WithEXIF}
}

// Photo reports whether a camera made the picture.
func (p Paper) Photo() bool { return p == Lens || p == Oblique || p == WithEXIF }

// warp takes a position of the ideal drawing, relative to the middle of the
// picture, to where it lies in the picture, also relative to the middle.
type warp func(Pt) Pt

// focal is the camera's focal length in pixels, 0 for a scan.
func (p Paper) warp(dice *rand.Rand) (w warp, focal float64) {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*dice.Float64() }
	diagonal := math.Hypot(Width, Height)
	switch p {
	case Stretch:
		return scaled(1+0.004*dice.NormFloat64(), 1+0.004*dice.NormFloat64()), 0
	case Shrunk03, Shrunk1:
		k := 0.997
		if p == Shrunk1 {
			k = 0.99
		}
		if dice.IntN(2) == 0 {
			return scaled(k, 1), 0
		}
		return scaled(1, k), 0
	case Fold:
		x, y := in(-0.25, 0.25)*Width, in(-0.25, 0.25)*Height
		return func(q Pt) Pt { return Pt{q.X - 1.2*ramp(q.X-x), q.Y - 1.2*ramp(q.Y-y)} }, 0
	case Bend:
		a, b := in(0, 2*math.Pi), in(0, 2*math.Pi)
		k := 2 * math.Pi / diagonal
		return func(q Pt) Pt { return Pt{q.X + math.Sqrt2*math.Sin(k*q.Y+a), q.Y + math.Sqrt2*math.Sin(k*q.X+b)} }, 0
	case Lens:
		focal = in(0.75, 1.4) * diagonal
		k := in(3, 8) / (diagonal / 2)
		if dice.IntN(2) == 0 {
			k = -k
		}
		tilt := camera(focal, in(0, 8), in(0, 360))
		return func(q Pt) Pt {
			q = tilt(q)
			s := 1 + k*(q.X*q.X+q.Y*q.Y)/(diagonal*diagonal/4)
			return Pt{q.X * s, q.Y * s}
		}, focal
	case Oblique, WithEXIF:
		focal = in(0.75, 1.4) * diagonal
		return camera(focal, in(5, 25), in(0, 360)), focal
	}
	return func(q Pt) Pt { return q }, 0
}

func scaled(x, y float64) warp { return func(q Pt) Pt { return Pt{q.X * x, q.Y * y} } }

// ramp rises from −½ to ½ over 150 px.
func ramp(x float64) float64 { return min(max(x/150, -0.5), 0.5) }

// camera looks at the middle of the drawing from the distance focal, tilted about
// an axis in the drawing (both angles in degrees).
func camera(focal, tiltDeg, axisDeg float64) warp {
	ts, tc := math.Sincos(tiltDeg * math.Pi / 180)
	s, c := math.Sincos(axisDeg * math.Pi / 180)
	return func(q Pt) Pt {
		along, across := c*q.X+s*q.Y, c*q.Y-s*q.X
		k := focal / (focal + across*ts)
		along, across = along*k, across*tc*k
		return Pt{c*along - s*across, s*along + c*across}
	}
}
