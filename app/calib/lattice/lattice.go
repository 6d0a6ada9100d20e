package lattice

import (
	"cmp"
	"context"
	"fmt"
	"image"
	"math"
	"slices"
)

// Intersection is where two lines of the printed grid meet. Col and Row are pixels
// of the picture, (0, 0) the top-left corner of its top-left pixel. I counts
// lines to the right and J upwards; both begin anywhere.
type Intersection struct {
	Col, Row float64
	I, J     int
	Quality  float64 // 0 … 1: how much of both lines is seen around it
	SigmaPx  float64 // standard deviation of its position per axis, pixels
}

// Lattice is a printed grid found in a picture.
type Lattice struct {
	Intersections []Intersection
	// SquarePx is the mean side of a square in pixels, WidthPx and HeightPx
	// that along I and along J.
	SquarePx, WidthPx, HeightPx float64
	// Angle is the direction of the lines that run upwards, in radians
	// clockwise from picture up, at the middle.
	Angle float64
	// Oblong says that the cells are not square: lines of latitude and
	// longitude rather than a grid.
	Oblong bool
	// Support is the share of the lattice's lines that is seen in the
	// picture; Control is the same for lines half a square beside them.
	Support, Control float64
}

// Stage is called with what Find is doing and how far it has come, 0 … 1.
type Stage func(what string, done float64)

// Find looks for a printed grid. Without one it returns nil and the reason in
// words. The error is the context's. stage may be nil; it is called from
// Find's own goroutine.
func Find(ctx context.Context, m image.Image, stage Stage) (*Lattice, string, error) {
	if stage == nil {
		stage = func(string, float64) {}
	}
	b := m.Bounds()
	if b.Dx() < leastSide || b.Dy() < leastSide {
		return nil, fmt.Sprintf("the picture is less than %d pixels wide or high", leastSide), ctx.Err()
	}
	stage("reading the picture", 0)
	p, k := planeOf(ctx, m)
	l, why := search(ctx, p, stage)
	if l == nil && ctx.Err() == nil && why == noLines {
		l, why = search(ctx, p.negative(), stage)
	}
	if err := ctx.Err(); err != nil {
		return nil, "", err
	}
	if l == nil {
		return nil, why, nil
	}
	l.scale(float64(k))
	return l, "", nil
}

// leastSide is the smallest side of a picture that is searched, in pixels.
const leastSide = 200

const (
	noLines   = "no two sets of long, straight, evenly spaced lines were found"
	manyLines = "evenly spaced lines were found, but there are equally strong lines between them"
	tooSmall  = "the evenly spaced lines cover only part of the picture, as in a table or a legend"
	tooFaint  = "some lines might be a grid, but too little of them can be seen to be sure"
)

// scale turns coordinates of a picture reduced k times into those of the
// picture.
func (l *Lattice) scale(k float64) {
	for i := range l.Intersections {
		c := &l.Intersections[i]
		c.Col, c.Row, c.SigmaPx = c.Col*k, c.Row*k, c.SigmaPx*k
	}
	l.SquarePx, l.WidthPx, l.HeightPx = l.SquarePx*k, l.WidthPx*k, l.HeightPx*k
}

// search looks for dark lines on light.
func search(ctx context.Context, p plane, stage Stage) (*Lattice, string) {
	q := p.turned()
	stage("looking for straight lines", 0.1)
	down := findSegments(ctx, p)
	stage("looking for straight lines", 0.4)
	across := findSegments(ctx, q)
	if ctx.Err() != nil {
		return nil, ""
	}
	stage("looking for an even spacing", 0.7)
	c, ok := choose(down, across)
	if !ok {
		return nil, noLines
	}
	if m, ok := mains(c, p, q, down, across); ok {
		c = m
	}
	if !c.believable(p, q, down, across) {
		return nil, manyLines
	}
	stage("measuring the intersections", 0.8)
	return measure(ctx, p, q, c)
}

// choice is a frame with a comb of each family.
type choice struct {
	f            frame
	down, across comb
	oblong       bool
	divided      bool // fainter lines divide its squares
	score        float64
}

// choose tries the pencils of both families against each other.
func choose(down, across strips) (choice, bool) {
	ds := findPencils(down.chains(), down.p.w, down.p.h)
	as := findPencils(across.chains(), across.p.w, across.p.h)
	var all []choice
	for _, d := range ds {
		for _, a := range as {
			f, ok := newFrame(down.p.w, down.p.h, d, a)
			if !ok {
				continue
			}
			all = append(all, pair(f, down, across)...)
		}
	}
	if len(all) == 0 {
		return choice{}, false
	}
	return slices.MaxFunc(all, func(a, b choice) int { return cmp.Compare(a.score, b.score) }), true
}

// blurs are the windows, in pixels, in which the segments of one line are
// gathered: warped paper spreads them.
func blurs() []int { return []int{3, 8} }

// pair matches combs of one frame.
func pair(f frame, down, across strips) []choice {
	ft := f.turned()
	dSum, dU := down.profile(f)
	aSum, aU := across.profile(ft)
	var out []choice
	for _, blur := range blurs() {
		ds := combs(peaks(dSum, dU, blur), blur)
		as := combs(peaks(aSum, aU, blur), blur)
		for _, d := range ds {
			for _, a := range as {
				if c, ok := match(f, d, a); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// match accepts two combs that make squares, or cells of a graticule.
func match(f frame, d, a comb) (choice, bool) {
	c := choice{f: f, down: d, across: a, score: d.score + a.score}
	if d.hits+a.hits < 5 {
		return c, false
	}
	fan := max(math.Abs(f.down.s1)*2*f.cx, math.Abs(f.across.s1)*2*f.cy)
	off := math.Abs(math.Log(a.step / d.step))
	switch {
	case off < 0.035+min(fan*fan, 0.25): // paper stretches, a tilted camera shortens
		c.score -= 12 * off / (1 + 30*fan)
		return c, true
	case off < 1.1 && d.hits >= 3 && a.hits >= 3:
		c.oblong = true
		c.score *= 0.5
		return c, true
	}
	return c, false
}

// Enlarged is the lattice of a picture that was reduced k times before it was
// searched, in pixels of the picture itself.
func (l *Lattice) Enlarged(k float64) *Lattice {
	out := *l
	out.Intersections = slices.Clone(l.Intersections)
	out.scale(k)
	return &out
}
