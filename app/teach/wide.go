package teach

import (
	"math"

	"legwright/app/calib"
	"legwright/app/units"
)

// wide is where a feature lies from here: the step to it, with the covariance of the
// step. Both positions err, so its bearing is spread: for a far feature nearly as a
// normal distribution, for a near one round the whole circle.
//
// It is kept whitened: by the Cholesky factor of its covariance the step becomes a point
// at the distance kappa in the direction mid, and its error alike all round. Angles are
// counted here from east, counterclockwise.
type wide struct {
	root       [3]float64 // the factor L: E = L₀·x, N = L₁·x + L₂·y
	kappa, mid float64
	stretch    float64 // how much faster than its whitened angle the bearing turns at most
	known      bool    // false where nothing is known of the step
}

// leastM is added to every step's σ: nobody knows a position better than to a
// millimetre, and no covariance is singular then.
const leastM = 1e-3

func newWide(e, n float64, c calib.Cov2) wide {
	ee, nn := c.EE+leastM*leastM, c.NN+leastM*leastM
	a := math.Sqrt(ee)
	b := c.EN / a
	d := math.Sqrt(math.Max(nn-b*b, leastM*leastM))
	x := e / a
	y := (n - b*x) / d
	w := wide{root: [3]float64{a, b, d}, kappa: math.Hypot(x, y), mid: math.Atan2(y, x)}
	mean, diff := (ee+nn)/2, math.Hypot((ee-nn)/2, c.EN)
	w.stretch = math.Sqrt((mean + diff) / math.Max(mean-diff, leastM*leastM))
	w.known = !math.IsNaN(w.kappa) && !math.IsInf(a, 0) && !math.IsInf(d, 0)
	return w
}

// bearing returns the bearing of a whitened angle.
func (w *wide) bearing(angle float64) units.Angle {
	sin, cos := math.Sincos(angle)
	return units.Angle(math.Atan2(w.root[0]*cos, w.root[1]*cos+w.root[2]*sin))
}

// tail is how many σ the normal distribution is followed: beyond lies less than 1e-18.
const tail = 9

// likelihood returns how likely the bearing is to be read from here if the feature is the
// one that is meant: the density, in 1/rad, of the feature's bearing as both positions
// err, with the compass's own error of σ added. It is the density of a normal
// distribution that is projected on the circle (Mardia and Jupp, Directional Statistics,
// section 3.5.6, from memory), convolved with the wrapped normal distribution.
func (w *wide) likelihood(bearing, sigma units.Angle) float64 {
	if !w.known {
		return 1 / (2 * math.Pi)
	}
	reach := math.Pi // to where the whitened angle spreads
	if w.kappa > 1.2*tail {
		reach = math.Asin(tail / w.kappa)
		if w.misses(bearing, sigma, reach) {
			return 0
		}
	}
	fine := math.Min(1/math.Max(w.kappa, 1), sigma.Rad()/w.stretch) / 4
	n := int(math.Min(math.Ceil(2*reach/fine), mostSteps))
	step, sum := 2*reach/float64(n), 0.0
	for i := range n {
		off := -reach + (float64(i)+0.5)*step
		sum += projected(w.kappa, off) * wrapped(bearing-w.bearing(w.mid+off), sigma)
	}
	return sum * step
}

// misses reports whether a bearing lies farther from all that the whitened angle reaches
// than the compass errs.
func (w *wide) misses(bearing, sigma units.Angle, reach float64) bool {
	mid := w.bearing(w.mid)
	spread := 0.0
	for _, end := range [...]float64{w.mid - reach, w.mid + reach} {
		spread = math.Max(spread, math.Abs((w.bearing(end) - mid).Signed().Rad()))
	}
	return math.Abs((bearing - mid).Signed().Rad()) > spread+tail*sigma.Rad()
}

// mostSteps bounds the work where the compass is much finer than the positions.
const mostSteps = 20_000

// projected is the density of the direction of a point that errs by one all round and
// lies at the distance kappa, at an angle off its direction.
func projected(kappa, off float64) float64 {
	sin, cos := math.Sincos(off)
	toward := kappa * cos
	below := math.Erfc(-toward/math.Sqrt2) / 2
	return math.Exp(-kappa*kappa/2)/(2*math.Pi) + toward*below*math.Exp(-kappa*kappa*sin*sin/2)/math.Sqrt(2*math.Pi)
}

// wrapped is the density of the normal distribution round the circle.
func wrapped(off, sigma units.Angle) float64 {
	s := sigma.Rad()
	sum, at := 0.0, off.Signed().Rad()
	for turn := -2; turn <= 2; turn++ {
		if x := (at + float64(turn)*2*math.Pi) / s; math.Abs(x) < tail {
			sum += math.Exp(-x * x / 2)
		}
	}
	return sum / (s * math.Sqrt(2*math.Pi))
}
