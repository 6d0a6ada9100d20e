package geomag

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"legwright/assets/field"
)

// degree is the degree and order to which the World Magnetic Model is given.
const degree = 12

// index is the place of degree n ≥ 1, order m in a triangle stored column by
// column: all degrees of order 0, then all of order 1, and so on.
func index(n, m int) int {
	if m == 0 {
		return n - 1
	}
	return degree + (m-1)*degree - (m-1)*(m-2)/2 + n - m
}

// terms is the number of coefficients pairs of degrees 1 to 12.
const terms = degree * (degree + 3) / 2

// term holds what the summation needs of one degree and order.
type term struct {
	k      float64 // recursion constant of the next degree
	n      float64
	g, h   float64 // Gauss-normalised coefficients, nT
	cg, ch float64 // weights of this term in the derivative of the next degree
}

// Model is the World Magnetic Model of one epoch with the years in which it
// holds. It is immutable.
type Model struct {
	name     string
	epoch    float64
	from, to float64
	closed   bool // the last year belongs to the span
	main     [terms]term
	yearly   [terms]term // g, h, cg, ch a year
	err      errorModel
}

// Name returns the name of the model, such as "WMM2025".
func (m *Model) Name() string { return m.name }

// Span returns the decimal years from and to which the model holds. WMM2020
// holds before its last year, WMM2025 up to and including it.
func (m *Model) Span() (from, to float64) { return m.from, m.to }

func (m *Model) holds(year float64) bool {
	return year >= m.from && (year < m.to || m.closed && year == m.to)
}

// catalogue reads the embedded tables once, newest last.
var catalogue = sync.OnceValue(func() [2]*Model {
	return [2]*Model{
		mustModel(field.WMM2020(), Model{name: "WMM2020", from: 2020, to: 2025, err: wmm2020Error}),
		mustModel(field.WMM2025(), Model{name: "WMM2025", from: 2025, to: 2030, closed: true, err: wmm2025Error}),
	}
})

// ForYear returns the model that holds in a decimal year. The error is a
// *OutsideModel; it also stands for a year that is not a number.
func ForYear(year float64) (*Model, error) {
	for _, m := range catalogue() {
		if m.holds(year) {
			return m, nil
		}
	}
	from, to := Span()
	return nil, &OutsideModel{Year: year, From: from, To: to}
}

// mustModel fills in a model from its embedded table. It panics if the table is not whole,
// which only a change of the embedded file can cause.
func mustModel(table string, m Model) *Model {
	seen := 0
	for line := range strings.Lines(table) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		if rest, ok := strings.CutPrefix(line, "epoch "); ok {
			if _, err := fmt.Sscan(rest, &m.epoch); err != nil {
				panic("geomag: epoch of " + m.name + ": " + err.Error())
			}
			continue
		}
		var n, order int
		var g, h, dg, dh float64
		if _, err := fmt.Sscan(line, &n, &order, &g, &h, &dg, &dh); err != nil {
			panic("geomag: table of " + m.name + ": " + err.Error())
		}
		s, i := schmidt(n, order), index(n, order)
		m.main[i] = term{k: recursionK(n+1, order), n: float64(n), g: s * g, h: s * h}
		m.yearly[i] = term{g: s * dg, h: s * dh}
		seen++
	}
	if seen != terms {
		panic(fmt.Sprintf("geomag: table of %s has %d rows, want %d", m.name, seen, terms))
	}
	weighDerivatives(&m.main)
	weighDerivatives(&m.yearly)
	return &m
}

// weighDerivatives fills in what each term gives to the derivative of the next
// degree of its order.
func weighDerivatives(table *[terms]term) {
	for order := 0; order <= degree; order++ {
		for n := max(order, 1) + 1; n <= degree; n++ {
			c, i := derivativeC(n, order), index(n, order)
			table[i-1].cg, table[i-1].ch = c*table[i].g, c*table[i].h
		}
	}
}

// recursionK is K of P(n,m) = cosθ P(n−1,m) − K P(n−2,m) for Gauss-normalised
// functions: ((n−1)² − m²)/((2n−1)(2n−3)), and zero at the head of a column.
func recursionK(n, m int) float64 {
	if n <= m+1 {
		return 0
	}
	return float64((n-1)*(n-1)-m*m) / float64((2*n-1)*(2*n-3))
}

// derivativeC is C of sinθ dP(n,m)/dθ = n cosθ P(n,m) − C P(n−1,m) for
// Gauss-normalised functions: (n² − m²)/(2n−1).
func derivativeC(n, m int) float64 { return float64(n*n-m*m) / float64(2*n-1) }

// schmidt returns the factor from the Gauss-normalised associated Legendre
// function of degree n and order m (whose leading coefficient is 1) to the
// Schmidt semi-normalised one: (2n−1)!!/(n−m)! · √(ε (n−m)!/(n+m)!), with
// ε = 1 for m = 0 and 2 otherwise (Langel, The main field, in Geomagnetism
// volume 1, 1987; checked by the official test values alone).
func schmidt(n, m int) float64 {
	s := 1.0
	for k := 1; k <= n; k++ { // (2n−1)!!/n!
		s *= float64(2*k-1) / float64(k)
	}
	for j := 1; j <= m; j++ {
		f := float64(n-j+1) / float64(n+j)
		if j == 1 {
			f *= 2
		}
		s *= math.Sqrt(f)
	}
	return s
}
