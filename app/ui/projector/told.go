package projector

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/dial"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/lessondraw"
	"legwright/app/ui/look"
	"legwright/app/units"
)

// told is all that the board says: parts above the picture and beneath it, and what the
// picture shows, the face of the dial or the compass that is stepped through.
type told struct {
	above, beneath []part
	face           housing.State
	compass        *baseplate.View // nil for the dial
}

func (t *told) over(p part) {
	if p.text != "" {
		t.above = append(t.above, p)
	}
}

func (t *told) under(p part) {
	if p.text != "" {
		t.beneath = append(t.beneath, p)
	}
}

// tell says what the lesson shows now. Of a line whose figures are hidden it says nothing
// that differs from one line to another but its name.
func tell(l *teach.Lesson, s *session.Session) told {
	circle := s.Plan().Party.Compass.Circle
	out := told{face: housing.State{Circle: circle, Blank: true}}
	out.over(fault(lessondraw.Watermark(l, circle), figureShare))
	line, ok := l.Line()
	if !ok {
		out.over(words(begin(l, s), 0))
		return out
	}
	out.over(quiet(line.Name, 3))
	if l.Hidden() {
		out.ask(l)
		return out
	}
	r, err := l.Read(s.Reader())
	if err != nil {
		out.over(words(err.Error(), 0))
		return out
	}
	if step, ok := l.Stepping(); ok {
		out.step(step, line, r, s)
		return out
	}
	out.answer(l, r, s)
	return out
}

// begin says what to do for a line to show.
func begin(l *teach.Lesson, s *session.Session) string {
	_, open := s.Sheet()
	_, err := s.Calibration()
	switch {
	case open && err != nil:
		return "Calibrate the sheet first."
	case len(l.Row()) == 0:
		return "Drag a line in the main window to show it here."
	}
	return "Page Down shows the first line."
}

// ask says what is asked while the figures are hidden.
func (t *told) ask(l *teach.Lesson) {
	t.over(words(l.Ask().Question(l.GuessNorth()), 0))
	t.under(guessPart(counted(l.Guessed())))
}

func guessPart(text string) part {
	return part{text: text, share: figureShare, bold: true, ink: look.Accent}
}

// answer says the figures of a reading.
func (t *told) answer(l *teach.Lesson, r leg.Reading, s *session.Session) {
	party := s.Plan().Party
	f := dial.FiguresOf(r, party, "", party.PacesPer100m) // no time but the one that was asked for
	t.face = f.Face
	angle, bearing, ok := bearingFrom(r, f, l.North())
	if ok {
		t.over(words(teach.NameOf(angle).Words, 1))
	}
	stopped := t.stop(r)
	t.under(part{text: f.SetLabel, share: labelShare, ink: look.Quiet, rank: 2})
	figure, half := splitHalf(f.Set)
	figure, unit, _ := strings.Cut(figure, " ") // "0975 mil": the figure is large, its unit is not
	if figure == "" {
		figure = "–"
	}
	t.under(figureToSet(figure, strings.TrimSpace(unit+" "+half), struck(r)))
	t.under(row(bearing, 0))
	t.under(row(f.Distance, 0))
	g, _ := l.Going(s.Reader()) // what is not known is not shown
	if a := l.Ask(); a == teach.AskClimb || a == teach.AskTime {
		if _, figure, ok := a.Truth(r, g); ok {
			t.under(row(figure, 0))
		} else {
			t.under(row(a.Name()+" not known", 0))
		}
	}
	if gma := f.Texts[dial.GMA]; gma != "" {
		t.under(row("GMA "+gma, 4))
	}
	t.under(guessPart(guessed(l, r, g, party.Compass.Circle, stopped)))
	t.notes(f.Notes)
}

// notes says the cautions that are no stops.
func (t *told) notes(list []string) {
	for _, note := range list {
		t.under(part{text: note, share: wordShare, ink: look.Caution, plate: look.CautionWash})
	}
}

// struck reports whether the figure to set is struck through, as on the dial: nobody may
// walk on it.
func struck(r leg.Reading) bool { return caution.Stops(r.Cautions, caution.OnLeg) }

// stop says why nobody may walk on the figures, and reports whether a guess or a step may
// not even be judged by them. By those of a training GMA it may: they are there to be
// taught with.
func (t *told) stop(r leg.Reading) (stopped bool) {
	lead := teach.StopOf(r)
	switch {
	case lead != "":
		t.under(fault(lead+". Do not walk on it.", wordShare))
	case r.Has(caution.TrainingGMA):
		t.under(fault("Do not walk on it.", wordShare))
	}
	return lead != ""
}

// bearingFrom is the bearing from a north as an angle and as text; false where that
// north is not known.
func bearingFrom(r leg.Reading, f dial.Figures, n units.North) (angle units.Angle, text string, ok bool) {
	angle, text, ok = r.Grid.Angle(), f.Texts[dial.Grid], true
	switch n {
	case units.MagneticNorth:
		angle, text, ok = r.Magnetic.Angle(), f.Texts[dial.Magnetic], r.HasMagnetic
	case units.TrueNorth:
		angle, text = r.True.Angle(), f.Texts[dial.True]
	}
	if !ok {
		return 0, "no " + longNorth(n) + " here", false
	}
	figure, half := splitHalf(text)
	return angle, strings.TrimSpace(figure + " " + n.String() + " " + half), true
}

// splitHalf parts a figure from its ±.
func splitHalf(text string) (figure, half string) {
	figure, half, ok := strings.Cut(text, " ± ")
	if ok {
		half = "± " + half
	}
	return figure, half
}

// longNorth names a north in full.
func longNorth(n units.North) string {
	switch n {
	case units.MagneticNorth:
		return "magnetic north"
	case units.TrueNorth:
		return "true north"
	}
	return "grid north"
}
