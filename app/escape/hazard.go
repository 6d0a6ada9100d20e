package escape

import "legwright/app/caution"

// meet judges a leg against what is drawn near it.
func (j *judge) meet(l *Leg) {
	l.Met = j.r.Meets(l.Way, l.scale, l.path, l.drawn...)
	for _, c := range l.HazardCautions {
		l.add(c)
	}
	if !l.Danger() {
		l.add(caution.Of(caution.NothingDrawn))
	}
}

// slips marks a compass leg of an escape.
func (j *judge) slips(l *Leg) {
	if l.Along != "" {
		return
	}
	for _, c := range j.r.SlipsMeet(l.Reading, l.Way[0], l.Way[1], l.scale, true) {
		l.add(c)
	}
}
