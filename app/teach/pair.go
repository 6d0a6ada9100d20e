package teach

import (
	"errors"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/units"
)

// pair is two rays on one grid with what is known of them.
type pair struct {
	lookout *Lookout
	at      [2]geodesy.Grid
	bearing [2]units.Angle
	sigma   [2]units.Angle // of each ray
	ownM    [2]float64     // σ per axis of each position
	cov     calib.Cov4     // of both positions
}

// errTwoGrids is returned for positions that have no grid in common.
var errTwoGrids = errors.New("the two positions are on different grids: calibrate a sheet, or type both positions on one grid")

func pairOf(one, two *Lookout, rays [2]units.GridBearing, half [2]units.Angle) (*pair, error) {
	a, errA := one.r.SystemFor(one.from)
	b, errB := two.r.SystemFor(two.from)
	if err := errors.Join(errA, errB); err != nil {
		return nil, err
	}
	if a.Code() != b.Code() {
		return nil, errTwoGrids
	}
	cov, err := one.r.Joint(one.from, two.from)
	if err != nil {
		return nil, err
	}
	p := &pair{lookout: one, at: [2]geodesy.Grid{one.grid, two.grid}, cov: cov}
	for i := range 2 {
		p.bearing[i], p.sigma[i] = rays[i].Angle(), half[i]/2
		p.ownM[i] = math.Sqrt((cov[2*i][2*i] + cov[2*i+1][2*i+1]) / 2)
	}
	return p, nil
}

// baseM is the distance between the two people.
func (p *pair) baseM() float64 { return math.Hypot(p.at[1].E-p.at[0].E, p.at[1].N-p.at[0].N) }

// together reports whether the two stand at the same position, as far as is known.
func (p *pair) together() bool {
	return p.baseM() < max(nearestM, 2*math.Hypot(p.ownM[0], p.ownM[1]))
}

// Who looks at a feature with a compass looks some way: not at what lies before the feet,
// and not beyond the horizon of a hill (common practice, no source).
const (
	nearestM  = 10
	farthestM = 50_000
)

// leastAway is how far a feature is from a person at least: farther than the position errs.
func (p *pair) leastAway(i int) float64 { return max(nearestM, 3*p.ownM[i]) }

// meet is where the two lines meet, in metres along each: negative behind the person. It
// reports false for lines that never meet.
func (p *pair) meet() (alongM [2]float64, ok bool) {
	sinA, cosA := math.Sincos(p.bearing[0].Rad())
	sinB, cosB := math.Sincos(p.bearing[1].Rad())
	cross := sinA*cosB - cosA*sinB // sine of the angle from the second ray to the first
	if math.Abs(cross) < 1e-9 {
		return alongM, false
	}
	de, dn := p.at[1].E-p.at[0].E, p.at[1].N-p.at[0].N
	return [2]float64{(de*cosB - dn*sinB) / cross, (de*cosA - dn*sinA) / cross}, true
}

// crossing is where the rays cross before both people, or nil.
func (p *pair) crossing(r *leg.Reader) (*Crossing, error) {
	along, ok := p.meet()
	if !ok || p.together() || along[0] < p.leastAway(0) || along[1] < p.leastAway(1) || max(along[0], along[1]) > farthestM {
		return nil, nil
	}
	sin, cos := math.Sincos(p.bearing[0].Rad())
	at := geodesy.Grid{E: p.at[0].E + along[0]*sin, N: p.at[0].N + along[0]*cos}
	cov := p.spread(along)
	out := &Crossing{DistanceM: along, Radius95M: cov.Radius95()}
	out.LongM, out.ShortM, out.Along = ellipse(cov)
	var err error
	if out.At, err = p.lookout.positionAt(at, math.Sqrt((cov.EE+cov.NN)/2)); err != nil {
		return nil, err
	}
	out.Ref, err = r.Reference(out.At)
	return out, err
}

// spread is the covariance of the crossing. Each line is nᵢ·x = nᵢ·pᵢ with its normal n;
// it errs sideways by its σ times the distance and by its position, so that the
// crossing is x = N⁻¹s with the rows n₁, n₂ of N.
func (p *pair) spread(along [2]float64) calib.Cov2 {
	var n [2][2]float64
	for i, b := range p.bearing {
		sin, cos := math.Sincos(b.Rad())
		n[i] = [2]float64{cos, -sin}
	}
	var s [2][2]float64
	for i := range 2 {
		for k := range 2 {
			for u := range 2 {
				for v := range 2 {
					s[i][k] += n[i][u] * p.cov[2*i+u][2*k+v] * n[k][v]
				}
			}
		}
		turned := along[i] * p.sigma[i].Rad()
		s[i][i] += turned * turned
	}
	det := n[0][0]*n[1][1] - n[0][1]*n[1][0]
	in := [2][2]float64{{n[1][1] / det, -n[0][1] / det}, {-n[1][0] / det, n[0][0] / det}}
	var c [2][2]float64
	for i := range 2 {
		for k := range 2 {
			for u := range 2 {
				for v := range 2 {
					c[i][k] += in[i][u] * s[u][v] * in[k][v]
				}
			}
		}
	}
	return calib.Cov2{EE: c[0][0], EN: c[0][1], NN: c[1][1]}
}

// ellipse95 is how many σ the ellipse of a normal distribution in the plane reaches that
// holds 95 %: √(−2 ln 0.05).
const ellipse95 = 2.4477

// ellipse returns the half axes of the ellipse that holds 95 %, and where the long one
// points.
func ellipse(c calib.Cov2) (longM, shortM float64, along units.GridBearing) {
	mean, diff := (c.EE+c.NN)/2, math.Hypot((c.EE-c.NN)/2, c.EN)
	along = units.NewGridBearing(units.Angle(math.Pi/2 - math.Atan2(2*c.EN, c.EE-c.NN)/2))
	return ellipse95 * math.Sqrt(mean+diff), ellipse95 * math.Sqrt(math.Max(mean-diff, 0)), along
}

// verdict says whether there is any ground that both can mean: within 2 σ of both rays,
// or within 3 σ. From one position all ground on one ray is on the other, or none.
func (p *pair) verdict(m *Meeting) Verdict {
	switch {
	case m.Crossing != nil:
		return Likely
	case p.together():
		return verdictOf(float64(m.Apart / (p.sigma[0] + p.sigma[1])))
	}
	return verdictOf(p.best())
}

// Steps of the search for ground that fits both rays best.
const (
	turns     = 24 // to each side, out to four σ
	distances = 80
)

// best returns by how many σ the ground that fits both rays best is off the worse of the
// two.
func (p *pair) best() float64 {
	best := math.Inf(1)
	for i := range 2 {
		least := p.leastAway(i)
		for turn := -turns; turn <= turns; turn++ {
			off := units.Angle(4 * float64(turn) / turns * p.sigma[i].Rad())
			sin, cos := math.Sincos((p.bearing[i] + off).Rad())
			for step := range distances {
				d := least * math.Pow(farthestM/least, float64(step)/(distances-1))
				best = min(best, p.worse(geodesy.Grid{E: p.at[i].E + d*sin, N: p.at[i].N + d*cos}))
			}
		}
	}
	return best
}

// worse returns by how many σ a position is off the worse of the two rays.
func (p *pair) worse(g geodesy.Grid) float64 {
	worst := 0.0
	for i := range 2 {
		de, dn := g.E-p.at[i].E, g.N-p.at[i].N
		d := math.Hypot(de, dn)
		if d < p.leastAway(i)*(1-1e-9) {
			return math.Inf(1)
		}
		off := (units.Angle(math.Atan2(de, dn)) - p.bearing[i]).Signed().Rad()
		worst = max(worst, math.Abs(off)/math.Hypot(p.sigma[i].Rad(), p.ownM[i]/d))
	}
	return worst
}
