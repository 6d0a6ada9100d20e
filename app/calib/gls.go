package calib

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// The parameters of the plane, in order: for a similarity u, v (scale and
// rotation) and two shifts; for a homography these four, the two of a second
// linear row, and two of the perspective. After them come the paper's stretch
// along columns, stretch along rows and shear, and two of a shift that only
// evidence sees.
const (
	similarFreedom = 4
	planeFreedom   = 8
	paperFreedom   = 3
	mostFreedom    = planeFreedom + paperFreedom + 2
)

// columns holds one coefficient for each parameter.
type columns [mostFreedom]float64

// design is which parameters the model has, and their priors.
type design struct {
	frame frame
	plane int // similarFreedom, planeFreedom or, for a given matrix, 0
	paper paper
	// evidence says that there is evidence beside the control points, and
	// sharedPx is the σ of a shift in pixels that it has beside them: of a datum
	// or of a file.
	evidence bool
	sharedPx float64
}

// size is the number of parameters.
func (d *design) size() int {
	if d.evidence {
		return d.plane + paperFreedom + 2
	}
	return d.plane + paperFreedom
}

// rows returns the derivatives, by each parameter, of a point's displacement
// along columns and along rows in pixels. evidence adds the shared shift.
func (d *design) rows(at PicturePt, evidence bool) (col, row columns) {
	u, v := d.frame.centred(at)
	switch d.plane {
	case similarFreedom:
		col, row = columns{u, v, 1, 0}, columns{v, -u, 0, 1}
	case planeFreedom:
		col = columns{u, v, 1, 0, 0, 0, -u * u, -u * v}
		row = columns{0, 0, 0, 1, u, v, -v * u, -v * v}
	}
	k := d.plane
	col[k], row[k+1], col[k+2] = u*d.frame.radiusPx, v*d.frame.radiusPx, v*d.frame.radiusPx
	if evidence {
		col[k+3], row[k+4] = 1, 1
	}
	return col, row
}

// precision is the inverse of each parameter's prior variance: 0 for those of
// the plane.
func (d *design) precision() []float64 {
	out := make([]float64, d.size())
	for i, sd := range []float64{d.paper.stretch, d.paper.stretch, d.paper.shear, d.sharedPx, d.sharedPx}[:d.size()-d.plane] {
		out[d.plane+i] = 1 / math.Max(sd*sd, 1e-24)
	}
	return out
}

// pseudo is an observation of the parameters themselves, beside the points:
// what is known of a camera.
type pseudo struct {
	rows  [2]columns
	value [2]float64
	inv   [2][2]float64 // inverse of its covariance
}

// gls is the generalised least squares problem y = Xθ + bend + clicks, whose
// parameters θ have priors (Rao and Toutenburg, Linear Models, 2nd edition 1999,
// section 5.6, mixed estimation). Bend and clicks have one covariance B for
// both axes, so that one Cholesky decomposition serves.
type gls struct {
	design design
	at     []PicturePt
	chol   mat.Cholesky
	low    []float64     // its lower triangle L, rows first
	x      [2]*mat.Dense // by axis, columns first: coefficients
	bx     [2]*mat.Dense // B⁻¹X
	base   *mat.SymDense // XᵀB⁻¹X + prior
	inv    *mat.SymDense // its inverse, with what is known of the camera
	y      [2][]float64
	camera *pseudo

	theta    []float64
	weight   [2][]float64 // B⁻¹(y − Xθ)
	misfit   float64      // yᵀPy
	logDet   float64      // 2·ln|B| + ln|XᵀB⁻¹X + prior|
	rank     int          // observations less parameters without prior
	measured int          // how many of at are control points; the rest is evidence
}

// newGLS factors the problem: clicks is the variance in px² of each point's own
// error per axis, measured how many of the points are control points. It is
// false where the points do not determine the parameters.
func newGLS(d design, at []PicturePt, clicks []float64, measured int) (*gls, bool) {
	g := &gls{design: d, at: at, measured: measured}
	n := len(at)
	b := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i {
			b.SetSym(i, j, d.paper.bend(at[i], at[j]))
		}
		b.SetSym(i, i, clicks[i]+d.paper.bendPx*d.paper.bendPx)
	}
	if !g.chol.Factorize(b) {
		return nil, false
	}
	g.low = lower(&g.chol, n)
	size := d.size()
	for axis := range 2 {
		g.x[axis] = mat.NewDense(n, size, nil)
	}
	for i, p := range at {
		col, row := d.rows(p, i >= measured)
		g.x[0].SetRow(i, col[:size])
		g.x[1].SetRow(i, row[:size])
	}
	return g, g.normal()
}

// lower copies the lower triangle of a decomposition.
func lower(c *mat.Cholesky, n int) []float64 {
	out := make([]float64, n*n)
	u := c.RawU()
	for i := range n {
		for j := range i + 1 {
			out[i*n+j] = u.At(j, i)
		}
	}
	return out
}

// inverse is B⁻¹, rows first.
func (g *gls) inverse() []float64 {
	var sym mat.SymDense
	_ = g.chol.InverseTo(&sym) // an ill-conditioned B was refused by newGLS
	return mat.DenseCopyOf(&sym).RawMatrix().Data
}

// normal forms the normal matrix of the points and priors, without a camera.
func (g *gls) normal() bool {
	size := g.design.size()
	sum := mat.NewDense(size, size, nil)
	for axis := range 2 {
		g.bx[axis] = new(mat.Dense)
		if err := g.chol.SolveTo(g.bx[axis], g.x[axis]); err != nil && math.IsInf(condition(err), 1) {
			return false
		}
		var part mat.Dense
		part.Mul(g.x[axis].T(), g.bx[axis])
		sum.Add(sum, &part)
	}
	g.base = mat.NewSymDense(size, nil)
	prior := g.design.precision()
	for i := range size {
		for j := range i + 1 {
			v := (sum.At(i, j) + sum.At(j, i)) / 2
			if i == j {
				v += prior[i]
			}
			g.base.SetSym(i, j, v)
		}
	}
	return true
}

// observe adds what is known of the camera, if anything, and inverts the
// normal matrix. It is false where the parameters stay open.
func (g *gls) observe(camera *pseudo) bool {
	g.camera = camera
	g.rank = 2*len(g.at) - g.design.plane
	if camera == nil {
		return g.invert(g.base)
	}
	g.rank += 2
	size := g.design.size()
	m := mat.NewSymDense(size, nil)
	for i := range size {
		for j := range i + 1 {
			m.SetSym(i, j, g.base.At(i, j)+camera.normal(i, j))
		}
	}
	return g.invert(m)
}

// invert inverts the normal matrix, scaled to a unit diagonal, and refuses one
// that leaves a parameter open.
func (g *gls) invert(m *mat.SymDense) bool {
	size, _ := m.Dims()
	scale := make([]float64, size)
	for i := range size {
		scale[i] = math.Sqrt(m.At(i, i))
		if !(scale[i] > 0) {
			return false
		}
	}
	unit := mat.NewSymDense(size, nil)
	for i := range size {
		for j := range i + 1 {
			unit.SetSym(i, j, m.At(i, j)/(scale[i]*scale[j]))
		}
	}
	var c mat.Cholesky
	if !c.Factorize(unit) || c.Cond() > 1e12 {
		return false
	}
	g.inv = new(mat.SymDense)
	if c.InverseTo(g.inv) != nil {
		return false
	}
	g.logDet = 2*g.chol.LogDet() + c.LogDet()
	for i := range size {
		g.logDet += 2 * math.Log(scale[i])
		for j := range i + 1 {
			g.inv.SetSym(i, j, g.inv.At(i, j)/(scale[i]*scale[j]))
		}
	}
	return true
}

func condition(err error) float64 {
	if c, ok := err.(mat.Condition); ok {
		return float64(c)
	}
	return math.Inf(1)
}

// normal is the camera's part of an element of the normal matrix.
func (c *pseudo) normal(i, j int) float64 {
	var sum float64
	for a := range 2 {
		for b := range 2 {
			sum += c.rows[a][i] * c.inv[a][b] * c.rows[b][j]
		}
	}
	return sum
}

// solve takes the observations, in pixels by axis, and fills in θ, the weights
// and the misfit.
func (g *gls) solve(y [2][]float64) {
	size := g.design.size()
	g.y = y
	rhs := make([]float64, size)
	for axis := range 2 {
		for i, v := range y[axis] {
			for k := range size {
				rhs[k] += g.bx[axis].At(i, k) * v
			}
		}
	}
	if c := g.camera; c != nil {
		for a := range 2 {
			for b := range 2 {
				for k := range size {
					rhs[k] += c.rows[a][k] * c.inv[a][b] * c.value[b]
				}
			}
		}
	}
	g.theta = make([]float64, size)
	for k := range size {
		for l := range size {
			g.theta[k] += g.inv.At(k, l) * rhs[l]
		}
	}
	g.finish()
}

// finish forms the weights, and the misfit from the residuals: eᵀB⁻¹e with
// those of priors and camera, which equals yᵀPy and loses no digits.
func (g *gls) finish() {
	size := g.design.size()
	g.misfit = 0
	for axis := range 2 {
		e := mat.NewVecDense(len(g.at), nil)
		for i, v := range g.y[axis] {
			for k := range size {
				v -= g.x[axis].At(i, k) * g.theta[k]
			}
			e.SetVec(i, v)
		}
		var w mat.VecDense
		_ = g.chol.SolveVecTo(&w, e) // an ill-conditioned B was refused by newGLS
		g.weight[axis] = w.RawVector().Data
		g.misfit += mat.Dot(e, &w)
	}
	for k, p := range g.design.precision() {
		g.misfit += p * g.theta[k] * g.theta[k]
	}
	if c := g.camera; c != nil {
		left := c.value
		for a := range 2 {
			for k := range size {
				left[a] -= c.rows[a][k] * g.theta[k]
			}
		}
		for a := range 2 {
			for b := range 2 {
				g.misfit += left[a] * c.inv[a][b] * left[b]
			}
		}
	}
}

// reach is how the displacement of a point hangs on the observations: its
// bend's covariances with the points, from which L⁻¹ took out what those know of
// each other (B = LLᵀ), and what is left of the parameters' coefficients by axis.
type reach struct {
	at   PicturePt
	half []float64
	left [2]columns
}

func (g *gls) reach(at PicturePt, evidence bool) reach {
	n, size := len(g.at), g.design.size()
	r := reach{at: at, half: make([]float64, n)}
	col, row := g.design.rows(at, evidence)
	r.left = [2]columns{col, row}
	for i, p := range g.at {
		k := g.design.paper.bend(at, p)
		for axis := range 2 {
			floats.AddScaled(r.left[axis][:size], -k, g.bx[axis].RawRowView(i))
		}
		low := g.low[i*n : i*n+i+1]
		r.half[i] = (k - floats.Dot(low[:i], r.half[:i])) / low[i]
	}
	return r
}

// shift is the predicted displacement of a point in pixels, by the paper and,
// before the plane took them up, by the plane's parameters.
func (g *gls) shift(at PicturePt, evidence bool) (col, row float64) {
	c, r := g.design.rows(at, evidence)
	for k, t := range g.theta {
		col += c[k] * t
		row += r[k] * t
	}
	for i, p := range g.at {
		b := g.design.paper.bend(at, p)
		col += b * g.weight[0][i]
		row += b * g.weight[1][i]
	}
	return col, row
}

// crossed is the covariance between the errors of the displacements of two
// points, in px², rows and columns in the order column, row.
func (g *gls) crossed(p, q reach) (out [2][2]float64) {
	common := g.design.paper.bend(p.at, q.at) - floats.Dot(p.half, q.half)
	size := g.design.size()
	for b := range 2 {
		for i := range size {
			by := 0.0
			for j := range size {
				by += g.inv.At(i, j) * q.left[b][j]
			}
			out[0][b] += p.left[0][i] * by
			out[1][b] += p.left[1][i] * by
		}
		out[b][b] += common
	}
	return out
}
