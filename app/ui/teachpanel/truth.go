package teachpanel

import (
	"legwright/app/teach"
	"legwright/app/units"
)

// truth is the answer to what is asked, in words.
func (st *stage) truth() string {
	r, ok := st.reading()
	if !ok {
		return ""
	}
	if st.n.Lesson.Ask() == teach.AskDistance {
		return "It is " + units.Metres(r.GroundM, r.DistanceSigmaM) + "."
	}
	if _, figure, ok := told(r, st.n.Lesson.GuessNorth(), st.circle()); ok {
		return "It is " + figure + "."
	}
	return "There is no " + longNorth(st.n.Lesson.GuessNorth()) + " bearing here."
}

// difference says how far a guessed bearing is from the answer; "" where there is none.
func (st *stage) difference(guessed units.Angle) string {
	if r, ok := st.reading(); ok {
		if angle, _, ok := told(r, st.n.Lesson.GuessNorth(), st.circle()); ok {
			return teach.Difference(guessed, angle, st.circle())
		}
	}
	return ""
}

// differenceM says how far a guessed distance is from the answer; "" where there is none.
func (st *stage) differenceM(guessedM float64) string {
	if r, ok := st.reading(); ok {
		return teach.DistanceDifference(guessedM, r.GroundM)
	}
	return ""
}
