package teach

import (
	"math"
	"sync"

	"legwright/app/units"
)

// Cover says whether the ground hides a feature from a person who stands at a position. It
// never says that the feature can be seen: no terrain knows of trees, buildings, cloud or
// what stands between its posts.
type Cover int

// The covers.
const (
	CoverUnknown Cover = iota // no terrain, or too close to call
	Uncovered                 // by the terrain no ground lies in the way
	Covered                   // ground lies in the way
)

// cover is what the ground does to the line of sight to a feature. It is asked once, the
// first time that somebody wants to know.
type cover struct {
	once sync.Once
	is   Cover
	atM  float64 // how far off the ground stands that hides it
}

// coverOf is the cover of a feature, and how far off the ground stands that hides it, in
// metres.
func (l *Lookout) coverOf(s *seen) (is Cover, atM float64) {
	c := s.cover
	c.once.Do(func() {
		sight, ok := l.r.Sight(l.from, s.at)
		switch {
		case !ok || sight.Doubtful():
		case sight.Visible:
			c.is = Uncovered
		default:
			c.is, c.atM = Covered, sight.AlongM
		}
	})
	return c.is, c.atM
}

// coverWords says that ground hides a feature, "" where it does not or nobody knows.
func coverWords(is Cover, atM float64) string {
	if is != Covered {
		return ""
	}
	step := 10.0
	if atM >= 1000 {
		step = 100
	}
	return "but according to the terrain, ground " + units.Metres(math.Max(step, step*math.Round(atM/step)), 0) + " from you hides it"
}

// hiddenWords say which of those that fit are hidden: " According to the terrain,
// higher ground hides both."
func hiddenWords(fit []Candidate) string {
	var hidden []string
	for _, c := range fit {
		if c.Cover == Covered {
			hidden = append(hidden, c.Name)
		}
	}
	which := counted(hidden)
	switch {
	case len(hidden) == 0:
		return ""
	case len(hidden) > 1 && len(hidden) == len(fit):
		which = [...]string{"both", "all of them"}[min(len(fit), 3)-2]
	}
	return " According to the terrain, higher ground hides " + which + "."
}
