package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
)

// lookedAt is the ground seen by a camera of usual lens over a picture of
// 3000 × 2400 pixels, tilted about a direction, at about 5 m a pixel.
func lookedAt(tiltDeg, towardsDeg float64) func(PicturePt) geodesy.Grid {
	tilt, towards := tiltDeg*math.Pi/180, towardsDeg*math.Pi/180
	focal := 1.06 * math.Hypot(3000, 2400)
	return func(p PicturePt) geodesy.Grid {
		u, v := p.Col-1500, p.Row-1200
		s, c := math.Sincos(towards)
		along, across := u*c+v*s, v*c-u*s
		scale := 5 / (1 - along/focal*math.Tan(tilt))
		x, y := scale*along/math.Cos(tilt), scale*across
		return geodesy.Grid{E: 412_000 + x*c - y*s, N: 634_000 - (x*s + y*c)}
	}
}

// gridPoints are the intersections of lines each 2 km in a picture.
func gridPoints(ground func(PicturePt) geodesy.Grid, at []PicturePt, rng *rand.Rand) []ControlPoint {
	const side = 2000
	out := make([]ControlPoint, len(at))
	for i, p := range at {
		g := ground(p)
		ref := geodesy.Grid{E: side * math.Round(g.E/side), N: side * math.Round(g.N/side)}
		for range 30 { // the place of that intersection, by steps
			g = ground(p)
			p.Col += (ref.E - g.E) / 8
			p.Row -= (ref.N - g.N) / 8
		}
		out[i] = ControlPoint{At: p, Ref: ref}
	}
	return shaken(out, 0.7, rng)
}

// In photographs, too, the misfit is gone once a slip is undone, however large it
// is: one point, two swapped, a line, all beyond a line. And what shifts all
// references alike changes nothing.
func TestSlipsOfPhotographsAreJudgedWhereTheyAreLinear(t *testing.T) {
	t.Parallel()
	at := []PicturePt{{500, 450}, {1500, 450}, {2500, 450}, {500, 1300}, {1500, 1300}, {2500, 1300}, {500, 2000}, {1500, 2000}, {2500, 2000}}
	beyond := func(points []ControlPoint, e float64) (b []Shift) {
		for i, p := range points {
			if p.Ref.E >= e {
				b = append(b, Shift{i, 20_000, 0})
			}
		}
		return b
	}
	for name, slip := range map[string]func([]ControlPoint) []Shift{
		"a point": func([]ControlPoint) []Shift { return []Shift{{4, 0, -20_000}} },
		"swapped": func(p []ControlPoint) []Shift {
			e, n := p[7].Ref.E-p[2].Ref.E, p[7].Ref.N-p[2].Ref.N
			return []Shift{{2, e, n}, {7, -e, -n}}
		},
		"all beyond a line": func(p []ControlPoint) []Shift { return beyond(p, p[4].Ref.E) },
		"a line":            func(p []ControlPoint) []Shift { return beyond(p, p[2].Ref.E) },
	} {
		for seed := range uint64(5) {
			rng := rand.New(rand.NewPCG(seed, 31))
			points := gridPoints(lookedAt(5+20*rng.Float64(), 360*rng.Float64()), at, rng)
			b := slip(points)
			for _, s := range b {
				points[s.I].Ref.E += s.East
				points[s.I].Ref.N += s.North
			}
			j := mustFit(t, points, Options{Medium: Photograph, Width: 3000, Height: 2400}).Judge(nil)
			by, bb := j.Gain(b)
			if left := j.Q() - 2*by + bb; left > chi2Bound(j.M()) {
				t.Errorf("%s, seed %d: misfit %.0f, once undone %.1f, want below %.1f", name, seed, j.Q(), left, chi2Bound(j.M()))
			}
			var all []Shift
			for i := range points {
				all = append(all, Shift{i, 1000, 500})
			}
			if by, bb := j.Gain(all); math.Abs(by) > 1e-3 || bb > 1e-6 {
				t.Errorf("%s, seed %d: a shift of all gains %g and shows by %g", name, seed, by, bb)
			}
		}
	}
}

// The planes of two frames map alike.
func TestReframedPlaneIsTheSame(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 31))
	points := gridPoints(lookedAt(15, 70), []PicturePt{{500, 450}, {2500, 450}, {500, 2000}, {2500, 2000}, {1500, 1300}}, rng)
	c := mustFit(t, points, Options{Medium: Photograph, Width: 3000, Height: 2400})
	p := c.estimate.plane
	q := p.reframed(newFrame(points[:2]), 123)
	for range 20 {
		at := PicturePt{3000 * rng.Float64(), 2400 * rng.Float64()}
		a, b := p.grid(at), q.grid(at)
		near(t, "easting", b.E, a.E, 1e-6)
		near(t, "northing", b.N, a.N, 1e-6)
		back := q.picture(a)
		near(t, "column", back.Col, at.Col, 1e-6)
	}
}
