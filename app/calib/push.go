package calib

// JudgedPoint is a point of the picture, ready for Effect of many slips.
type JudgedPoint struct {
	plane *plane
	gls   *gls // nil for a given matrix, which nothing moves
	reach reach
	pull  []float64 // of each point's offset: B⁻¹ times the bend's covariances
}

// Point returns a point of the picture.
func (j *Judge) Point(at PicturePt) JudgedPoint { return j.pointBy(j.fit, at) }

// pointBy is Point for what a problem predicts: the fit alone, or evidence as well.
func (j *Judge) pointBy(g *gls, at PicturePt) JudgedPoint {
	if g == nil {
		return JudgedPoint{}
	}
	r := g.reach(at, true) // the fit alone has no shift that only evidence sees
	n := len(r.half)
	pull := append([]float64(nil), r.half...) // L⁻ᵀL⁻¹k, from the last to the first
	for i := n - 1; i >= 0; i-- {
		low := g.low[i*n : i*n+i+1]
		pull[i] /= low[i]
		for k, l := range low[:i] {
			pull[k] -= l * pull[i]
		}
	}
	return JudgedPoint{&j.plane, g, r, pull}
}

// Push is what a slip in the control points' references does to the fit, ready for
// Effect at many points.
type Push struct {
	steps []pushed // of control points
	by    columns  // of the parameters
}

// pushed is by how many pixels a slip moves a control point, right and down.
type pushed struct {
	i        int
	col, row float64
}

// Push returns what a slip does. Shifts of evidence do nothing.
func (j *Judge) Push(b []Shift) Push { return j.pushOf(j.fit, b) }

// pushOf is Push for what a problem predicts, as in pointBy.
func (j *Judge) pushOf(g *gls, b []Shift) (out Push) {
	if g == nil {
		return Push{}
	}
	size := g.design.size()
	var z columns
	for _, s := range b {
		if s.I >= len(g.at) {
			continue
		}
		col, row := j.pixels(s)
		out.steps = append(out.steps, pushed{s.I, col, row})
		for i := range size {
			z[i] += col*g.bx[0].At(s.I, i) + row*g.bx[1].At(s.I, i)
		}
	}
	for i := range size {
		for l := range size {
			out.by[i] += g.inv.At(i, l) * z[l]
		}
	}
	return out
}

// Effect is Judge.Effect at the point, of the slip that was pushed.
func (p JudgedPoint) Effect(of Push) (eastM, northM float64) {
	if p.gls == nil {
		return 0, 0
	}
	px := p.pixels(of)
	return p.plane.metres(p.reach.at, px[0], px[1])
}

// pixels is Effect in pixels right and down.
func (p JudgedPoint) pixels(of Push) (px [2]float64) {
	for _, s := range of.steps {
		k := p.pull[s.i]
		px[0], px[1] = px[0]+k*s.col, px[1]+k*s.row
	}
	for i := range p.gls.design.size() {
		px[0], px[1] = px[0]+of.by[i]*p.reach.left[0][i], px[1]+of.by[i]*p.reach.left[1][i]
	}
	return px
}
