package projector

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/dial"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/lessondraw"
	"legwright/app/units"
)

// told is all that the board says, from the top. What is empty is not said.
type told struct {
	water  string   // that a training GMA is declared
	name   string   // of the line
	words  string   // the direction in words, what is asked, or what is missing
	stop   string   // what forbids to walk on the figures
	label  string   // what the figure to set is
	set    string   // the figure to set
	half   string   // and its ±
	struck bool     // it must not be set
	rows   []string // the other figures
	guess  string   // what was guessed, and how far it is out
	notes  []string // the cautions that are no stops
	face   housing.State
}

// tell says what the lesson shows now. Of a line whose figures are hidden it says nothing
// that differs from one line to another but its name.
func tell(l *teach.Lesson, s *session.Session) told {
	circle := s.Plan().Party.Compass.Circle
	out := told{water: lessondraw.Watermark(l, circle), face: housing.State{Circle: circle, Blank: true}}
	line, ok := l.Line()
	if !ok {
		out.words = "Page Down shows the first line."
		if _, of := l.Place(); of == 0 {
			out.words = "Drag a line on the bench, and it shows here."
		}
		return out
	}
	out.name = line.Name
	if l.Hidden() {
		out.ask(l)
		return out
	}
	r, err := l.Read(s.Reader())
	if err != nil {
		out.words = err.Error()
		return out
	}
	out.answer(l, r, s)
	return out
}

// ask says what is asked while the figures are hidden.
func (t *told) ask(l *teach.Lesson) {
	t.words = "Which bearing, counted from " + longNorth(l.GuessNorth()) + "?"
	if l.Ask() == teach.AskDistance {
		t.words = "How far is it?"
	}
	t.guess = counted(l.Guessed())
}

// answer says the figures of a reading.
func (t *told) answer(l *teach.Lesson, r leg.Reading, s *session.Session) {
	party := s.Plan().Party
	circle := party.Compass.Circle
	f := dial.FiguresOf(r, party)
	t.face, t.label = f.Face, f.SetLabel
	figure, half := splitHalf(f.Set)
	figure, unit, _ := strings.Cut(figure, " ") // "0975 mil": the figure is large, its unit is not
	if t.set, t.half = figure, strings.TrimSpace(unit+" "+half); t.set == "" {
		t.set = "–"
	}
	stops := caution.Lead(withoutTraining(r.Cautions), caution.OnLeg)
	if t.struck = stops != ""; t.struck {
		t.stop = stops + ". Do not walk on it."
	} else if r.Has(caution.TrainingGMA) {
		t.stop = "Do not walk on it."
	}
	angle, bearing, ok := bearingFrom(r, f, l.North())
	if ok {
		t.words = teach.NameOf(angle).Words
	}
	t.rows = append(t.rows, bearing, f.Distance)
	if gma := f.Texts[dial.GMA]; gma != "" {
		t.rows = append(t.rows, "GMA "+gma)
	}
	t.notes = f.Notes
	t.guess = guessed(l, r, circle, t.struck)
}

// withoutTraining are the cautions but that of a training GMA: on its figures nobody
// walks, but they are there to be set.
func withoutTraining(list []caution.Caution) []caution.Caution {
	var out []caution.Caution
	for _, c := range list {
		if c.Code != caution.TrainingGMA {
			out = append(out, c)
		}
	}
	return out
}

// bearingFrom is the bearing from a north as an angle and as it is told; false where that
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
