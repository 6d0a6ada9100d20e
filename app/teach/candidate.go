package teach

import (
	"errors"
	"math"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// Verdict says whether a feature can be the one that is meant.
type Verdict int

// The verdicts. A feature is likely within 2 σ of the ray and possible within 3 σ, of
// compass, declination and positions together.
const (
	NoVerdict Verdict = iota // a stop, or no bearing at all
	Cannot
	Possible
	Likely
)

// Code is the verdict for programs: "none", "cannot", "possible", "likely".
func (v Verdict) Code() string { return [...]string{"none", "cannot", "possible", "likely"}[v] }

// String is the verdict for people.
func (v Verdict) String() string {
	return [...]string{"no verdict", "ruled out", "possible", "likely"}[v]
}

// Candidate is a mark or feature that may be meant.
type Candidate struct {
	ID             plan.ID // "" for a feature that is not a mark
	Name           string
	Bearing        units.Angle // from the north that was asked for
	Off            units.Angle // from the ray to it: left is negative, right positive
	DistanceM      float64     // on the ground; 0 where there is no bearing
	DistanceSigmaM float64
	Half           units.Angle // ± (95 %) of Off: compass, declination and positions together
	Chance         float64     // 0 where a stop leaves none; show it only with a verdict
	Verdict        Verdict
	Cover          Cover    // whether the ground hides it from there
	CoverM         float64  // how far off the ground stands that hides it
	Here           bool     // it lies at the position itself: there is no bearing
	Together       []string // names of others at the same position: no bearing tells them apart
	Text           string   // what a coach says of it after its name, without a full stop
	Cautions       []caution.Caution
}

// Sentence is what a coach says of it.
func (c Candidate) Sentence() string { return capital(c.Name) + " " + c.Text + "." }

// judge compares one mark or feature with the ray. Its chance is still its likelihood.
func (l *Lookout) judge(s *seen, a *Answer, training *units.GMA) Candidate {
	out := Candidate{ID: s.id, Name: s.name}
	if s.err != nil {
		out.Here = errors.Is(s.err, leg.ErrNoBearing)
		out.Text = noReadingWords(s.err)
		return out
	}
	r := s.reading
	out.DistanceM, out.DistanceSigmaM = r.GroundM, r.DistanceSigmaM
	out.Bearing = bearingFrom(r, a.Bearing.North, training)
	out.Off = (r.Grid.Angle() - a.Ray.Angle()).Signed()
	sigma := math.Hypot(a.Half.Rad()/2, r.BearingSigma.Rad())
	out.Half = units.Angle(2 * sigma)
	out.Cautions = ofBearing(r.Cautions, training)
	if !stopsBut(out.Cautions, caution.VagueBearing) && !a.Stopped {
		out.Chance = s.wide.likelihood(a.Ray.Angle(), a.Half/2)
	}
	if !a.Stopped && !caution.Stops(out.Cautions, caution.OnLeg) {
		out.Verdict = verdictOf(math.Abs(out.Off.Rad()) / sigma)
	}
	out.Together = l.together(s)
	out.Cover, out.CoverM = l.coverOf(s)
	out.Text = l.words(s, &out, a)
	return out
}

func verdictOf(sigmas float64) Verdict {
	switch {
	case sigmas <= 2:
		return Likely
	case sigmas <= 3:
		return Possible
	}
	return Cannot
}

// bearingFrom is a reading's bearing from a north.
func bearingFrom(r leg.Reading, north units.North, training *units.GMA) units.Angle {
	switch {
	case north == units.TrueNorth:
		return r.True.Angle()
	case north == units.MagneticNorth && training != nil:
		return r.Grid.Magnetic(*training).Angle()
	case north == units.MagneticNorth:
		return r.Magnetic.Angle()
	}
	return r.Grid.Angle()
}

// ofBearing are the cautions that speak of a bearing which is only looked along: one
// about the figure to set does not count, nor one about a date if the lesson has declared
// a GMA.
func ofBearing(list []caution.Caution, training *units.GMA) []caution.Caution {
	var out []caution.Caution
	for _, c := range caution.OfLeg(list) {
		undated := c.Code == caution.NoDate || c.Code == caution.OutsideModel
		if c.Code != caution.HousingOff && !(undated && training != nil) {
			out = append(out, c)
		}
	}
	return out
}

// stopsBut reports whether a stop of another code than that one is on the list.
func stopsBut(list []caution.Caution, but caution.Code) bool {
	for _, c := range list {
		if c.Code != but && c.Stop() && c.Affects&caution.OnLeg != 0 {
			return true
		}
	}
	return false
}

// sameM is how near to each other two things stand at the same position.
const sameM = 1

// together names the others at the same position.
func (l *Lookout) together(s *seen) []string {
	var out []string
	for i := range l.seen {
		o := &l.seen[i]
		if o != s && o.err == nil && math.Hypot(o.grid.E-s.grid.E, o.grid.N-s.grid.N) < sameM {
			out = append(out, o.name)
		}
	}
	return out
}
