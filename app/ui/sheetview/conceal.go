package sheetview

import "legwright/canvas/overlay"

// Conceal hides on the sheet what tells the bearing or the length of a line: the figures
// along it, the ticks that count its metres, what the strip repeats, the references that
// can be copied. The lines themselves stay.
func (v *View) Conceal(on bool) {
	if v.sheet.concealed == on {
		return
	}
	v.sheet.concealed = on
	v.offer.show()
	v.Redraw()
}

// hiddenFigures is what the strip says of a reading while figures are hidden.
const hiddenFigures = "Figures hidden"

// concealLesson takes the text along a lesson's line out of a drawing, and where a slip
// leads, should a layer have made them. What is written at guesses is the group's own.
func concealLesson(s *overlay.Scene) {
	s.Lesson.Led = nil
	if s.Lesson.Line != nil {
		line := *s.Lesson.Line
		line.Label = ""
		s.Lesson.Line = &line
	}
}

// conceal takes out of a drawing of the plan what tells a bearing or a length.
func conceal(s *overlay.Scene) {
	for i := range s.Legs {
		s.Legs[i].Label, s.Legs[i].LengthM = "", 0
	}
	for i := range s.Sights {
		s.Sights[i].Label = ""
	}
	s.Slips = nil
}
