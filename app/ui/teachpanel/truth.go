package teachpanel

import (
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// truth is the answer to what is asked, with what speaks against it.
func (st *stage) truth() (text string, tone widgets.Tone) {
	r, ok := st.reading()
	if !ok {
		return "This line cannot be measured, so there is no answer. Drag another line.", widgets.Fault
	}
	figure, ok := st.answerOf(r)
	if !ok {
		return st.noAnswer(), widgets.Caution
	}
	against, says := st.against(r), "It "+st.n.Lesson.Ask().Verb()+" "+figure
	switch words := strings.Join(caution.Shorts(against), ", "); {
	case stopped(against):
		return caution.Lead(against, caution.OnLeg) + ". Guesses are not compared with " + figure + ".", widgets.Fault
	case words != "":
		return says + " (" + words + ").", widgets.Caution
	}
	return says + ".", widgets.Good
}

// noAnswer says why nothing answers the question and what to do.
func (st *stage) noAnswer() string {
	g := st.going()
	switch line, _ := st.n.Lesson.Line(); {
	case st.n.Lesson.Ask() == teach.AskBearing:
		return "There is no " + st.n.Lesson.GuessNorth().Long() + " bearing here. Type a training GMA under Show, or delete the guesses and choose another north."
	case g.Climb.Known() && g.Descent.Known():
		return "This line is too long to walk, so there is no time to compare with. Drag a shorter one."
	case st.n.Session.Plan().LegIndex(line.ID) < 0: // the ledger has no climb of it
		return "The climb of this line is not known. Open terrain that covers the line."
	}
	return "The climb of this leg is not known. Open terrain that covers the leg, or count its contours in the ledger."
}

// answerOf is the figure of what is asked; false where there is none.
func (st *stage) answerOf(r leg.Reading) (string, bool) {
	if ask := st.n.Lesson.Ask(); ask != teach.AskBearing {
		_, figure, ok := ask.Truth(r, st.going())
		return figure, ok
	}
	_, figure, ok := told(r, st.n.Lesson.GuessNorth(), st.circle())
	return figure, ok
}

// going is what is known of walking along the lesson's line; nothing without one.
func (st *stage) going() leg.Going {
	g, _ := st.n.Lesson.Going(st.n.Session.Reader())
	return g
}

// against are the cautions against what is asked. The housing's setting has no say in it,
// and what speaks against the magnetic bearing none in the others.
func (st *stage) against(r leg.Reading) []caution.Caution {
	on := caution.Position | caution.Bearing
	if st.n.Lesson.Ask() == teach.AskBearing && st.n.Lesson.GuessNorth() == units.MagneticNorth {
		on |= caution.Magnetic
	}
	return slices.DeleteFunc(caution.OfLeg(r.Cautions), func(c caution.Caution) bool {
		return c.Affects&on == 0 || c.Code == caution.HousingOff
	})
}

// stopped reports whether a stop stands against the answer. That of a training GMA is for
// walking: guesses are compared with what the lesson declared.
func stopped(list []caution.Caution) bool {
	return slices.ContainsFunc(list, func(c caution.Caution) bool { return c.Stop() && c.Code != caution.TrainingGMA })
}

// difference says how far a guessed bearing is from the answer; "" where there is none,
// or a stop stands against it.
func (st *stage) difference(guessed units.Angle) string {
	r, ok := st.reading()
	if !ok || stopped(st.against(r)) {
		return ""
	}
	angle, _, ok := told(r, st.n.Lesson.GuessNorth(), st.circle())
	if !ok {
		return ""
	}
	return teach.Difference(guessed, angle, st.circle())
}

// differenceOf says how far a guessed number is from the answer; "" where there is none,
// or a stop stands against it.
func (st *stage) differenceOf(ask teach.Ask, guess float64) string {
	r, ok := st.reading()
	if !ok || stopped(st.against(r)) {
		return ""
	}
	truth, _, ok := ask.Truth(r, st.going())
	if !ok {
		return ""
	}
	return ask.Difference(guess, truth)
}
