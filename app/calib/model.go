package calib

import "math"

// model is a linear family of maps from centred picture coordinates (u, v) to
// centred grid coordinates. mirrored is used only to test for a slip.
type model int

const (
	similarity model = iota // E = p·u + q·v + c, N = q·u − p·v + f: rows grow southwards
	mirrored                // E = p·u + q·v + c, N = −q·u + p·v + f
	affine                  // E = a·u + b·v + c, N = d·u + e·v + f
)

// maxParams is the largest number of parameters of a model.
const maxParams = 8

// vec holds one coefficient for each parameter of a model.
type vec [maxParams]float64

// square is a matrix over the parameters of a model.
type square [maxParams][maxParams]float64

func (m model) params() int {
	if m == affine {
		return 6
	}
	return 4
}

// rows returns the coefficients of the model's parameters in E and in N at
// (u, v).
func (m model) rows(u, v float64) (e, n vec) {
	switch m {
	case similarity:
		return vec{u, v, 1, 0}, vec{-v, u, 0, 1}
	case mirrored:
		return vec{u, v, 1, 0}, vec{v, -u, 0, 1}
	}
	return vec{u, v, 1}, vec{3: u, 4: v, 5: 1}
}

// linear returns the four coefficients a, b, d, e of the map and its shift
// c, f, still in centred coordinates.
func (m model) linear(beta vec) (a, b, d, e, c, f float64) {
	switch m {
	case similarity:
		return beta[0], beta[1], beta[1], -beta[0], beta[2], beta[3]
	case mirrored:
		return beta[0], beta[1], -beta[1], beta[0], beta[2], beta[3]
	}
	return beta[0], beta[1], beta[3], beta[4], beta[2], beta[5]
}

func dot(a, b vec, n int) float64 {
	var s float64
	for i := range n {
		s += a[i] * b[i]
	}
	return s
}

// quad returns aᵀ·Q·b over the first n parameters.
func quad(a vec, q *square, b vec, n int) float64 {
	var s float64
	for i := range n {
		for j := range n {
			s += a[i] * q[i][j] * b[j]
		}
	}
	return s
}

// invert returns the inverse of the symmetric positive definite n×n matrix s
// by Cholesky's method, and false where a pivot falls below 1e-12 of the
// largest diagonal element: the parameters are then not determined.
func invert(s square, n int) (square, bool) {
	var l square
	var top float64
	for i := range n {
		top = math.Max(top, s[i][i])
	}
	for i := range n {
		for j := 0; j <= i; j++ {
			sum := s[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 1e-12*top) {
				return square{}, false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return fromCholesky(l, n), true
}

// fromCholesky returns (L·Lᵀ)⁻¹.
func fromCholesky(l square, n int) square {
	var inv, out square // inv = L⁻¹, lower triangular
	for i := range n {
		inv[i][i] = 1 / l[i][i]
		for j := range i {
			var sum float64
			for k := j; k < i; k++ {
				sum -= l[i][k] * inv[k][j]
			}
			inv[i][j] = sum / l[i][i]
		}
	}
	for i := range n {
		for j := range n {
			for k := max(i, j); k < n; k++ {
				out[i][j] += inv[k][i] * inv[k][j]
			}
		}
	}
	return out
}
