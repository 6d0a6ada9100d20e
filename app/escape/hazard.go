package escape

import (
	"legwright/app/caution"
)

// meet judges a leg against what is drawn near it.
func (j *judge) meet(l *Leg) {
	l.Met = j.r.Meets(l.Way, l.scale, l.drawn...)
	for _, c := range l.HazardCautions {
		l.add(c)
	}
	if !l.Danger() {
		l.add(caution.Of(caution.NothingDrawn))
	}
}
