package overlay

import (
	"math"
	"slices"
	"strconv"

	"legwright/canvas/view"
)

// Sizes on the screen, device-independent pixels.
const (
	leastSlope  = 5  // how near lines of the steepness come to each other, or up to twice that
	leastKnot   = 3  // how near the knots may come that are drawn from; nearer, a coarser net serves
	voidApart   = 22 // crosses, or up to twice that
	voidArm     = 2.5
	mostFigures = 14 // of contours
)

// reliefAt is a relief as one view shows it.
type reliefAt struct {
	slopes  []strokeAt
	over    []strokeAt // where the ground is over-steep
	lines   []strokeAt // contours
	index   []strokeAt // every fifth contour
	crosses []view.ScreenPt
	figures []figureAt
}

// figureAt is a height at a contour.
type figureAt struct {
	m  float64
	at view.ScreenPt
}

// setRelief places the relief in sight.
func (d *drawing) setRelief() {
	r := d.scene.Relief
	if r == nil {
		return
	}
	net := r.nets[0]
	coarse := 0
	for coarse+1 < len(r.nets) && net.slope.stepX*d.v.Scale() < leastKnot*d.p.px {
		coarse++
		net = r.nets[coarse]
	}
	if r.overDeg > 0 {
		levels := SlopeLevels(r.overDeg)
		steepest := levels[len(levels)-1]
		levels = append(levels, steepest, steepest)
		thin, thick := slices.Clone(levels), slices.Clone(levels)
		for i, deg := range levels {
			if thick[i] = max(deg, r.overDeg); deg >= r.overDeg {
				thin[i] = math.Inf(1) // thick alone
			}
		}
		d.relief.slopes = d.slanting(hatching{net.slope.value, net.slope, thin, leastSlope})
		d.relief.over = d.slanting(hatching{net.slope.value, net.slope, thick, leastSlope})
	}
	if r.intervalM > 0 {
		d.setContours(net.heightM, r.intervalM)
	}
	d.setVoids(net.void)
}

// knotsInSight are the first and the last knots of what is seen.
func (d *drawing) knotsInSight(f field) (i0, j0, i1, j1 int) {
	w, h := float64(d.p.img.Rect.Dx()), float64(d.p.img.Rect.Dy())
	seen := view.RectOf(d.v.ToPicture(view.ScreenPt{}), d.v.ToPicture(view.ScreenPt{X: w}), d.v.ToPicture(view.ScreenPt{Y: h}), d.v.ToPicture(view.ScreenPt{X: w, Y: h}))
	at := func(v, step float64, n int) int { return min(max(int(math.Floor(v/step)), 0), n-1) }
	return at(seen.Min.X, f.stepX, f.cols), at(seen.Min.Y, f.stepY, f.rows), at(seen.Max.X+f.stepX, f.stepX, f.cols), at(seen.Max.Y+f.stepY, f.stepY, f.rows)
}

// setContours finds the pieces of contours in sight, square by square of the net. Where
// they would run into each other, every fifth is drawn alone.
func (d *drawing) setContours(f field, intervalM float64) {
	const gap = 3 // device-independent pixels
	room := max(f.stepX*d.v.Scale()/(gap*d.p.px), 1)
	i0, j0, i1, j1 := d.knotsInSight(f)
	for j := j0; j < j1; j++ {
		for i := i0; i < i1; i++ {
			low, high := f.rangeOf(i, j)
			if !(high-low < 1000*intervalM) { // NaN too
				continue
			}
			all := (high-low)/intervalM <= room
			for n := math.Ceil(low / intervalM); n*intervalM <= high; n++ {
				if index := math.Mod(n, 5) == 0; all || index {
					d.addContour(f, i, j, n*intervalM, index)
				}
			}
		}
	}
}

// rangeOf is the lowest and the highest knot of a square; NaN if one is not known.
func (f field) rangeOf(i, j int) (low, high float64) {
	a, b := f.at[j*f.cols+i], f.at[j*f.cols+i+1]
	c, e := f.at[(j+1)*f.cols+i], f.at[(j+1)*f.cols+i+1]
	if s := a + b + c + e; s != s {
		return s, s
	}
	return min(a, b, c, e), max(a, b, c, e)
}

// addContour adds what a contour crosses of a square.
func (d *drawing) addContour(f field, i, j int, m float64, index bool) {
	for _, e := range f.square(i, j, m) {
		s := strokeAt{d.v.ToScreen(f.on(e[0], m)), d.v.ToScreen(f.on(e[1], m))}
		if !index {
			d.relief.lines = append(d.relief.lines, s)
			continue
		}
		d.relief.index = append(d.relief.index, s)
		const every = 37 // pieces
		if len(d.relief.index)%every == 0 {
			d.relief.figures = append(d.relief.figures, figureAt{m, s.a})
		}
	}
}

// setVoids places a cross wherever the ground is not known. They lie still in the picture.
func (d *drawing) setVoids(f field) {
	gap := math.Exp2(math.Ceil(math.Log2(voidApart * d.p.px / d.v.Scale())))
	i0, j0, i1, j1 := d.knotsInSight(f)
	from, to := f.knot(i0, j0), f.knot(i1, j1)
	for y := gap * math.Ceil(from.Y/gap); y <= to.Y; y += gap {
		for x := gap * math.Ceil(from.X/gap); x <= to.X; x += gap {
			if f.value(view.PicPt{X: x, Y: y}) > 0 {
				d.relief.crosses = append(d.relief.crosses, d.v.ToScreen(view.PicPt{X: x, Y: y}))
			}
		}
	}
}

func (r *reliefAt) draw(d *drawing, s *strip) {
	for _, x := range []struct {
		kind kind
		list []strokeAt
	}{{slopeHatch, r.slopes}, {overHatch, r.over}, {contourLine, r.lines}, {contourIndex, r.index}} {
		for _, t := range x.list {
			s.segment(&d.p.ink[x.kind], t.a, t.b, false)
		}
	}
	arm := voidArm * d.p.px
	for _, p := range r.crosses {
		s.segment(&d.p.ink[voidCross], view.ScreenPt{X: p.X - arm, Y: p.Y - arm}, view.ScreenPt{X: p.X + arm, Y: p.Y + arm}, false)
		s.segment(&d.p.ink[voidCross], view.ScreenPt{X: p.X - arm, Y: p.Y + arm}, view.ScreenPt{X: p.X + arm, Y: p.Y - arm}, false)
	}
}

// reliefTexts writes heights at every fifth contour, and where there are none.
func (d *drawing) reliefTexts() {
	r := &d.relief
	void := words{text: "no heights here", size: controlSize * d.p.px, bold: true, ink: black}
	for _, part := range []int{2, 4, 8} {
		if n := len(r.crosses); n > 1 && d.put(void, r.crosses[n/part]) {
			break
		}
	}
	every, put := max(len(r.figures)/(3*mostFigures), 1), 0
	for i := 0; i < len(r.figures) && put < mostFigures; i += every {
		f := r.figures[i]
		if d.put(words{text: strconv.FormatFloat(f.m, 'f', -1, 64), size: gridSize * d.p.px, ink: purple}, f.at) {
			put++
		}
	}
}
