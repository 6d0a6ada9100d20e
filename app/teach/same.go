package teach

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// Sighting is what one person says: I stand there, and it bears so.
type Sighting struct {
	Who       string // "" is "the first" or "the second"
	From      plan.Position
	Bearing   Bearing
	Tolerance units.Angle
}

// Meeting says whether two people mean the same feature.
type Meeting struct {
	Verdict  Verdict // Likely says no more than that they can mean the same
	Rays     [2]units.GridBearing
	Half     [2]units.Angle // ± (95 %) of each ray
	Apart    units.Angle    // between the two rays, 0 to 180°
	Crossing *Crossing      // nil where the rays do not cross before both people
	Fits     []Both         // marks and features, those that fit both first
	Cautions []caution.Caution
	Stopped  bool
	Text     string
}

// Crossing is where two rays cross.
type Crossing struct {
	At            plan.Position
	Ref           string     // its grid reference, with no digit that is not known
	DistanceM     [2]float64 // from each of the two, on the grid
	Radius95M     float64    // of the circle that holds it in 95 % of all cases
	LongM, ShortM float64    // half axes of the ellipse that does
	Along         units.GridBearing
}

// Both is a mark or feature as two people see it.
type Both struct {
	ID      plan.ID
	Name    string
	Off     [2]units.Angle // from each ray, left negative
	Each    [2]Verdict
	Verdict Verdict // the lesser of the two
	Hidden  [2]bool // by the terrain, from each of the two
	Text    string  // after its name, without a full stop
	fit     float64
}

// SameFeature judges whether two people can mean the same feature, and which marks and
// features of the reader's plan fit both. See Meet, which is quicker for many bearings
// from the same two positions.
func SameFeature(r *leg.Reader, a, b Sighting, training *units.GMA, extra ...Feature) (Meeting, error) {
	one, err := NewLookout(r, a.From, extra...)
	if err != nil {
		return Meeting{}, fmt.Errorf("%s: %w", a.who(0), err)
	}
	two, err := NewLookout(r, b.From, extra...)
	if err != nil {
		return Meeting{}, fmt.Errorf("%s: %w", b.who(1), err)
	}
	return Meet(one, two, a, b, training)
}

// Meet judges the sightings from two lookouts of one plan with the same features. An
// error names the person whose sighting it is; it wraps those of Lookout.Identify.
func Meet(one, two *Lookout, a, b Sighting, training *units.GMA) (Meeting, error) {
	said := [2]Sighting{a, b}
	said[0].Who, said[1].Who = a.who(0), b.who(1)
	var answers [2]Answer
	for i, l := range [2]*Lookout{one, two} {
		var err error
		if answers[i], err = l.judged(said[i].Bearing, said[i].Tolerance, training); err != nil {
			return Meeting{}, fmt.Errorf("%s: %w", said[i].Who, err)
		}
	}
	m := Meeting{Stopped: answers[0].Stopped || answers[1].Stopped, Cautions: caution.GravestFirst(slices.Concat(answers[0].Cautions, answers[1].Cautions))}
	for i := range answers {
		m.Rays[i], m.Half[i] = answers[i].Ray, answers[i].Half
	}
	m.Apart = units.Angle(math.Abs((m.Rays[0].Angle() - m.Rays[1].Angle()).Signed().Rad()))
	p, err := pairOf(one, two, m.Rays, m.Half)
	if err != nil {
		return Meeting{}, err
	}
	if m.Crossing, err = p.crossing(one.r); err != nil {
		return Meeting{}, err
	}
	if !m.Stopped {
		m.Verdict = p.verdict(&m)
	}
	m.Fits = bothOf(answers, said)
	m.Text = m.words(p, said)
	return m, nil
}

// who names a person, by his place where he has no name.
func (s Sighting) who(i int) string {
	return cmp.Or(s.Who, [...]string{"the first", "the second"}[i])
}

// bothOf joins what each of the two sees.
func bothOf(answers [2]Answer, said [2]Sighting) []Both {
	var out []Both
	for i, a := range answers[0].Candidates {
		b := answers[1].Candidates[i]
		one := Both{
			ID: a.ID, Name: a.Name, Off: [2]units.Angle{a.Off, b.Off}, Each: [2]Verdict{a.Verdict, b.Verdict},
			Verdict: min(a.Verdict, b.Verdict), Hidden: [2]bool{a.Cover == Covered, b.Cover == Covered}, fit: a.Chance * b.Chance,
		}
		one.Text = one.words([2]Candidate{a, b}, said)
		out = append(out, one)
	}
	slices.SortStableFunc(out, func(x, y Both) int {
		return cmp.Or(cmp.Compare(y.Verdict, x.Verdict), cmp.Compare(y.fit, x.fit), cmp.Compare(x.worst(), y.worst()), cmp.Compare(x.Name, y.Name))
	})
	return out
}

// worst is how far it is off the ray that it fits worse, in radians.
func (b *Both) worst() float64 {
	return max(math.Abs(b.Off[0].Rad()), math.Abs(b.Off[1].Rad()))
}

// positionAt is a position on the lookouts' grid.
func (l *Lookout) positionAt(g geodesy.Grid, sigmaM float64) (plan.Position, error) {
	sys, err := l.r.SystemFor(l.from)
	if err != nil {
		return plan.Position{}, err
	}
	return plan.ImportedAt(sys.Code(), g, sigmaM), nil
}
