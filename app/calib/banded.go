package calib

import (
	"math"

	"gonum.org/v1/gonum/blas"
	lapack "gonum.org/v1/gonum/lapack/gonum"
	"gonum.org/v1/gonum/mat"
)

// banded is a symmetric matrix T in tridiagonal form with what is observed, in
// the same coordinates: Q·T·Qᵀ is the matrix it was made from, z are Qᵀ·e and
// Qᵀ·n.
type banded struct {
	diagonal, off []float64
	z             [2][]float64
}

// withoutAffine takes out of a symmetric matrix k, and of observations y, what
// three columns make of the points: with Q·R those columns, it returns the rows
// and columns of Qᵀ·k·Q from the fourth on, and the rows of Qᵀ·y. All three are
// overwritten.
func withoutAffine(columns, k, y *mat.Dense) (*mat.SymDense, *mat.Dense) {
	n, three := columns.Dims()
	c, kr, yr := columns.RawMatrix(), k.RawMatrix(), y.RawMatrix()
	tau, work := make([]float64, three), make([]float64, 64*(n+64))
	var l lapack.Implementation
	l.Dgeqrf(n, three, c.Data, c.Stride, tau, work, len(work))
	l.Dormqr(blas.Left, blas.Trans, n, n, three, c.Data, c.Stride, tau, kr.Data, kr.Stride, work, len(work))
	l.Dormqr(blas.Right, blas.NoTrans, n, n, three, c.Data, c.Stride, tau, kr.Data, kr.Stride, work, len(work))
	l.Dormqr(blas.Left, blas.Trans, n, yr.Cols, three, c.Data, c.Stride, tau, yr.Data, yr.Stride, work, len(work))
	rest := mat.NewSymDense(n-three, nil)
	for i := range n - three {
		for j := range i + 1 {
			rest.SetSym(i, j, k.At(i+three, j+three))
		}
	}
	return rest, mat.DenseCopyOf(y.Slice(three, n, 0, yr.Cols))
}

// tridiagonal brings a symmetric matrix, which it overwrites, and both columns
// of the observations to tridiagonal form by Householder's reflections (Golub
// and Van Loan, Matrix Computations, 4th edition 2013, section 8.3.1).
func tridiagonal(a *mat.SymDense, observed *mat.Dense) banded {
	raw := a.RawSymmetric()
	n := raw.N
	b := banded{diagonal: make([]float64, n), off: make([]float64, n-1)}
	for k := range b.z {
		b.z[k] = mat.Col(nil, k, observed)
	}
	var size [1]float64
	tau := make([]float64, n-1)
	lapack.Implementation{}.Dsytrd(blas.Lower, n, raw.Data, raw.Stride, b.diagonal, b.off, tau, size[:], -1)
	work := make([]float64, int(size[0]))
	// gonum keeps the upper triangle; its transpose, the lower, is the same matrix.
	for i := range n {
		for j := range i {
			raw.Data[i*raw.Stride+j] = raw.Data[j*raw.Stride+i]
		}
	}
	lapack.Implementation{}.Dsytrd(blas.Lower, n, raw.Data, raw.Stride, b.diagonal, b.off, tau, work, len(work))
	for i, t := range tau { // z = H(n−2)…H(0)·z, each H = I − τ·v·vᵀ with v = (0 … 1, a[i+2:, i])
		for k := range b.z {
			z := b.z[k]
			sum := z[i+1]
			for r := i + 2; r < n; r++ {
				sum += raw.Data[r*raw.Stride+i] * z[r]
			}
			sum *= t
			z[i+1] -= sum
			for r := i + 2; r < n; r++ {
				z[r] -= sum * raw.Data[r*raw.Stride+i]
			}
		}
	}
	return b
}

// deviance is −2 times the restricted log likelihood of θ, less a constant. The
// noise may be greater than stated, never less. I + θ·T is taken apart into
// L·D·Lᵀ on the way.
func (b banded) deviance(theta, noise float64) float64 {
	const least = 1e-9 // rounding may not make a bend's variance negative
	var logs, sum, d float64
	var w [2]float64
	for i, x := range b.diagonal {
		next := 1 + theta*x
		var l float64
		if i > 0 {
			l = theta * b.off[i-1] / d
			next -= l * theta * b.off[i-1]
		}
		d = math.Max(next, least)
		logs += 2 * math.Log(d)
		for k := range w {
			w[k] = b.z[k][i] - l*w[k]
			sum += w[k] * w[k] / (noise * d)
		}
	}
	m := 2*float64(len(b.diagonal)) + blameless
	k := math.Max(1, sum/m)
	return logs + m*math.Log(k) + sum/k
}
