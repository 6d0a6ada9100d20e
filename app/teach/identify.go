package teach

import (
	"cmp"
	"math"
	"slices"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// Answer says what can lie on a bearing from a position.
type Answer struct {
	Candidates []Candidate // the likeliest first, those without a chance last
	None       float64     // chance that none of them is meant; 0 where Stopped
	Bearing    Bearing     // as it was given
	Ray        units.GridBearing
	Tolerance  units.Angle       // ± (95 %) of the bearing as it was given
	Half       units.Angle       // ± (95 %) of the ray: with that of the declination
	Cautions   []caution.Caution // what speaks against the position, the grid and the model
	Stopped    bool              // there is no verdict on anything
	Text       string            // a sentence that sums it up
}

// Identify judges every mark of the reader's plan, and the features, by a bearing from a
// position. See Lookout, which is quicker for many bearings from one position.
func Identify(r *leg.Reader, from plan.Position, b Bearing, tolerance units.Angle, training *units.GMA, extra ...Feature) (Answer, error) {
	l, err := NewLookout(r, from, extra...)
	if err != nil {
		return Answer{}, err
	}
	return l.Identify(b, tolerance, training)
}

// Identify judges all that is seen by a bearing with its ± (95 %). Each of them, and
// "none of these", is equally likely beforehand; what is none of them lies evenly round
// the circle. training is the GMA declared for a lesson instead of the ground's, or nil.
// Errors: those of CheckTolerance, *NorthNotSaid, *NoSuchNorth, and those of the grid.
func (l *Lookout) Identify(b Bearing, tolerance units.Angle, training *units.GMA) (Answer, error) {
	out, err := l.judged(b, tolerance, training)
	if err != nil {
		return Answer{}, err
	}
	out.share()
	out.say()
	return out, nil
}

// judged is an answer whose candidates stand as they are seen, with their likelihoods
// instead of chances.
func (l *Lookout) judged(b Bearing, tolerance units.Angle, training *units.GMA) (Answer, error) {
	if err := CheckTolerance(tolerance); err != nil {
		return Answer{}, err
	}
	ray, err := l.rayOf(b, training)
	if err != nil {
		return Answer{}, err
	}
	sigma := units.Angle(math.Hypot(tolerance.Rad()/2, ray.sigma.Rad()))
	out := Answer{
		Bearing: b, Ray: ray.grid, Tolerance: tolerance, Half: 2 * sigma,
		Cautions: ofBearing(l.cautions, training), Stopped: caution.Stops(l.cautions, caution.OnLeg),
	}
	if training != nil {
		out.Cautions = append(out.Cautions, trainingCaution(*training, l.circle))
	}
	for i := range l.seen {
		out.Candidates = append(out.Candidates, l.judge(&l.seen[i], &out, training))
	}
	return out, nil
}

// share turns likelihoods into chances and ranks the candidates.
func (a *Answer) share() {
	evenly := 1 / (2 * math.Pi)
	sum := evenly
	for _, c := range a.Candidates {
		sum += c.Chance
	}
	for i := range a.Candidates {
		a.Candidates[i].Chance /= sum
	}
	if !a.Stopped {
		a.None = evenly / sum
	}
	slices.SortStableFunc(a.Candidates, func(x, y Candidate) int {
		return cmp.Or(
			cmp.Compare(y.Chance, x.Chance),
			without(x)-without(y),
			cmp.Compare(math.Abs(x.Off.Rad()), math.Abs(y.Off.Rad())),
			cmp.Compare(x.Name, y.Name),
		)
	})
}

// without is 1 for what has no bearing from here, and else 0.
func without(c Candidate) int {
	if c.DistanceM == 0 {
		return 1
	}
	return 0
}
